import { describe, expect, it } from 'vitest'
import { randomStream } from '../../src/base/random.ts'
import { edgeSubgraph, pickEdges, placeEdges } from '../../src/network/edgeSubgraph.ts'
import { largestRiseOhm, loopConductanceS } from '../../src/network/jointSweep.ts'
import { solve } from '../outside/solvedNetwork.ts'
import { graphOf, patchedNetwork } from './patchedNetworks.ts'

describe('edgeSubgraph', () => {
  it('keeps the order and the places of its edges', () => {
    const graph = graphOf(4, [
      [0, 1],
      [1, 2],
      [2, 3],
      [3, 0],
    ])
    const part = edgeSubgraph(graph, Uint8Array.of(0, 1, 0, 1))
    expect([...part.edge]).toEqual([1, 3])
    expect(part.graph).toEqual({ nodeCount: 4, from: Int32Array.of(1, 3), to: Int32Array.of(2, 0) })
    expect([...pickEdges(Float64Array.of(5, 6, 7, 8), part.edge)]).toEqual([6, 8])
    expect([...placeEdges(Float64Array.of(6, 8), part.edge, 4, -1)]).toEqual([-1, 6, -1, 8])
  })

  it('gives every joint its limit in metal alone beside that with soil, which is never the higher', () => {
    const random = randomStream(9)
    const metal = patchedNetwork(random, 80)
    const earth = 80
    const piles = Array.from({ length: 20 }, (_, k): [number, number] => [4 * k, earth])
    const graph = graphOf(81, [
      ...Array.from(metal.graph.from, (u, e): [number, number] => [u, metal.graph.to[e]]),
      ...piles,
    ])
    const conductanceS = Float64Array.from([...metal.conductanceS, ...piles.map(() => 0.02)])
    const isMetal = Uint8Array.from(conductanceS, (_, e) => (e < metal.conductanceS.length ? 1 : 0))
    const part = edgeSubgraph(graph, isMetal)
    const inMetal = solve(part.graph, pickEdges(conductanceS, part.edge))
    const metalS = placeEdges(
      loopConductanceS(inMetal.conductanceS, inMetal.slack),
      part.edge,
      conductanceS.length,
      0,
    )
    const electricalS = loopConductanceS(conductanceS, solve(graph, conductanceS).slack)
    let onlyThroughSoil = 0
    for (let e = 0; e < metal.conductanceS.length; e++) {
      expect(metalS[e]).toBeLessThanOrEqual(electricalS[e] * (1 + 1e-12))
      if (metalS[e] === 0 && electricalS[e] > 0) {
        expect(largestRiseOhm(1, metalS[e])).toBe(Infinity)
        // out by k piles of 50 Ω and back by the other 20 − k: 10 Ω at least
        expect(largestRiseOhm(1, electricalS[e])).toBeGreaterThan(10)
        onlyThroughSoil++
      }
    }
    expect(onlyThroughSoil).toBeGreaterThan(3)
  })
})
