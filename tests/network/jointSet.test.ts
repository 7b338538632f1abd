import { describe, expect, it } from 'vitest'
import { randomStream } from '../../src/base/random.ts'
import { findBlocks } from '../../src/network/blocks.ts'
import { cutLabels } from '../../src/network/cutLabels.ts'
import type { Graph } from '../../src/network/graph.ts'
import { adjacencyOf } from '../../src/network/graph.ts'
import type { JointSet } from '../../src/network/jointSet.ts'
import {
  isParted,
  jointSetKernel,
  memberCurrents,
  resistanceWithSet,
  settleSet,
} from '../../src/network/jointSet.ts'
import { currentsWithSet, solveSetCurrents } from '../../src/network/jointSetCurrents.ts'
import { riseOhm } from '../../src/network/jointSweep.ts'
import { graphOf, patchedNetwork, shuffled } from './patchedNetworks.ts'
import { changed, rebuild } from './rebuiltNetwork.ts'

function kernelsOf(graph: Graph, conductanceS: Float64Array) {
  const adjacency = adjacencyOf(graph)
  const dense = rebuild(graph, conductanceS)
  const { isBridge } = findBlocks(graph, adjacency)
  const slack = Float64Array.from(graph.from, (u, e) =>
    isBridge[e] === 1 ? 0 : 1 - conductanceS[e] * dense.resistance(u, graph.to[e]),
  )
  const labels = cutLabels(graph, adjacency, randomStream(1))
  const kernel = (members: Int32Array) =>
    jointSetKernel(
      graph,
      labels,
      conductanceS,
      slack,
      members,
      Array.from(members, (e) => dense.potentials(graph.from[e], graph.to[e])),
    )
  const reader = (set: JointSet, addedOhm: ArrayLike<number>) => {
    const settled = settleSet(set, addedOhm)
    const i = new Float64Array(set.members.length)
    const scratch = i.slice()
    return (a: number, b: number) => {
      const base = dense.resistance(a, b)
      if (base < Infinity) memberCurrents(set, a, b, i)
      return resistanceWithSet(settled, a, b, base, i, scratch)
    }
  }
  const resistance = (set: JointSet, addedOhm: ArrayLike<number>, a: number, b: number) =>
    reader(set, addedOhm)(a, b)
  return { dense, slack, kernel, reader, resistance }
}

const GAINS = [0, 1e-3, 0.5, 30, 1e4, Infinity, Infinity, Infinity]

// Dense factorisations on either side, conductances over four decades: see jointSweep.test.ts. A set that leaves
// only a poor path loses as many digits more as that path is poorer than the joints.
const AGREE = 1e-8

