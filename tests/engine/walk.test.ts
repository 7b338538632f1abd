import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { finish } from '../../src/engine/progress.ts'
import { run } from '../../src/engine/run.ts'
import { emptySiteCache } from '../../src/engine/siteCache.ts'
import { openSite } from '../../src/files/openSite.ts'
import { setUpsOfPlan } from '../../src/model/queries/planSetUps.ts'
import type { WalkInput } from '../../src/model/planning.ts'

const opened = openSite(readFileSync(new URL('../../demo-data/field.json', import.meta.url)), 'field')
if (!opened.ok) throw new Error('the demo opens')
const site = opened.value
const [plan] = site.drawing.plans
const pairs = plan.pairs.map(({ from, to }) => ({ from, to }))
const cache = emptySiteCache()

function walk(input: Partial<WalkInput>) {
  const answer = finish(run('walk', { pairs, persons: 1, order: 'asGiven', ...input }, site, cache))
  if (!answer.ok) throw new Error(JSON.stringify(answer.error))
  return answer.value
}

const lengthM = (line: Float64Array) => {
  let sumM = 0
  for (let i = 2; i < line.length; i += 2)
    sumM += Math.hypot(line[i] - line[i - 2], line[i + 1] - line[i - 1])
  return sumM
}

describe('the walk of a plan', () => {
  const given = walk({})
  const short = walk({ order: 'short' })

  it('as given keeps the order and has the set-ups that the list shows', () => {
    expect(given.order.map(({ pair }) => pair)).toEqual(pairs.map((_, k) => k))
    expect(given.setUps.map(({ at, pairs: count }) => [at, count])).toEqual(
      setUpsOfPlan(plan.pairs).map(({ at, pairs: count }) => [at, count]),
    )
  })

  it('has ways that add up and are as long as the lines on the ground', () => {
    for (const answer of [given, short]) {
      const sumM = answer.setUps.reduce((sum, { wayM }) => sum + wayM, 0)
      expect(sumM).toBeCloseTo(answer.wayM, 6)
      expect(answer.setUps.reduce((sum, { minutes }) => sum + minutes, 0)).toBeCloseTo(answer.minutes, 6)
      const drawnM = answer.path.setUps.reduce(
        (sum, { approachM, roundM }) => sum + lengthM(approachM) + lengthM(roundM),
        0,
      )
      expect(drawnM).toBeCloseTo(answer.wayM, 3)
    }
  })

  it('in a short order has the same pairs, is no longer, and not below its bound', () => {
    const named = (all: readonly { from: string; to: string }[]) =>
      all.map(({ from, to }) => [from, to].sort().join(' ')).sort()
    expect(named(short.order)).toEqual(named(pairs))
    expect(short.wayM).toBeLessThanOrEqual(given.wayM + 1e-6)
    expect(short.wayM).toBeGreaterThanOrEqual(short.wayBoundM! - 1e-6)
    expect(given.wayBoundM).toBeNull()
  })

  it('given in the short order costs what it was said to cost', () => {
    const again = walk({ pairs: short.order.map(({ from, to }) => ({ from, to })) })
    expect(again.wayM).toBeCloseTo(short.wayM, 3)
    expect(again.minutes).toBeCloseTo(short.minutes, 3)
  })

  it('leaves out what nobody can walk to', () => {
    const answer = walk({ pairs: [{ from: 'E1', to: 'earth' }, ...pairs.slice(0, 3)] })
    expect(answer.order.map(({ pair }) => pair)).toEqual([1, 2, 3])
    expect(walk({ pairs: [] })).toMatchObject({ order: [], setUps: [], wayM: 0, minutes: 0 })
  })
})
