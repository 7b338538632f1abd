import { describe, expect, it } from 'vitest'
import { randomStream, type RandomStream } from '../../src/base/random.ts'
import type { LevelModel } from '../../src/locate/levelModel.ts'
import { badJointShift } from '../../src/locate/hypothesis.ts'
import { setNetworkOf, type FactoredLevel, type NodePair } from '../../src/locate/sets/setNetwork.ts'
import { kernelShift, setRisesOhm, setShift, type BadJoint } from '../../src/locate/sets/setShift.ts'
import { findBlocks } from '../../src/network/blocks.ts'
import { adjacencyOf, type Graph } from '../../src/network/graph.ts'
import { chooseReferences, findIslands } from '../../src/network/islands.ts'
import { prepareSolver } from '../../src/network/solver.ts'
import { graphOf, patchedNetwork, shuffled } from '../network/patchedNetworks.ts'
import { changed, rebuild } from '../network/rebuiltNetwork.ts'
import { runToEnd } from '../network/runToEnd.ts'

/** Soil: every fourth edge, three levels a factor e^0.8 apart. */
const lnSoils = [-0.8, 0, 0.8]
const atSoil = (conductanceS: Float64Array, lnSoil: number) =>
  conductanceS.map((g, e) => (e % 4 === 0 ? g / Math.exp(lnSoil) : g))

interface Case {
  readonly graph: Graph
  readonly conductanceS: Float64Array
  readonly candidates: Int32Array
  readonly pairs: readonly NodePair[]
}

function build({ graph, conductanceS, candidates, pairs }: Case) {
  const adjacency = adjacencyOf(graph)
  const islands = findIslands(graph, adjacency)
  const { isBridge } = findBlocks(graph, adjacency)
  const dense = lnSoils.map((lnSoil) => rebuild(graph, atSoil(conductanceS, lnSoil)))
  const levels = lnSoils.map((lnSoil, at): FactoredLevel => {
    const g = atSoil(conductanceS, lnSoil)
    const reference = chooseReferences(graph, islands)
    const { factor } = runToEnd(prepareSolver(graph, g, islands.of, reference, adjacency))
    const loopS = g.map((x, e) =>
      isBridge[e] === 1 ? 0 : x * (1 - x * dense[at].resistance(graph.from[e], graph.to[e])),
    )
    return { factor, conductanceS: g, loopS }
  })
  const n = pairs.length
  const models = lnSoils.map((lnSoil, at): LevelModel => {
    const squared = new Float64Array(candidates.length * n)
    pairs.forEach(({ a, b }, p) => {
      if (a === b || dense[at].islandOf[a] !== dense[at].islandOf[b]) return
      const current = dense[at].currents(a, b)
      candidates.forEach((e, k) => {
        const i = isBridge[e] === 1 ? Math.round(current[e]) : current[e]
        squared[k * n + p] = i * i
      })
    })
    return {
      lnSoil,
      logWeight: 0,
      networkOhm: Float64Array.from(pairs, ({ a, b }) => dense[at].resistance(a, b)),
      byKind: new Float64Array(0),
      covariance: new Float64Array(n * n),
      squared,
      loopS: Float64Array.from(candidates, (e) => levels[at].loopS[e]),
    }
  })
  const network = runToEnd(setNetworkOf(graph, adjacency, levels, candidates, pairs))
  return { network, models, dense }
}

function randomCase(random: RandomStream, nodeCount: number): Case {
  const { graph, conductanceS } = patchedNetwork(random, nodeCount)
  const candidates = shuffled(random, graph.from.length).slice(0, 12)
  const pairs = Array.from({ length: 14 }, () => {
    const [a, b] = shuffled(random, nodeCount)
    return { a, b }
  })
  return { graph, conductanceS, candidates, pairs: [...pairs, { a: 3, b: 3 }] }
}

const gains = [1e-3, 0.5, 30, 1e3, Infinity, Infinity, Infinity]

function randomSet(random: RandomStream, candidateCount: number): BadJoint[] {
  const size = Math.min(candidateCount, 1 + random.integer(4))
  return Array.from(shuffled(random, candidateCount).slice(0, size), (candidate) => ({
    candidate,
    addedOhm: gains[random.integer(gains.length)],
  }))
}

/** Rises of all pairs from dense solves with and without the change. */
function rebuiltRises(c: Case, lnSoil: number, bad: readonly BadJoint[]): Float64Array {
  const g = atSoil(c.conductanceS, lnSoil)
  const before = rebuild(c.graph, g)
  const members = Int32Array.from(bad, ({ candidate }) => c.candidates[candidate])
  const addedOhm = Float64Array.from(bad, (joint) => joint.addedOhm)
  const after = rebuild(c.graph, changed(g, members, addedOhm))
  return Float64Array.from(c.pairs, ({ a, b }) => {
    const base = before.resistance(a, b)
    return base === Infinity ? 0 : after.resistance(a, b) - base
  })
}

const close = (found: number, expected: number, within: number) =>
  found === expected || Math.abs(found - expected) <= within * Math.max(1, Math.abs(expected))

