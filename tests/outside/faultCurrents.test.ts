import { describe, expect, it } from 'vitest'
import { randomStream } from '../../src/base/random.ts'
import { faultFlow, type FaultFlow } from '../../src/faultcurrent/faultFlow.ts'
import { lossSweep } from '../../src/faultcurrent/lossSweep.ts'
import { surfaceOf } from '../../src/faultcurrent/surfaceVolts.ts'
import { largestStep, steepestMetre } from '../../src/faultcurrent/groundSteps.ts'
import { defaultJointKinds } from '../../src/model/jointCatalogue.ts'
import type { Graph } from '../../src/network/graph.ts'
import type { PreparedNetwork } from '../../src/network/prepare.ts'
import { acAt, pvAt, string, withSource } from '../faultcurrent/circuitOf.ts'
import { randomSite } from '../faultcurrent/randomSites.ts'
import { barSite, preparedSite, runToEnd } from './barSite.ts'
import { cocktailParty, complete, dodecahedron, hypercube, icosahedron, stepsFrom } from './knownGraphs.ts'

const kinds = defaultJointKinds.filter(({ medianOhm }) => medianOhm !== null)
/** Currents of unit resistors come out to some 1e-13, behind a source that drives one ampere to 1e-6. */
const exact = 10

/** A graph of one-ohm joints as a site of bars. */
function unitSite({ nodeCount, from, to }: Graph): PreparedNetwork {
  const joints = Array.from(from, (u, e) => ({ from: u, to: to[e], kind: 'jumper', medianOhm: 1 }))
  return preparedSite(barSite(nodeCount, joints, kinds))
}

const bar = ({ network }: PreparedNetwork, k: number) => network.index.enclosureStart + k

function between(prepared: PreparedNetwork, a: number, b: number): FaultFlow {
  return runToEnd(faultFlow(prepared, acAt(230, 2, bar(prepared, a), bar(prepared, b))))
}

describe('a long chain of earthed structures', () => {
  // Endrenyi 1967, "Analysis of transmission tower potentials during ground faults", IEEE Trans. PAS-86, 1274–1283
  // (from memory; the formulas follow from Z = z + R ∥ Z): span z, footing R.
  const span = 0.02
  const footing = 10
  const endless = span / 2 + Math.sqrt((span * span) / 4 + span * footing)
  const ratio = 1 + span / (2 * footing) - Math.sqrt(span / footing + (span * span) / (4 * footing * footing))
  const towers = 801

  // the last bar stands for remote earth: footings that share no soil
  const soil = towers
  const prepared = preparedSite(
    barSite(
      towers + 1,
      Array.from({ length: towers }, (_, k) => [
        { from: k, to: soil, kind: 'jumper', medianOhm: footing },
        { from: k, to: k + 1, kind: 'jumper', medianOhm: span },
      ])
        .flat()
        .slice(0, -1),
      kinds,
    ),
  )
  const atTower = (k: number) => between(prepared, k, soil)

  it('at its end and in its middle meets the closed form', () => {
    const end = atTower(0)
    expect(end.faultA).toBeCloseTo(230 / (2 + 1 / (1 / footing + 1 / endless)), 8)
    const middle = atTower(400)
    expect(middle.networkOhm).toBeCloseTo(1 / (1 / footing + 2 / endless), 10)
    expect(endless).toBeCloseTo(0.4573, 4)
  })

  it('loses the same share of its volts at every span', () => {
    const { nodeV } = atTower(400)
    const volts = (k: number) => nodeV[bar(prepared, k)] - nodeV[bar(prepared, soil)]
    for (let k = 400; k < 440; k++) expect(volts(k + 1) / volts(k)).toBeCloseTo(ratio, 9)
    expect(1 - ratio).toBeCloseTo(0.044, 3)
  })

  it('leaves at the faulted footing its share, and all of it by footings', () => {
    const flow = atTower(400)
    const { graph } = prepared.network
    const earth = bar(prepared, soil)
    const feet = [...flow.edgeA].filter((_i, e) => graph.to[e] === earth || graph.from[e] === earth)
    expect(feet).toHaveLength(towers)
    // in a joint, less than 1e-9 of the fault's current counts as none
    const sum = feet.reduce((total, i) => total + Math.abs(i), 0)
    expect(Math.abs(sum / flow.faultA - 1)).toBeLessThan(1e-9 * towers)
    const own = (flow.nodeV[bar(prepared, 400)] - flow.nodeV[earth]) / footing
    expect(own / flow.faultA).toBeCloseTo(1 / footing / (1 / footing + 2 / endless), 10)
  })
})

