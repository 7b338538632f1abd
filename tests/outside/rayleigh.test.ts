import { describe, expect, it } from 'vitest'
import { randomStream, type RandomStream } from '../../src/base/random.ts'
import { partIndexOf } from '../../src/layout/partIndex.ts'
import { parsePartAddress } from '../../src/model/address.ts'
import type { AsBuilt } from '../../src/model/schema/equipment.ts'
import type { JointKind } from '../../src/model/schema/jointKind.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { largestRiseOhm, loopConductanceS, riseOhm } from '../../src/network/jointSweep.ts'
import { pairResistance } from '../../src/network/pairResistance.ts'
import { rowSite } from '../locate/rowSite.ts'
import { patchedNetwork, shuffled } from '../network/patchedNetworks.ts'
import { barSite, foundOtherwise, preparedSite, type BarJoint } from './barSite.ts'
import { solve } from './solvedNetwork.ts'

/*
 * Rayleigh's monotonicity law, after Doyle and Snell, "Random Walks and Electric Networks" (1984), section 1.4: if the
 * resistances of a circuit are increased, the resistance between any two points can only increase; if they are
 * decreased, it can only decrease. Cutting and shorting are the limits.
 *
 * Beside it, Shannon and Hagelbarger, "Concavity of resistance functions", J. Appl. Phys. 27, 42 (1956), value from
 * memory: the resistance between two points is a concave function of the resistances of the branches.
 *
 * A pair that a joint does nothing to is computed twice by different orders of addition. The solver adds positive
 * terms only: 1e-12 is a decade or more above what some hundred of them leave.
 */
const ROUNDING = 1e-12

const link: JointKind = {
  id: 'link',
  name: 'link',
  purpose: 'relied',
  medianOhm: 0.001,
  lnSpread: 0.5,
  defectRate: 0.01,
  source: '',
}

const drawOhm = (random: RandomStream) => 0.001 * Math.exp(1.5 * random.normal())

/** A random network of bars; now and then in several pieces, and with parallel joints. */
function randomBars(random: RandomStream): { bars: number; joints: BarJoint[] } {
  const bars = 8 + random.integer(6)
  const joints: BarJoint[] = []
  for (let v = 1; v < bars; v++) {
    if (random.uniform() < 0.93)
      joints.push({ from: random.integer(v), to: v, kind: 'link', medianOhm: drawOhm(random) })
  }
  for (let k = 0; k < bars; k++) {
    const from = random.integer(bars)
    const to = random.integer(bars)
    if (from !== to) joints.push({ from, to, kind: 'link', medianOhm: drawOhm(random) })
  }
  return { bars, joints }
}

/** Resistance of every pair among the named parts, from the document. */
function pairsOf(site: Site, parts: readonly string[]): Float64Array {
  const { network, solver } = preparedSite(site)
  const nodes = parts.map((part) => partIndexOf(network.index, parsePartAddress(part)!))
  return Float64Array.from(
    nodes.flatMap((a, k) => nodes.slice(k + 1).map((b) => pairResistance(solver.factor, a, b))),
  )
}

/** How many pairs rose and fell beyond rounding. */
function compare(before: ArrayLike<number>, after: ArrayLike<number>): { rose: number; fell: number } {
  expect(after.length).toBe(before.length)
  let rose = 0
  let fell = 0
  for (let k = 0; k < before.length; k++) {
    expect(after[k]).not.toBeNaN()
    if (after[k] > before[k] * (1 + ROUNDING)) rose++
    if (after[k] < before[k] * (1 - ROUNDING)) fell++
  }
  return { rose, fell }
}

