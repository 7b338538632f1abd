import { describe, expect, it } from 'vitest'
import { randomStream } from '../../../../src/base/random.ts'
import { siteNotices } from '../../../../src/model/checkSite.ts'
import { seedOf } from '../generator/seeds.ts'
import { typedSite } from '../typedSite.ts'
import { visibleAmong } from '../visibility.ts'
import { choosePairs, drawLarge, scattered } from './drawLarge.ts'
import { largeFamilies } from './largeFamilies.ts'
import { largeScoreOf } from './largeRow.ts'
import { largeTargetOf } from './largeTarget.ts'

const [field] = largeFamilies
const drawn = [0, 1, 2, 3, 4, 5].map((k) => drawLarge(field, seedOf('dev', field, k)))

describe('large sites', () => {
  it('are sites that a user could have typed, with 60 readings and more', () => {
    for (const { scenario } of drawn) {
      expect(siteNotices(scenario.site)).toEqual([])
      expect(scenario.pairs.length).toBeGreaterThanOrEqual(60)
      expect(scenario.pairs.length).toBeLessThanOrEqual(200)
      expect(scenario.possible.network.edgeCount).toBeGreaterThan(2000)
    }
  })

  it('have scattered bad joints, or one kind along one row, about half of it and none of it open', () => {
    expect(new Set(drawn.map(({ pattern }) => pattern)).size).toBe(2)
    for (const { scenario, pattern } of drawn) {
      const { faults, possible } = scenario
      const { network, address } = possible
      const places = new Set(
        faults.map(({ edge }) => `${address[edge].split('/')[0]} ${network.kinds[network.kind[edge]].id}`),
      )
      if (pattern === 'scattered') {
        expect(faults.length).toBeGreaterThanOrEqual(scattered.least)
        expect(faults.length).toBeLessThanOrEqual(scattered.most)
        expect(places.size).toBeGreaterThan(1)
      } else if (faults.length > 0) {
        expect(places.size).toBe(1)
        expect(faults.every(({ addedOhm }) => addedOhm < Infinity)).toBe(true)
      }
    }
  })

  it('are read from the bar and along whole rows', () => {
    const pairs = [
      { from: 'B1', to: 'R1/T1/L1.1' },
      ...[1, 2, 3, 4].flatMap((row) =>
        Array.from({ length: 100 }, (_, k) => ({ from: `R${row}/T1/L1.1`, to: `R${row}/T${k}` })),
      ),
    ]
    const chosen = choosePairs(pairs, randomStream(3))
    expect(chosen[0].from).toBe('B1')
    expect(new Set(chosen).size).toBe(chosen.length)
    const starts = chosen.map(({ from }) => from)
    expect(starts.filter((from, k) => from !== starts[k - 1]).length).toBe(new Set(starts).size)
  })
})

describe('the score of a large site', () => {
  it('takes in what is seen by itself, and counts the first five groups', () => {
    const { scenario } = drawn.find(({ pattern }) => pattern === 'scattered') ?? drawn[0]
    const typed = typedSite(scenario.site)
    const target = largeTargetOf(scenario, typed)
    const seen = visibleAmong(typed)
    for (const fault of target.faults) {
      if (seen([fault]).length === 1) expect(target.visible).toContain(fault.edge)
    }
    const [first] = target.faults
    const edges = (edge: number) => ({ edges: [edge], probability: 0.1 })
    const sound = [...typed.address.keys()].filter((e) => target.faults.every(({ edge }) => edge !== e))
    const score = largeScoreOf(
      {
        nothing: 0.1,
        joint: new Float64Array(typed.address.length),
        groups: [edges(sound[0]), edges(first.edge), ...sound.slice(1, 5).map(edges)],
        callsHealthy: false,
      },
      target,
    )
    expect([score.first, score.five, score.fiveBad]).toEqual([false, 5, 1])
    expect(score.fiveSeen).toBe(target.visible.includes(first.edge) ? 1 : 0)
  })
})
