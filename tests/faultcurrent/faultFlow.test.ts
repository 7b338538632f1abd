import { describe, expect, it } from 'vitest'
import { randomStream } from '../../src/base/random.ts'
import type { Circuit } from '../../src/faultcurrent/circuit.ts'
import { faultFlow } from '../../src/faultcurrent/faultFlow.ts'
import { pvCurrentA, pvOpenV } from '../../src/faultcurrent/pvCurve.ts'
import { alterNetwork } from '../../src/network/alterNetwork.ts'
import { prepareNetwork, type PreparedNetwork } from '../../src/network/prepare.ts'
import { defaultJointKinds } from '../../src/model/jointCatalogue.ts'
import { barSite, preparedSite, runToEnd } from '../outside/barSite.ts'
import { acAt, pvAt, string, withSource } from './circuitOf.ts'
import { randomSite } from './randomSites.ts'

const kinds = defaultJointKinds.filter(({ medianOhm }) => medianOhm !== null)
const chain = (...ohms: number[]) =>
  preparedSite(
    barSite(
      ohms.length + 1,
      ohms.map((medianOhm, k) => ({ from: k, to: k + 1, kind: 'jumper', medianOhm })),
      kinds,
    ),
  )
const flowOf = (prepared: PreparedNetwork, circuit: Circuit) => runToEnd(faultFlow(prepared, circuit))
/** Bars are the first parts, after no enclosure. */
const bar = ({ network }: PreparedNetwork, k: number) => network.index.enclosureStart + k

describe('the curve of a module', () => {
  const module = { openCircuitV: 40, shortCircuitA: 10, light: 1 }

  it('passes short-circuit current and open-circuit volts, and falls everywhere', () => {
    expect(pvCurrentA(module, 0)).toBeCloseTo(10, 12)
    expect(pvCurrentA(module, 40)).toBeCloseTo(0, 9)
    for (let v = -80; v < 120; v++) expect(pvCurrentA(module, v + 1)).toBeLessThan(pvCurrentA(module, v))
  })

  it('gives current in proportion to light, and hardly fewer volts', () => {
    const half = { ...module, light: 0.5 }
    expect(pvCurrentA(half, 0)).toBeCloseTo(5, 12)
    expect(pvOpenV(half)).toBeGreaterThan(0.95 * 40)
    expect(pvOpenV(half)).toBeLessThan(40)
    expect(pvOpenV(module)).toBeCloseTo(40, 9)
  })
})

describe('a string whose negative pole is earthed', () => {
  const prepared = chain(0.01, 0.02)

  it('sends its short-circuit current through the bonds, whatever their milliohms', () => {
    const flow = flowOf(prepared, pvAt(string, bar(prepared, 2), bar(prepared, 0)))
    expect(flow.faultA).toBeCloseTo(10, 3)
    expect(flow.limitedBy).toBe('sourceCurrent')
    expect(flow.networkOhm).toBeCloseTo(0.03, 12)
    expect(flow.nodeV[bar(prepared, 2)] - flow.nodeV[bar(prepared, 0)]).toBeCloseTo(0.3, 4)
    // from bar 3 to bar 1: against both joints
    for (const i of flow.edgeA) expect(i).toBeCloseTo(-flow.faultA, 9)
  })

  it('has no volts at its earthed pole: the blind spot', () => {
    const flow = flowOf(
      prepared,
      pvAt({ ...string, moduleFromNegative: 0 }, bar(prepared, 2), bar(prepared, 0)),
    )
    expect(flow.limitedBy).toBe('noVoltage')
    expect(flow.faultA).toBeLessThan(1e-9)
  })

  it('leaves a part without a bond at the volts of the fault point, and no current', () => {
    const cut = runToEnd(prepareNetwork(runToEnd(alterNetwork(prepared.network, [{ edge: 0, ohm: null }]))))
    const flow = flowOf(cut, pvAt({ ...string, moduleFromNegative: 7 }, bar(cut, 2), bar(cut, 0)))
    expect(flow.limitedBy).toBe('noPath')
    expect(flow.networkOhm).toBe(Infinity)
    expect(flow.faultA).toBeLessThan(1e-9)
    expect(flow.nodeV[bar(cut, 2)] - flow.nodeV[bar(cut, 0)]).toBeCloseTo(280, 6)
  })

  it('is limited by the ohms of a bad bond once they are more than its own', () => {
    const bad = chain(1000)
    const flow = flowOf(bad, pvAt(string, bar(bad, 1), bar(bad, 0)))
    expect(flow.limitedBy).toBe('resistance')
    expect(flow.faultA).toBeLessThan(0.4)
    // at the same current, module by module, on the curve
    const module = { openCircuitV: 40, shortCircuitA: 10, light: 1 }
    expect(flow.faultA).toBeCloseTo(pvCurrentA(module, (flow.faultA * 1000) / 10), 6)
  })

  it('is fed by parallel strings through the modules above the fault', () => {
    const eight = withSource({ ...string, moduleFromNegative: 6 }, { stringsInParallel: 8 })
    const flow = flowOf(prepared, pvAt(eight, bar(prepared, 2), bar(prepared, 0)))
    // its own short-circuit current, and back through four modules what seven strings give at their volts
    const fed = flow.backFeedA
    expect(flow.faultA).toBeCloseTo(10 + fed, 2)
    expect(fed).toBeGreaterThan(60)
    expect(fed).toBeLessThan(70)
    const open = flowOf(
      prepared,
      pvAt({ ...eight, moduleFromNegative: 10 }, bar(prepared, 2), bar(prepared, 0)),
    )
    expect(open.faultA).toBeCloseTo(80, 1)
  })
})