describe('how a current divides', () => {
  // Maxwell 1873, Treatise on Electricity and Magnetism, on parallel conductors: I_k = I G_k/ΣG.
  it('between joints side by side, as their conductances', () => {
    const ohms = [0.001, 0.002, 0.005, 0.1]
    const joints = ohms.map((medianOhm) => ({ from: 0, to: 1, kind: 'jumper', medianOhm }))
    const flow = between(preparedSite(barSite(2, joints, kinds)), 0, 1)
    const sum = ohms.reduce((total, ohm) => total + 1 / ohm, 0)
    ohms.forEach((ohm, e) => expect(flow.edgeA[e] / flow.faultA).toBeCloseTo(1 / ohm / sum, exact))
  })

  // Unbalanced bridge, arms 1-4 and 3-6 ohms, ten across: 3.2 ohms end to end (worked problem; computed exactly).
  it('in an unbalanced bridge', () => {
    const arms = [
      [0, 1, 1],
      [1, 3, 4],
      [0, 2, 3],
      [2, 3, 6],
      [1, 2, 10],
    ]
    const joints = arms.map(([from, to, medianOhm]) => ({ from, to, kind: 'jumper', medianOhm }))
    const flow = between(preparedSite(barSite(4, joints, kinds)), 0, 3)
    expect(flow.networkOhm).toBeCloseTo(3.2, 12)
    expect(flow.edgeA[0] + flow.edgeA[2]).toBeCloseTo(flow.faultA, 9)
    expect(flow.edgeA[0] - flow.edgeA[1]).toBeCloseTo(flow.edgeA[4], 9)
  })

  // Across the body of a cube: a third of the current in each of three edges, a sixth in each of the next six
  // (textbook problem, symmetry).
  it('across the body of a cube of unit resistors', () => {
    const prepared = unitSite(hypercube(3))
    const flow = between(prepared, 0, 7)
    const shares = [...flow.edgeA].map((i) => Math.abs(i) / flow.faultA).sort()
    for (let e = 0; e < 6; e++) expect(shares[e]).toBeCloseTo(1 / 6, exact)
    for (let e = 6; e < 12; e++) expect(shares[e]).toBeCloseTo(1 / 3, exact)
  })

  // Between neighbours of a platonic solid the edge between them carries (n − 1)/m (Foster 1949, "The average
  // impedance of an electrical network"; by symmetry, every edge being like every other).
  it.each([
    ['tetrahedron', complete(4), 1 / 2],
    ['cube', hypercube(3), 7 / 12],
    ['octahedron', cocktailParty(3), 5 / 12],
    ['dodecahedron', dodecahedron(), 19 / 30],
    ['icosahedron', icosahedron(), 11 / 30],
  ] as const)('between neighbours of a %s, in the edge between them', (_, graph, share) => {
    const flow = between(unitSite(graph), graph.from[0], graph.to[0])
    expect(Math.abs(flow.edgeA[0]) / flow.faultA).toBeCloseTo(share, exact)
    // the rest leaves the first corner in equal parts by the other edges
    const degree = stepsFrom(graph, graph.from[0]).filter((steps) => steps === 1).length
    const others = [...flow.edgeA].filter((_i, e) => {
      return e > 0 && (graph.from[e] === graph.from[0] || graph.to[e] === graph.from[0])
    })
    const sum = others.reduce((total, i) => total + Math.abs(i), 0)
    expect(others).toHaveLength(degree - 1)
    expect(sum / flow.faultA).toBeCloseTo(1 - share, exact)
  })

  // An edge r away: R' = R r/(r − R) (parallel law). Between neighbours of a platonic solid without the edge between
  // them: 1, 7/5, 5/7, 19/11, 11/19.
  it.each([
    ['tetrahedron', complete(4), 1],
    ['cube', hypercube(3), 7 / 5],
    ['octahedron', cocktailParty(3), 5 / 7],
    ['dodecahedron', dodecahedron(), 19 / 11],
    ['icosahedron', icosahedron(), 11 / 19],
  ] as const)('once the edge between neighbours of a %s is lost', (_, graph, ohm) => {
    const prepared = unitSite(graph)
    const circuit = acAt(230, 2, bar(prepared, graph.from[0]), bar(prepared, graph.to[0]))
    const sweep = runToEnd(lossSweep(circuit, runToEnd(faultFlow(prepared, circuit)), []))
    expect(sweep.leftA[0]).toBeCloseTo(230 / (2 + ohm), 9)
    expect(sweep.acrossV[0]).toBeCloseTo((230 * ohm) / (2 + ohm), 9)
  })
})

