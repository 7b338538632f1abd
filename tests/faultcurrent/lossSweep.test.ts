import { describe, expect, it } from 'vitest'
import { randomStream } from '../../src/base/random.ts'
import type { RandomStream } from '../../src/base/random.ts'
import type { Circuit } from '../../src/faultcurrent/circuit.ts'
import { faultFlow } from '../../src/faultcurrent/faultFlow.ts'
import { lossSweep } from '../../src/faultcurrent/lossSweep.ts'
import { alterNetwork } from '../../src/network/alterNetwork.ts'
import { prepareNetwork, type PreparedNetwork } from '../../src/network/prepare.ts'
import { preparedSite, runToEnd } from '../outside/barSite.ts'
import { acAt, pvAt, string, withSource } from './circuitOf.ts'
import { randomSite } from './randomSites.ts'

const bars = 10

function randomCircuit(random: RandomStream, k: number, part: () => number, remoteEarth: number): Circuit {
  if (k % 6 === 0) return acAt(230, 0.05 + random.uniform(), part(), k % 12 === 0 ? remoteEarth : part())
  const referencing = (['earthedNegative', 'earthedPositive', 'transformerless', 'floating'] as const)[k % 4]
  const second =
    k % 5 < 3 ? null : { part: '', moduleFromNegative: random.integer(11), sameString: k % 5 === 3 }
  const drive = {
    ...string,
    moduleFromNegative: 1 + random.integer(10),
    insulationOhm: k % 3 === 0 ? Infinity : 10 ** (3 + 4 * random.uniform()),
    earthingOhm: k % 2 === 0 ? 0 : 10 * random.uniform(),
    second,
  }
  const source = { referencing, stringsInParallel: 2 + random.integer(10) }
  const earthed = k % 7 === 0 ? remoteEarth : part()
  return pvAt(withSource(drive, source), part(), earthed, second ? part() : null)
}

/** Everything solved anew without the joint. */
function without(prepared: PreparedNetwork, edge: number, circuit: Circuit) {
  const altered = runToEnd(alterNetwork(prepared.network, [{ edge, ohm: null }]))
  return runToEnd(faultFlow(runToEnd(prepareNetwork(altered)), circuit))
}

describe('the loss of every joint, beside the network solved anew without it', () => {
  const random = randomStream(72)
  const cases = Array.from({ length: 48 }, (_, k) => {
    const rods = random.integer(4)
    const prepared = preparedSite(randomSite(random, bars, random.integer(7), rods))
    const { index, remoteEarth } = prepared.network
    const part = () => index.enclosureStart + random.integer(bars)
    const circuit = randomCircuit(random, k, part, remoteEarth)
    const pair = { from: part(), to: part() }
    const flow = runToEnd(faultFlow(prepared, circuit))
    return { prepared, circuit, pair, flow, sweep: runToEnd(lossSweep(circuit, flow, [pair])) }
  })

  it('the current that is left, and the volts across the open joint', () => {
    let felt = 0
    let bridges = 0
    for (const { prepared, circuit, flow, sweep } of cases) {
      const { network, slack } = prepared
      for (let e = 0; e < network.edgeCount; e++) {
        const anew = without(prepared, e, circuit)
        const scale = Math.max(flow.faultA, 1e-6)
        expect(Math.abs(sweep.leftA[e] - anew.faultA)).toBeLessThan(1e-7 * scale)
        const carried = Math.abs(flow.edgeA[e]) > 1e-9
        if (!carried) continue
        const gapV = Math.abs(anew.nodeV[network.graph.from[e]] - anew.nodeV[network.graph.to[e]])
        expect(Math.abs(sweep.acrossV[e] - gapV)).toBeLessThan(1e-7 * Math.max(1, gapV))
        if (slack[e] === 0) bridges++
        else if (Math.abs(anew.faultA / flow.faultA - 1) > 1e-4) felt++
      }
    }
    expect(bridges).toBeGreaterThan(30)
    expect(felt).toBeGreaterThan(30)
  })

  it('the volts of a watched pair, and whose loss makes most of them', () => {
    let raised = 0
    for (const { prepared, circuit, pair, flow, sweep } of cases) {
      const [watched] = sweep.watched
      const volts = (from: number, to: number, nodeV: Float64Array) => Math.abs(nodeV[from] - nodeV[to])
      expect(watched.soundV).toBeCloseTo(volts(pair.from, pair.to, flow.nodeV), 9)
      let most = watched.soundV
      for (let e = 0; e < prepared.network.edgeCount; e++) {
        const anew = without(prepared, e, circuit)
        const { of } = anew.reduced.prepared.network.electrical.islands
        const isMet = (part: number) => anew.reduced.electrical.includes(of[part])
        // volts of a piece that nothing drives are whatever they are
        if (!isMet(pair.from) || !isMet(pair.to)) continue
        most = Math.max(most, volts(pair.from, pair.to, anew.nodeV))
      }
      expect(Math.abs(watched.mostV - most)).toBeLessThan(1e-6 * Math.max(1, most))
      if (watched.edge < 0) continue
      raised++
      const lost = without(prepared, watched.edge, circuit)
      expect(volts(pair.from, pair.to, lost.nodeV)).toBeCloseTo(most, 5)
    }
    expect(raised).toBeGreaterThan(20)
  })

  it('lists the worst first, and counts the joints that stop the current', () => {
    for (const { flow, sweep } of cases) {
      const { worst, acrossV, leftA, stops } = sweep
      expect(worst).toHaveLength(acrossV.filter((v) => v > 0).length)
      const volts = worst.map((e) => acrossV[e])
      expect(volts).toEqual([...volts].sort((a, b) => b - a))
      if (flow.faultA > 0) expect(stops).toBe(leftA.filter((i) => i <= 1e-9 * flow.faultA).length)
    }
  })

  it('no loss gives more current, where there is one way in and one way out', () => {
    const simple = cases.filter(({ circuit }) => circuit.links.length === 2)
    expect(simple.length).toBeGreaterThan(10)
    for (const { flow, sweep } of simple) {
      for (const i of sweep.leftA) expect(i).toBeLessThanOrEqual(flow.faultA * (1 + 1e-9) + 1e-12)
    }
  })
})