describe('a floating string', () => {
  const floating = withSource({ ...string, insulationOhm: 1e6 }, { referencing: 'floating' })
  const prepared = chain(0.01, 0.02)

  it('drives no more than its insulation leads', () => {
    const flow = flowOf(prepared, pvAt(floating, bar(prepared, 2), bar(prepared, 0)))
    expect(flow.limitedBy).toBe('insulation')
    // the positive pole at earth: the negative one's insulation has all volts, the other none
    expect(flow.faultA).toBeCloseTo(400 / 1e6, 8)
  })

  it('drives a loop once a second part is touched', () => {
    const second = { part: 'B1', moduleFromNegative: 2, sameString: true }
    const twice = { ...floating, moduleFromNegative: 9, second }
    const flow = flowOf(prepared, pvAt(twice, bar(prepared, 2), bar(prepared, 0), bar(prepared, 0)))
    expect(flow.limitedBy).toBe('sourceCurrent')
    expect(flow.faultA).toBeCloseTo(10, 2)
  })

  it('with a second fault on another string, the two strings hold against each other', () => {
    const second = { part: 'B1', moduleFromNegative: 2, sameString: false }
    const twice = withSource({ ...floating, moduleFromNegative: 9, second }, { stringsInParallel: 2 })
    const flow = flowOf(prepared, pvAt(twice, bar(prepared, 2), bar(prepared, 0), bar(prepared, 0)))
    expect(flow.faultA).toBeGreaterThan(10)
    expect(flow.faultA).toBeLessThan(20.1)
    expect(flow.backFeedA).toBeGreaterThan(0)
  })
})

it('an inverter without a transformer holds the middle of the string at earth', () => {
  const prepared = chain(0.01, 0.02)
  const onMains = withSource(string, { referencing: 'transformerless' })
  for (const [moduleFromNegative, openV] of [
    [0, -200],
    [5, 0],
    [10, 200],
  ]) {
    const circuit = pvAt({ ...onMains, moduleFromNegative }, bar(prepared, 2), bar(prepared, 0))
    expect(circuit.openV).toBeCloseTo(openV, 9)
    const flow = flowOf(prepared, circuit)
    if (openV === 0) expect(flow.faultA).toBeLessThan(1e-9)
    else expect(flow.faultA).toBeGreaterThan(10)
  }
})