describe('rises of a set of bad joints', () => {
  it('are those of the network solved densely anew, at every soil level, with cuts and bridges among them', () => {
    let infinite = 0
    let joinedCuts = 0
    for (let seed = 0; seed < 40; seed++) {
      const random = randomStream(5000 + seed)
      const c = randomCase(random, 26)
      const { network, models } = build(c)
      for (let trial = 0; trial < 6; trial++) {
        const bad = randomSet(random, c.candidates.length)
        for (const at of [0, 1, 2]) {
          const expected = rebuiltRises(c, lnSoils[at], bad)
          const found = setRisesOhm(network, models, at, bad)
          expected.forEach((x, p) => expect(close(found[p], x, 1e-7), `${found[p]} is not ${x}`).toBe(true))
          infinite += expected.filter((x) => x === Infinity).length
          const alone = bad.map((joint) => rebuiltRises(c, lnSoils[at], [joint]))
          expected.forEach((x, p) => {
            if (x === Infinity && alone.every((one) => one[p] < Infinity)) joinedCuts++
          })
        }
      }
    }
    expect(infinite).toBeGreaterThan(100)
    expect(joinedCuts).toBeGreaterThan(5)
  })

  it('of two open joints that cut together are infinite across the cut and as for one on either side', () => {
    // a ring of six nodes
    const graph = graphOf(
      6,
      [0, 1, 2, 3, 4, 5].map((v) => [v, (v + 1) % 6] as const),
    )
    const pairs = [
      { a: 0, b: 3 },
      { a: 1, b: 2 },
      { a: 5, b: 0 },
    ]
    const c: Case = {
      graph,
      conductanceS: new Float64Array(6).fill(1),
      candidates: Int32Array.of(0, 3),
      pairs,
    }
    const { network, models } = build(c)
    const open = (candidate: number): BadJoint => ({ candidate, addedOhm: Infinity })
    const both = setRisesOhm(network, models, 1, [open(0), open(1)])
    const one = setRisesOhm(network, models, 1, [open(0)])
    expect(both[0]).toBe(Infinity)
    // without the ring, the way between two neighbours is the joint between them
    expect(both[1]).toBeCloseTo(1 - 5 / 6, 12)
    expect(both[2]).toBeCloseTo(1 - 5 / 6, 12)
    expect(one[0]).toBeCloseTo(3 - 1.5, 12)
    const raised = setRisesOhm(network, models, 1, [open(0), { candidate: 1, addedOhm: 100 }])
    expect(raised[0]).toBeCloseTo(3 + 100 * 1 - 1.5, 9)
  })

  it('do not depend on the order of the members', () => {
    const random = randomStream(61)
    const c = randomCase(random, 26)
    const { network, models } = build(c)
    for (let trial = 0; trial < 30; trial++) {
      const bad = randomSet(random, c.candidates.length)
      const there = setRisesOhm(network, models, 1, bad)
      const back = setRisesOhm(network, models, 1, [...bad].reverse())
      there.forEach((x, p) => expect(close(back[p], x, 1e-9)).toBe(true))
    }
  })
})

describe('uncertainty of a set of bad joints', () => {
  it('of one member by the kernel is that of one bad joint', () => {
    for (let seed = 0; seed < 12; seed++) {
      const random = randomStream(700 + seed)
      const c = randomCase(random, 26)
      const { network, models } = build(c)
      const n = c.pairs.length
      for (let k = 0; k < c.candidates.length; k++) {
        for (const addedOhm of [0.02, 3, 900, Infinity]) {
          const one = badJointShift(models, 1, k, addedOhm, n)
          expect(setShift(network, models, 1, [{ candidate: k, addedOhm }])).toEqual(one)
          const { riseOhm, columns } = kernelShift(network, models, 1, [{ candidate: k, addedOhm }])
          const [soil, ...along] = columns
          for (let p = 0; p < n; p++) {
            expect(close(riseOhm[p], one.riseOhm[p], 1e-7)).toBe(true)
            expect(close(soil[p], one.columns[0][p], 1e-7)).toBe(true)
            const variance = along.reduce((sum, column) => sum + column[p] ** 2, 0)
            expect(close(Math.sqrt(variance), one.columns[1][p], 1e-7)).toBe(true)
          }
        }
      }
    }
  })

  it('follows a change of severity, of the path beside it and of soil as finite differences do', () => {
    const random = randomStream(4242)
    let compared = 0
    for (let trial = 0; trial < 20; trial++) {
      const c = randomCase(random, 26)
      const { network, models } = build(c)
      const bad = randomSet(random, c.candidates.length)
      const stretch = 0.25
      const { riseOhm, columns } = kernelShift(network, models, 1, bad, stretch)
      const raised = bad.filter(({ addedOhm }) => addedOhm !== Infinity)
      const step = 1e-4
      raised.forEach((joint, j) => {
        const at = (sign: number) =>
          setRisesOhm(
            network,
            models,
            1,
            bad.map((b) => (b === joint ? { ...b, addedOhm: b.addedOhm * Math.exp(sign * step) } : b)),
          )
        const [low, high] = [at(-1), at(1)]
        for (let p = 0; p < c.pairs.length; p++) {
          if (riseOhm[p] === Infinity) continue
          const slope = (high[p] - low[p]) / (2 * step)
          expect(close(columns[1 + j][p], stretch * slope, 1e-5)).toBe(true)
          compared++
        }
      })
      // all columns together account for the whole rise, each member's share by itself
      for (let p = 0; p < c.pairs.length; p++) {
        if (riseOhm[p] === Infinity) continue
        const severity = columns.slice(1, 1 + raised.length).reduce((s, x) => s + x[p] / stretch, 0)
        const path = columns.slice(1 + raised.length).reduce((s, x) => s + x[p] / 0.4, 0)
        expect(close(severity + path, riseOhm[p], 1e-7)).toBe(true)
      }
    }
    expect(compared).toBeGreaterThan(100)
  })
})