describe('through the document: one joint found otherwise, all pairs', () => {
  const other = (joint: number, medianOhm: number): AsBuilt['found'] => ({
    form: 'jointOther',
    joint: `J${joint + 1}`,
    kind: null,
    medianOhm,
  })

  it.each([1, 2, 3, 4, 5, 6, 7, 8])('a random network of bars, seed %i', (seed) => {
    const random = randomStream(7000 + seed)
    const { bars, joints } = randomBars(random)
    const site = barSite(bars, joints, [link])
    const names = Array.from({ length: bars }, (_, k) => `B${k + 1}`)
    const drawn = pairsOf(site, names)
    const found = (...all: AsBuilt['found'][]) => pairsOf(foundOtherwise(site, all), names)
    for (const [k, { from, to, medianOhm }] of joints.entries()) {
      const ohm = medianOhm!
      const raised = compare(drawn, found(other(k, ohm * (1 + 9 * random.uniform()))))
      expect(raised.fell).toBe(0)
      expect(raised.rose).toBeGreaterThan(0)
      const lowered = compare(drawn, found(other(k, ohm * (0.05 + 0.9 * random.uniform()))))
      expect(lowered.rose).toBe(0)
      expect(lowered.fell).toBeGreaterThan(0)
      const cut = compare(drawn, found({ form: 'jointAbsent', joint: `J${k + 1}` }))
      expect(cut.fell).toBe(0)
      expect(cut.rose).toBeGreaterThan(0)
      const ends = { from: names[from], to: names[to], kind: 'link', medianOhm: drawOhm(random) }
      const doubled = compare(drawn, found({ form: 'jointAdded', ...ends }))
      expect(doubled.rose).toBe(0)
      expect(doubled.fell).toBeGreaterThan(0)
    }
    // several at once, the larger change by each of them
    const some = [...shuffled(random, joints.length)].slice(0, 4)
    const less = found(...some.map((k) => other(k, joints[k].medianOhm! * 2)))
    const more = found(...some.map((k) => other(k, joints[k].medianOhm! * 3)))
    expect(compare(less, more)).toMatchObject({ fell: 0 })
    expect(compare(less, more).rose).toBeGreaterThan(0)
  })

  it.each([1, 2, 3, 4])('concave in the ohms of all joints together, seed %i', (seed) => {
    const random = randomStream(7100 + seed)
    const { bars, joints } = randomBars(random)
    const names = Array.from({ length: bars }, (_, k) => `B${k + 1}`)
    const of = (ohms: readonly number[]) =>
      pairsOf(
        barSite(
          bars,
          joints.map((joint, k) => ({ ...joint, medianOhm: ohms[k] })),
          [link],
        ),
        names,
      )
    const one = joints.map(() => drawOhm(random))
    const another = joints.map(() => drawOhm(random))
    const [atOne, atAnother, between] = [one, another, one.map((ohm, k) => (ohm + another[k]) / 2)].map(of)
    const chord = atOne.map((ohm, k) => (ohm + atAnother[k]) / 2)
    const { rose, fell } = compare(chord, between)
    expect(fell).toBe(0)
    expect(rose).toBeGreaterThan(0)
  })

  it('a jumper, a bracket and a frame clamp of two rows designed otherwise', () => {
    const parts = ['B1', ...[1, 2].flatMap((r) => [1, 3, 6].map((t) => `R${r}/T${t}/L2.2`)), 'R1/T2/F1.2']
    const differing = (joint: string, kind: string, medianOhm: number | null) =>
      rowSite((drawing) => ({
        ...drawing,
        differingJoints: [
          medianOhm === null
            ? { joint, change: 'absent', kind: null, medianOhm }
            : { joint, change: 'other', kind, medianOhm },
        ],
      }))
    const drawn = pairsOf(rowSite(), parts)
    const joints: [string, string, number][] = [
      ['R1/T2+T3~1', 'jumper', 0.0008],
      ['R1/T2/L2.2~X1', 'bracket', 0.0005],
      ['R1/T2/F1.2~L1.2', 'frameClamp', 0.001],
    ]
    for (const [joint, kind, medianOhm] of joints) {
      for (const ohm of [4 * medianOhm, 1, null]) {
        const { rose, fell } = compare(drawn, pairsOf(differing(joint, kind, ohm), parts))
        expect(fell).toBe(0)
        expect(rose, `${joint} ${ohm}`).toBeGreaterThan(0)
      }
      const { rose, fell } = compare(drawn, pairsOf(differing(joint, kind, medianOhm / 4), parts))
      expect(rose).toBe(0)
      expect(fell, joint).toBeGreaterThan(0)
    }
  })
})

describe('through the kernels: random meshes, trees and islands', () => {
  const added = [1e-9, 1e-3, 0.1, 1, 10, 1e6, Infinity]

  it.each([1, 2, 3])(
    'the sweep over joints, seed %i: rises grow with the added ohms, up to opening',
    (seed) => {
      const random = randomStream(7200 + seed)
      const { graph, conductanceS } = patchedNetwork(random, 80)
      const { slack, currents, islands } = solve(graph, conductanceS)
      const cS = loopConductanceS(conductanceS, slack)
      let moved = 0
      for (let trial = 0; trial < 30; trial++) {
        const a = random.integer(graph.nodeCount)
        const b = random.integer(graph.nodeCount)
        if (a === b || islands.of[a] !== islands.of[b]) continue
        const i = currents(a, b)
        for (let e = 0; e < i.length; e++) {
          const rises = added.map((ohm) => riseOhm(i[e] * i[e], cS[e], ohm))
          expect(rises[0]).toBeGreaterThanOrEqual(0)
          for (let k = 1; k < rises.length; k++) expect(rises[k]).toBeGreaterThanOrEqual(rises[k - 1])
          expect(rises[rises.length - 1]).toBe(largestRiseOhm(i[e] * i[e], cS[e]))
          if (rises[3] > rises[2]) moved++
        }
      }
      expect(moved).toBeGreaterThan(100)
    },
  )

  it.each([1, 2, 3, 4])('sets of joints, seed %i: more ohms or more joints never lower a pair', (seed) => {
    const random = randomStream(7300 + seed)
    const { graph, conductanceS } = patchedNetwork(random, 60)
    const { resistance, withSet } = solve(graph, conductanceS)
    const pairs = Array.from({ length: 60 }, () => [random.integer(60), random.integer(60)] as const)
    const read = (of: (a: number, b: number) => number) => pairs.map(([a, b]) => of(a, b))
    const tally = { rose: 0, cut: 0 }
    for (let trial = 0; trial < 25; trial++) {
      const members = [...shuffled(random, graph.from.length)].slice(0, 1 + random.integer(6))
      const less = members.map(() => 10 ** (4 * random.uniform() - 2))
      const more = less.map((ohm) => (random.uniform() < 0.3 ? Infinity : ohm * (1 + 9 * random.uniform())))
      const rungs = [
        read(resistance),
        read(withSet(members.slice(0, -1), less.slice(0, -1))),
        read(withSet(members, less)),
        read(withSet(members, more)),
        read(
          withSet(
            members,
            members.map(() => Infinity),
          ),
        ),
      ]
      for (let k = 1; k < rungs.length; k++) {
        const { rose, fell } = compare(rungs[k - 1], rungs[k])
        expect(fell).toBe(0)
        tally.rose += rose
      }
      tally.cut += rungs[4].filter((ohm, k) => ohm === Infinity && rungs[0][k] < Infinity).length
    }
    expect(tally.rose).toBeGreaterThan(100)
    expect(tally.cut).toBeGreaterThan(0)
  })
})