describe('on any network', () => {
  const random = randomStream(77)
  const sites = Array.from({ length: 20 }, () =>
    preparedSite(randomSite(random, 14, random.integer(10), 1 + random.integer(4))),
  )

  // Kirchhoff 1845, Annalen der Physik 64, 497: what flows into a part flows out of it.
  it('currents balance at every part', () => {
    for (const prepared of sites) {
      const { graph } = prepared.network
      const flow = between(prepared, random.integer(14), random.integer(14))
      const lack = new Float64Array(graph.nodeCount)
      flow.edgeA.forEach((i, e) => {
        lack[graph.from[e]] += i
        lack[graph.to[e]] -= i
      })
      for (const { part, currentA } of flow.ports) lack[part] -= currentA
      for (const i of lack) expect(Math.abs(i)).toBeLessThan(1e-9 * Math.max(1, flow.faultA))
    }
  })

  // Reciprocity (Rayleigh 1873; Lorentz 1896): volts at c–d for the current at a–b are those at a–b for it at c–d.
  it('volts elsewhere are the same with source and place changed over', () => {
    for (const prepared of sites) {
      const [a, b, c, d] = Array.from({ length: 4 }, (_, k) => (random.integer(3) + 4 * k) % 14)
      const forth = between(prepared, a, b)
      const back = between(prepared, c, d)
      const at = (flow: FaultFlow, p: number, q: number) =>
        (flow.nodeV[bar(prepared, p)] - flow.nodeV[bar(prepared, q)]) / flow.faultA
      const ohm = at(forth, c, d)
      expect(Math.abs(at(back, a, b) - ohm)).toBeLessThan(1e-10 * Math.max(1e-3, Math.abs(ohm)))
    }
  })
})

describe('an array whose pole is earthed', () => {
  const prepared = preparedSite(barSite(2, [{ from: 0, to: 1, kind: 'jumper', medianOhm: 0.01 }], kinds))
  const strings = (stringsInParallel: number, shortCircuitA: number, moduleFromNegative: number) =>
    pvAt(
      withSource({ ...string, moduleFromNegative }, { stringsInParallel, shortCircuitA }),
      bar(prepared, 0),
      bar(prepared, 1),
    )

  // A worked case of a public paper on the blind spot of ground-fault detection (numbers read, paper not
  // named): five strings of 5 A, the worst ground fault drives 25 A.
  it('drives the short-circuit current of all strings at its other pole', () => {
    const flow = runToEnd(faultFlow(prepared, strings(5, 5, 10)))
    expect(flow.faultA).toBeCloseTo(25, 1)
    expect(flow.limitedBy).toBe('sourceCurrent')
  })

  it('drives nothing at its earthed pole: the blind spot', () => {
    expect(runToEnd(faultFlow(prepared, strings(5, 5, 0))).faultA).toBeLessThan(1e-9)
  })
})

describe('the ground round an electrode', () => {
  // A half sphere of radius a in soil ρ that gives off I: V = ρI/(2πr); ρI/(2πa) on itself (IEEE Std 80 and Std 81;
  // textbook form, from memory). Of its volts 50 % are left at 2a, 20 % at 5a, 10 % at 10a.
  const soilOhmM = 100
  const radiusM = 0.5
  const ampere = 10
  const one = (value: number) => Float64Array.of(value)
  const selfV = (soilOhmM * ampere) / (2 * Math.PI * radiusM)
  const halfSphere = {
    soilOhmM,
    xM: one(3),
    yM: one(-2),
    lengthM: one(0),
    radiusM: one(radiusM),
    leakA: one(ampere),
    selfV: one(selfV),
  }

  it('a half sphere: ρI/2πr', () => {
    const surface = surfaceOf(halfSphere)
    for (const [radii, left] of [
      [1, 1],
      [2, 0.5],
      [5, 0.2],
      [10, 0.1],
      [25, 0.04],
    ])
      expect(surface(3 + radii * radiusM, -2) / selfV).toBeCloseTo(left, 12)
  })

  it('the step between two points: the difference of ρI/2πr, from a point straight out or in', () => {
    const surface = surfaceOf(halfSphere)
    const at = (r: number) => (soilOhmM * ampere) / (2 * Math.PI * r)
    for (const r of [3, 10, 40]) {
      const { volt, fromM, toM } = steepestMetre(surface, { x: 3 + r, y: -2 })
      expect(volt).toBeCloseTo(at(r - 1) - at(r), 9)
      expect(fromM.x).toBeCloseTo(3 + r - 1, 5)
      expect(toM).toEqual({ x: 3 + r, y: -2 })
    }
    expect(runToEnd(largestStep(halfSphere, surface))!.volt).toBeCloseTo(at(radiusM) - at(radiusM + 1), 9)
  })

  it('a rod that gives off its current evenly: ρI/2πL · asinh(L/r)', () => {
    // Sunde 1949, Earth Conduction Effects in Transmission Systems, ch. 3 (from memory): the same as
    // ρI/2πL · ln((L + √(L² + r²))/r) on the surface
    const lengthM = 2.5
    const surface = surfaceOf({ ...halfSphere, lengthM: one(lengthM), radiusM: one(0.008), selfV: one(1e9) })
    for (const r of [0.5, 1, 5, 30]) {
      const log = Math.log((lengthM + Math.hypot(lengthM, r)) / r)
      const expected = ((soilOhmM * ampere) / (2 * Math.PI * lengthM)) * log
      expect(surface(3, -2 + r)).toBeCloseTo(expected, 6)
    }
  })
})