it('an a.c. source meets Ohm’s law, and a raised bond delays what it feeds', () => {
  const prepared = chain(0.01, 0.02)
  const flow = flowOf(prepared, acAt(230, 0.2, bar(prepared, 2), bar(prepared, 0)))
  expect(flow.faultA).toBeCloseTo(230 / 0.23, 8)
  expect(flow.sourceV).toBeCloseTo((230 * 0.03) / 0.23, 8)
  const raised = chain(0.01, 5)
  const less = flowOf(raised, acAt(230, 0.2, bar(raised, 2), bar(raised, 0)))
  expect(less.faultA).toBeCloseTo(230 / 5.21, 8)
})

describe('on sites drawn by lot', () => {
  const random = randomStream(71)
  const cases = Array.from({ length: 60 }, (_, k) => {
    const prepared = preparedSite(randomSite(random, 12, random.integer(8), 1 + random.integer(4)))
    const { index } = prepared.network
    const part = () => bar(prepared, random.integer(12))
    const referencing = (['earthedNegative', 'earthedPositive', 'transformerless', 'floating'] as const)[
      k % 4
    ]
    const modules = 1 + random.integer(20)
    const drive = withSource(
      {
        ...string,
        moduleFromNegative: random.integer(modules + 1),
        insulationOhm: k % 3 === 0 ? Infinity : 10 ** (3 + 4 * random.uniform()),
        earthingOhm: k % 2 === 0 ? 0 : 10 * random.uniform(),
        light: 0.1 + 0.9 * random.uniform(),
        second:
          k % 5 < 3
            ? null
            : { part: '', moduleFromNegative: random.integer(modules + 1), sameString: k % 5 === 3 },
      },
      { referencing, modulesInSeries: modules, stringsInParallel: 2 + random.integer(30) },
    )
    const earthed = k % 7 === 0 ? index.remoteEarth : part()
    const circuit = pvAt(drive, part(), earthed, drive.second ? part() : null)
    return { prepared, drive, circuit, flow: flowOf(prepared, circuit) }
  })

  it('currents balance at every part, and remote earth is at 0 V', () => {
    for (const { prepared, flow } of cases) {
      expect(flow.residual).toBeLessThan(1e-9)
      expect(Math.abs(flow.nodeV[prepared.network.remoteEarth])).toBeLessThan(1e-9)
    }
  })

  it('the fault never has more volts than its point has without a load, and none of the network has', () => {
    let met = 0
    for (const { circuit, drive, flow } of cases) {
      if (drive.second) continue
      met++
      const most = Math.abs(circuit.openV)
      expect(Math.abs(flow.sourceV)).toBeLessThanOrEqual(most + 1e-6)
      if (drive.source.referencing === 'floating') continue
      expect(Math.abs(flow.sourceV) * Math.abs(circuit.openV)).toBeCloseTo(flow.sourceV * circuit.openV, 6)
      // what the insulation of the other pole leads besides raises some millivolts in earthing and soil
      const leakV = 0.001 + (400 / drive.insulationOhm) * 200
      const volts = [...flow.nodeV]
      expect(Math.max(...volts) - Math.min(...volts)).toBeLessThanOrEqual(most + leakV)
    }
    expect(met).toBeGreaterThan(20)
  })

  it('what the ports bring in is turned to heat in the joints and in soil', () => {
    for (const { prepared, flow } of cases) {
      const { edgeA, ports, nodeV } = flow
      const { medianOhm } = prepared.network
      const heat = edgeA.reduce((sum, i, e) => sum + i * i * medianOhm[e], 0)
      const brought = ports.reduce((sum, { part, currentA }) => sum + currentA * nodeV[part], 0)
      expect(brought).toBeCloseTo(heat, Math.max(0, 8 - Math.log10(1 + heat)))
    }
  })

  it('no current is more than all strings together give', () => {
    for (const { drive, flow } of cases) {
      const { stringsInParallel, shortCircuitA, referencing } = drive.source
      // a bridge that switches both poles in turn takes half the current at twice the volts
      const most =
        stringsInParallel * shortCircuitA * drive.light * (referencing === 'transformerless' ? 2 : 1)
      expect(flow.faultA).toBeLessThanOrEqual(most * (1 + 1e-9))
    }
  })
})