describe('resistanceWithSet', () => {
  it('is what rebuilding gives, for sets of raised and open joints that cut or do not', () => {
    let mismatches = 0
    let infinite = 0
    let partingButFinite = 0
    for (let seed = 0; seed < 60; seed++) {
      const random = randomStream(900 + seed)
      const { graph, conductanceS } = patchedNetwork(random, 24)
      const { dense, kernel, reader } = kernelsOf(graph, conductanceS)
      for (let trial = 0; trial < 8; trial++) {
        const members = shuffled(random, graph.from.length).slice(0, 1 + random.integer(8))
        const addedOhm = Float64Array.from(members, () => GAINS[random.integer(GAINS.length)])
        const read = reader(kernel(members), addedOhm)
        const after = rebuild(graph, changed(conductanceS, members, addedOhm))
        const parts = after.islandCount > dense.islandCount
        let worst = 0
        for (let a = 0; a < graph.nodeCount; a++) {
          for (let b = 0; b < a; b++) {
            const expected = after.resistance(a, b)
            const found = read(a, b)
            if (expected === Infinity || found === Infinity) {
              if (found !== expected) mismatches++
              if (dense.islandOf[a] === dense.islandOf[b]) infinite++
            } else {
              worst = Math.max(worst, Math.abs(found / expected - 1))
              if (parts) partingButFinite++
            }
          }
        }
        expect(worst).toBeLessThan(AGREE)
      }
    }
    expect(mismatches).toBe(0)
    expect(infinite).toBeGreaterThan(1000)
    expect(partingButFinite).toBeGreaterThan(1000)
  })

  it('of a set of one is the formula for one joint', () => {
    const { graph, conductanceS } = patchedNetwork(randomStream(31), 40)
    const { dense, slack, kernel, resistance } = kernelsOf(graph, conductanceS)
    for (let e = 0; e < graph.from.length; e++) {
      const a = graph.from[(e + 3) % graph.from.length]
      const b = graph.to[e]
      if (dense.islandOf[a] !== dense.islandOf[b] || a === b) continue
      const set = kernel(Int32Array.of(e))
      const [i] = memberCurrents(set, a, b, new Float64Array(1))
      for (const added of [0, 1e-3, 2, 1e6, Infinity]) {
        const expected = dense.resistance(a, b) + riseOhm(i * i, conductanceS[e] * slack[e], added)
        const found = resistance(set, [added], a, b)
        if (expected === Infinity) expect(found).toBe(Infinity)
        else expect(Math.abs(found / expected - 1)).toBeLessThan(1e-14)
      }
    }
  })

  it('never falls when a member gains more or another joins (Rayleigh)', () => {
    for (let seed = 0; seed < 20; seed++) {
      const random = randomStream(1000 + seed)
      const { graph, conductanceS } = patchedNetwork(random, 30)
      const { dense, kernel, resistance } = kernelsOf(graph, conductanceS)
      const members = shuffled(random, graph.from.length).slice(0, 7)
      const set = kernel(members)
      const a = members[0] % 30
      for (let b = 0; b < 30; b++) {
        if (b === a) continue
        const addedOhm = new Float64Array(7)
        let last = dense.resistance(a, b)
        for (let k = 0; k < 7; k++) {
          for (const added of [0.01, 5, Infinity]) {
            addedOhm[k] = added
            const next = resistance(set, addedOhm, a, b)
            if (next < Infinity) expect(next).toBeGreaterThanOrEqual(last * (1 - AGREE))
            else expect(next).toBe(Infinity)
            if (last === Infinity) expect(next).toBe(Infinity)
            last = next
          }
        }
      }
    }
  })

  it('tends to the network as built for small gains and to the open one for large', () => {
    const random = randomStream(77)
    const { graph, conductanceS } = patchedNetwork(random, 30)
    const { dense, kernel, resistance } = kernelsOf(graph, conductanceS)
    for (let trial = 0; trial < 40; trial++) {
      const set = kernel(shuffled(random, graph.from.length).slice(0, 4))
      const [a, b] = shuffled(random, 30)
      const base = dense.resistance(a, b)
      if (base === Infinity) continue
      const at = (added: number) => resistance(set, new Float64Array(4).fill(added), a, b)
      expect(at(0)).toBe(base)
      expect(Math.abs(at(1e-10) - base)).toBeLessThan(1e-9 * 4)
      const open = at(Infinity)
      if (open < Infinity) expect(Math.abs(at(1e13) / open - 1)).toBeLessThan(1e-7)
      else expect(at(1e13)).toBeGreaterThan(1e12)
    }
  })

  it('knows a raised joint that is the only way on, to the last digit', () => {
    //  0 ═ 1 ─ 2 ─ 0 and 1 ═ 3: both joints of 1 ═ 3 and those round 0
    const graph = graphOf(4, [
      [0, 1],
      [1, 0],
      [1, 2],
      [2, 0],
      [1, 3],
      [3, 1],
    ])
    const g = Float64Array.of(1000, 2000, 500, 800, 1e5, 2e5)
    const { dense, kernel, resistance } = kernelsOf(graph, g)
    const ends = kernel(Int32Array.of(4, 5))
    for (const added of [1, 1e3, 1e9, 1e15]) {
      const one = resistance(ends, [Infinity, added], 1, 3)
      expect(Math.abs(one / (added + 5e-6) - 1)).toBeLessThan(1e-12)
      const both = resistance(ends, [added, added], 1, 3)
      const expected = 1 / (1 / (added + 1e-5) + 1 / (added + 5e-6))
      expect(Math.abs(both / expected - 1)).toBeLessThan(1e-12)
    }
    expect(resistance(ends, [Infinity, Infinity], 1, 3)).toBe(Infinity)
    expect(resistance(ends, [Infinity, Infinity], 0, 2)).toBe(dense.resistance(0, 2))
  })

  it('refuses a joint named twice and a negative gain', () => {
    const { graph, conductanceS } = patchedNetwork(randomStream(3), 10)
    const { kernel } = kernelsOf(graph, conductanceS)
    expect(() => kernel(Int32Array.of(1, 2, 1))).toThrow('twice')
    expect(() => settleSet(kernel(Int32Array.of(1)), [-1])).toThrow('cannot gain')
    expect(() => settleSet(kernel(Int32Array.of(1)), [NaN])).toThrow('cannot gain')
  })
})

describe('currents under a hypothesis', () => {
  it('are those of the rebuilt network in every joint', () => {
    let parted = 0
    for (let seed = 0; seed < 40; seed++) {
      const random = randomStream(1100 + seed)
      const { graph, conductanceS } = patchedNetwork(random, 24)
      const { dense, kernel } = kernelsOf(graph, conductanceS)
      for (let trial = 0; trial < 6; trial++) {
        const members = shuffled(random, graph.from.length).slice(0, 1 + random.integer(6))
        const addedOhm = Float64Array.from(members, () => GAINS[random.integer(GAINS.length)])
        const set = kernel(members)
        const settled = settleSet(set, addedOhm)
        const after = rebuild(graph, changed(conductanceS, members, addedOhm))
        for (let pair = 0; pair < 10; pair++) {
          const [a, b] = shuffled(random, graph.nodeCount)
          if (dense.islandOf[a] !== dense.islandOf[b]) continue
          const i = memberCurrents(set, a, b, new Float64Array(members.length))
          const solved = solveSetCurrents(settled, a, b, i)
          expect(solved === undefined).toBe(after.islandOf[a] !== after.islandOf[b])
          expect(isParted(settled, a, b)).toBe(solved === undefined)
          if (solved === undefined) {
            parted++
            continue
          }
          const found = currentsWithSet(
            settled,
            solved,
            conductanceS,
            dense.currents(a, b),
            new Float64Array(graph.from.length),
          )
          const expected = after.currents(a, b)
          const worst = expected.reduce((most, value, e) => Math.max(most, Math.abs(found[e] - value)), 0)
          expect(worst).toBeLessThan(AGREE)
          members.forEach((e, k) => {
            expect(solved.memberA[k]).toBe(found[e])
            if (addedOhm[k] === Infinity) expect(found[e]).toBe(0)
          })
        }
      }
    }
    expect(parted).toBeGreaterThan(50)
  })
})
