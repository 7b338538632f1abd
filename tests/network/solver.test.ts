import { describe, expect, it } from 'vitest'
import { randomStream } from '../../src/base/random.ts'
import { pairResistance } from '../../src/network/pairResistance.ts'
import { prepareSolver, refactor } from '../../src/network/solver.ts'
import { arrayRows, networkOf, randomConnected, sideBySide } from './randomNetworks.ts'
import { runToEnd } from './runToEnd.ts'
import { solved } from './solved.ts'

describe('prepareSolver', () => {
  it('takes an empty graph, single nodes and many islands', () => {
    expect(solved(networkOf(0, [])).pattern.row).toHaveLength(0)
    const single = solved(networkOf(1, []))
    expect(pairResistance(single.factor, 0, 0)).toBe(0)
    const pairs = solved(sideBySide(Array.from({ length: 300 }, (_, k) => networkOf(2, [[0, 1, k + 1]]))))
    for (let k = 0; k < 300; k++) expect(pairResistance(pairs.factor, 2 * k, 2 * k + 1)).toBe(1 / (k + 1))
    expect(pairResistance(pairs.factor, 0, 2)).toBe(Infinity)
  })

  it('pauses often on a large network', () => {
    const { graph, conductanceS, islandOf, reference } = arrayRows(randomStream(1), 20, 20, 28)
    let pauses = 0
    for (const job = prepareSolver(graph, conductanceS, islandOf, reference); !job.next().done;) pauses++
    expect(pauses).toBeGreaterThan(30)
  })

  it('refuses islands that do not fit the graph', () => {
    const { graph, conductanceS } = networkOf(3, [[0, 1, 1]])
    const run = (islandOf: number[], reference: number[]) => () =>
      runToEnd(prepareSolver(graph, conductanceS, Int32Array.from(islandOf), Int32Array.from(reference)))
    expect(run([0, 0, 1], [0, 2])).not.toThrow()
    expect(run([0, 1, 1], [0, 2])).toThrow('joins two islands')
    expect(run([0, 0, 0], [0])).toThrow('islands were found')
    expect(run([0, 0, 1], [0, 1])).toThrow('another island')
    expect(run([0, 0], [0])).toThrow('every node')
  })
})

describe('refactor', () => {
  it('gives bit for bit what a new solver with those conductances gives, and keeps the old one', () => {
    const network = randomConnected(randomStream(2), 200, 200)
    const other = network.conductanceS.map((g, e) => (e % 3 === 0 ? g * 7 : g))
    const before = solved(network)
    const share = before.factor.share.slice()
    const again = runToEnd(refactor(before, other))
    const fresh = solved({ ...network, conductanceS: other })
    expect(again.factor.share).toEqual(fresh.factor.share)
    expect(again.factor.pivotS).toEqual(fresh.factor.pivotS)
    expect(again.pattern).toBe(before.pattern)
    expect(again.conductanceS).toBe(other)
    expect(before.factor.share).toEqual(share)
  })
})
