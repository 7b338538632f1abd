import { describe, expect, it } from 'vitest'
import { randomStream } from '../../src/base/random.ts'
import { alterNetwork } from '../../src/network/alterNetwork.ts'
import { riseOhm } from '../../src/network/jointSweep.ts'
import { edgeCurrents } from '../../src/network/currents.ts'
import { pairResistance } from '../../src/network/pairResistance.ts'
import { prepareNetwork, type PreparedNetwork } from '../../src/network/prepare.ts'
import { pairPotentials } from '../../src/network/solve.ts'
import { preparedSite } from '../outside/barSite.ts'
import { randomSite } from '../faultcurrent/randomSites.ts'
import { runToEnd } from './runToEnd.ts'

const random = randomStream(79)
const bars = 12
const sites = Array.from({ length: 25 }, () =>
  randomSite(random, bars, random.integer(8), 1 + random.integer(3)),
)

function altered(prepared: PreparedNetwork, edge: number, ohm: number | null): PreparedNetwork {
  return runToEnd(prepareNetwork(runToEnd(alterNetwork(prepared.network, [{ edge, ohm }]))))
}

describe('a network with a joint altered', () => {
  it('raised: every pair reads what the joint’s loop says', () => {
    for (const site of sites) {
      const prepared = preparedSite(site)
      const { network, solver, conductanceS, loopS } = prepared
      const { graph } = network
      const edge = random.integer(network.edgeCount)
      const addedOhm = 10 ** (4 * random.uniform() - 3)
      const raised = altered(prepared, edge, network.medianOhm[edge] + addedOhm)
      const start = network.index.enclosureStart
      for (let k = 0; k < 10; k++) {
        const a = start + random.integer(bars)
        const b = start + random.integer(bars)
        if (a === b) continue
        const x = pairPotentials(solver.factor, a, b, new Float64Array(graph.nodeCount))
        const i = edgeCurrents(graph, conductanceS, x, new Float64Array(graph.from.length))[edge]
        const expected = pairResistance(solver.factor, a, b) + riseOhm(i * i, loopS[edge], addedOhm)
        expect(Math.abs(pairResistance(raised.solver.factor, a, b) / expected - 1)).toBeLessThan(1e-9)
      }
    }
  })

  it('open: parts, sections and islands are those of the drawing without it, and every pair reads the same', () => {
    for (const site of sites) {
      const { drawing } = site
      const k = random.integer(drawing.extraJoints.length)
      const prepared = preparedSite(site)
      const edge = prepared.network.edgeOfJoint[prepared.network.index.extraJointStart + k]
      const open = altered(prepared, edge, null)
      const extraJoints = drawing.extraJoints.filter((_, other) => other !== k)
      const without = preparedSite({ ...site, drawing: { ...drawing, extraJoints } })
      const { remoteEarth } = prepared.network
      // the open joint hangs at its first end: its other node is no island of its own
      expect(open.network.metal.islands.count).toBe(without.network.metal.islands.count)
      expect(open.network.electrical.islands.count).toBe(without.network.electrical.islands.count)
      for (let a = 0; a <= remoteEarth; a++) {
        for (let b = 0; b < a; b++) {
          const expected = pairResistance(without.solver.factor, a, b)
          const found = pairResistance(open.solver.factor, a, b)
          if (expected === Infinity) expect(found).toBe(Infinity)
          else expect(Math.abs(found - expected)).toBeLessThan(1e-9 * Math.max(1e-3, expected))
        }
      }
    }
  })

  it('leaves the network that it came from as it was', () => {
    const prepared = preparedSite(sites[0])
    const { graph, medianOhm } = prepared.network
    const before = [graph.to.slice(), medianOhm.slice()]
    altered(prepared, 0, null)
    altered(prepared, 1, 5)
    expect([graph.to, medianOhm]).toEqual(before)
  })
})
