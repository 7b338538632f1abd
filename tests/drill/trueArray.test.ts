import { describe, expect, it } from 'vitest'
import { wholly } from '../../src/base/portion.ts'
import { randomStream } from '../../src/base/random.ts'
import { hideableEdges, hideByLot, leastShownOhm, shownByOhm } from '../../src/drill/hideJoint.ts'
import { drawOhms, trueArray } from '../../src/drill/trueArray.ts'
import { adjacencyOf } from '../../src/network/graph.ts'
import { chooseReferences, findIslands } from '../../src/network/islands.ts'
import { pairResistance } from '../../src/network/pairResistance.ts'
import { smallSite } from '../engine/smallSite.ts'
import { denseInverse, denseResistance } from '../network/denseReference.ts'
import { fieldSite, fourWireKit, preparedIn, twoWireKit } from './drillIn.ts'

const prepared = preparedIn(fieldSite())
const { network } = prepared

describe('ohms of one array', () => {
  const ohm = drawOhms(network, randomStream(4))

  it('scatter about the median of each kind as its spread says; metal in series stays', () => {
    const ofKind = network.kinds.findIndex(({ id }) => id === 'frameClamp')
    const logs: number[] = []
    for (let e = 0; e < network.edgeCount; e++) {
      expect(ohm[e]).toBeGreaterThan(network.fixedOhm[e] < network.medianOhm[e] ? network.fixedOhm[e] : 0)
      if (network.kind[e] !== ofKind) continue
      logs.push(Math.log((ohm[e] - network.fixedOhm[e]) / (network.medianOhm[e] - network.fixedOhm[e])))
    }
    expect(logs.length).toBeGreaterThan(500)
    const mean = logs.reduce((sum, x) => sum + x, 0) / logs.length
    const sd = Math.sqrt(logs.reduce((sum, x) => sum + (x - mean) ** 2, 0) / logs.length)
    const spread = network.kinds[ofKind].lnSpread
    expect(Math.abs(mean)).toBeLessThan((4 * spread) / Math.sqrt(logs.length))
    expect(Math.abs(sd - spread)).toBeLessThan((4 * spread) / Math.sqrt(2 * logs.length))
  })

  it('are the same for the same seed', () => {
    expect(drawOhms(network, randomStream(4))).toEqual(ohm)
    expect(drawOhms(network, randomStream(5))).not.toEqual(ohm)
  })
})

describe('the array with the hidden joint', () => {
  const site = preparedIn(smallSite())
  const small = site.network
  const { from, to, nodeCount } = small.graph

  /** Between any two nodes, without the factor: open joints left out of the graph. */
  function denseOhm(ohmOf: (e: number) => number): (a: number, b: number) => number {
    const kept = Array.from(from.keys()).filter((e) => ohmOf(e) < Infinity)
    const graph = {
      nodeCount,
      from: Int32Array.from(kept, (e) => from[e]),
      to: Int32Array.from(kept, (e) => to[e]),
    }
    const islands = findIslands(graph, adjacencyOf(graph))
    const conductanceS = Float64Array.from(kept, (e) => 1 / ohmOf(e))
    const inverse = denseInverse(graph, conductanceS, chooseReferences(graph, islands, small.remoteEarth))
    return (a, b) => (islands.of[a] === islands.of[b] ? denseResistance(inverse, a, b) : Infinity)
  }

  it.each([
    ['raised', 0.7],
    ['open', null],
  ] as const)(
    'reads between every two parts what a dense solution of the same ohms says: %s',
    (_, addedOhm) => {
      const ohm = drawOhms(small, randomStream(2))
      for (let edge = 0; edge < small.edgeCount; edge++) {
        const factor = wholly(trueArray(small, ohm, { edge, addedOhm }))
        const dense = denseOhm((e) =>
          e !== edge ? ohm[e] : addedOhm === null ? Infinity : ohm[e] + addedOhm,
        )
        for (let a = 0; a < nodeCount; a++)
          for (let b = 0; b < a; b++) {
            const found = pairResistance(factor, a, b)
            if (dense(a, b) === Infinity) expect(found).toBe(Infinity)
            else expect(found / dense(a, b)).toBeCloseTo(1, 9)
          }
      }
    },
  )
})

describe('what may be hidden', () => {
  it('moves a reading across the joint by what the exact network says', () => {
    const random = randomStream(8)
    for (let trial = 0; trial < 12; trial++) {
      const edge = random.integer(network.edgeCount)
      const addedOhm = trial % 3 === 0 ? null : 10 ** (2 * random.uniform() - 1)
      const factor = wholly(trueArray(network, network.medianOhm, { edge, addedOhm }))
      const { from, to } = network.graph
      const grown = pairResistance(factor, from[edge], to[edge]) - prepared.endsOhm[edge]
      const said = shownByOhm(prepared, edge, addedOhm)
      if (grown === Infinity) expect(said).toBe(Infinity)
      else expect(Math.abs(said - grown)).toBeLessThan(1e-6 * grown + 1e-9)
    }
  })

  it.each([twoWireKit, fourWireKit])(
    'is a joint whose loss $name shows, never metal, soil or bare contact',
    (kit) => {
      const edges = hideableEdges(prepared, kit)
      expect(edges.length).toBeGreaterThan(10)
      for (const e of edges) {
        const { id, purpose } = network.kinds[network.kind[e]]
        expect(purpose).toBe('relied')
        expect(['memberBody', 'earthPath']).not.toContain(id)
        expect(shownByOhm(prepared, e, null)).toBeGreaterThanOrEqual(leastShownOhm(kit))
      }
    },
  )

  it('by lot is open about half the time, and always shows', () => {
    let open = 0
    const trials = 400
    const edges = new Set<number>()
    for (let seed = 0; seed < trials; seed++) {
      const hidden = hideByLot(prepared, twoWireKit, randomStream(seed))!
      expect(shownByOhm(prepared, hidden.edge, hidden.addedOhm)).toBeGreaterThanOrEqual(
        leastShownOhm(twoWireKit),
      )
      edges.add(hidden.edge)
      if (hidden.addedOhm === null) open++
    }
    expect(edges.size).toBeGreaterThan(20)
    // four standard errors of a share of one half, and the raised ones that nothing but an opening shows
    expect(open / trials).toBeGreaterThan(0.5 - 0.1)
    expect(open / trials).toBeLessThan(0.9)
  })

  it('a coarser instrument has fewer', () => {
    expect(hideableEdges(prepared, twoWireKit).length).toBeLessThan(
      hideableEdges(prepared, fourWireKit).length,
    )
  })
})
