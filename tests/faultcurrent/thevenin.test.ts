import { describe, expect, it } from 'vitest'
import { randomStream } from '../../src/base/random.ts'
import type { Circuit } from '../../src/faultcurrent/circuit.ts'
import { faultFlow } from '../../src/faultcurrent/faultFlow.ts'
import { theveninOhm } from '../../src/faultcurrent/thevenin.ts'
import { betweenHands, fromHandToFeet } from '../../src/faultcurrent/touchedPlaces.ts'
import { soilLeaks } from '../../src/network/soilLeaks.ts'
import { surfaceOf } from '../../src/faultcurrent/surfaceVolts.ts'
import { alterNetwork } from '../../src/network/alterNetwork.ts'
import { prepareNetwork, type PreparedNetwork } from '../../src/network/prepare.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { preparedSite, runToEnd } from '../outside/barSite.ts'
import { acAt, pvAt, string, withSource } from './circuitOf.ts'
import { randomSite } from './randomSites.ts'

const bars = 10
const flowOf = (prepared: PreparedNetwork, circuit: Circuit) => runToEnd(faultFlow(prepared, circuit))

/** The site with one more joint of `ohm` between two bars, the last of its extra joints. */
function withBody(site: Site, from: number, to: number, ohm: number): Site {
  const { drawing } = site
  const id = drawing.nextIds.extraJoint
  const body = { id, label: '', from: `B${from + 1}`, to: `B${to + 1}`, kind: 'jumper', medianOhm: ohm }
  const nextIds = { ...drawing.nextIds, extraJoint: id + 1 }
  return { ...site, drawing: { ...drawing, nextIds, extraJoints: [...drawing.extraJoints, body] } }
}

/** Amperes through a body that is a joint of the network, and what volts and ohms without it say. */
function bothWays(
  site: Site,
  hand: number,
  other: number,
  ohm: number,
  circuitOf: (p: PreparedNetwork) => Circuit,
) {
  const prepared = preparedSite(withBody(site, hand, other, ohm))
  const { network } = prepared
  const joint = network.index.extraJointStart + network.index.drawing.extraJoints.length - 1
  const edge = network.edgeOfJoint[joint]
  const withIt = flowOf(prepared, circuitOf(prepared))
  const open = runToEnd(alterNetwork(network, [{ edge, ohm: null }]))
  const without = flowOf(runToEnd(prepareNetwork(open)), circuitOf(prepared))
  const start = network.index.enclosureStart
  const { prospectiveV, ohmBetween } = betweenHands(without, start + hand, start + other)
  return { solvedA: Math.abs(withIt.edgeA[edge]), foretoldA: prospectiveV / (ohmBetween + ohm), ohmBetween }
}

describe('volts and ohms between two places foretell the current of what is laid between them', () => {
  const random = randomStream(74)
  const draw = () => {
    const site = randomSite(random, bars, random.integer(6), 1 + random.integer(3))
    const hand = random.integer(bars)
    const other = (hand + 1 + random.integer(bars - 1)) % bars
    return { site, hand, other, at: random.integer(bars), back: random.integer(bars) }
  }
  const start = (prepared: PreparedNetwork) => prepared.network.index.enclosureStart

  it('exactly, behind a source without a curve, whatever its ohms', () => {
    let felt = 0
    for (let k = 0; k < 40; k++) {
      const { site, hand, other, at, back } = draw()
      const ohm = 10 ** (4 * random.uniform() - 3)
      const { solvedA, foretoldA } = bothWays(site, hand, other, ohm, (prepared) =>
        acAt(230, 0.1, start(prepared) + at, k % 2 ? prepared.network.remoteEarth : start(prepared) + back),
      )
      if (solvedA < 1e-6) continue
      felt++
      expect(Math.abs(solvedA / foretoldA - 1)).toBeLessThan(1e-6)
    }
    expect(felt).toBeGreaterThan(20)
  })

  it('to first order, behind modules', () => {
    let felt = 0
    for (let k = 0; k < 40; k++) {
      const { site, hand, other, at, back } = draw()
      const drive = withSource(
        { ...string, moduleFromNegative: 1 + random.integer(10), earthingOhm: random.uniform() },
        { stringsInParallel: 3 },
      )
      const { solvedA, foretoldA } = bothWays(site, hand, other, 1000, (prepared) =>
        pvAt(drive, start(prepared) + at, start(prepared) + back),
      )
      if (solvedA < 1e-6) continue
      felt++
      expect(Math.abs(solvedA / foretoldA - 1)).toBeLessThan(1e-5)
    }
    expect(felt).toBeGreaterThan(15)
  })

  it('across an open bond too: two pieces with the source between them', () => {
    for (let k = 0; k < 20; k++) {
      const site = randomSite(random, bars, 0, 0)
      const sound = preparedSite(site)
      const edge = random.integer(sound.network.edgeCount)
      const { graph } = sound.network
      const open = runToEnd(alterNetwork(sound.network, [{ edge, ohm: null }]))
      const cut = runToEnd(prepareNetwork(open))
      const [at, back] = [graph.from[edge], graph.to[edge]]
      const flow = flowOf(cut, acAt(230, 2, at, back))
      expect(flow.limitedBy).toBe('noPath')
      expect(theveninOhm(flow, at, back)).toBeCloseTo(2, 9)
      expect(betweenHands(flow, at, back).prospectiveV).toBeCloseTo(230, 9)
    }
  })
})

describe('who touches', () => {
  const prepared = preparedSite(randomSite(randomStream(75), bars, 6, 3))
  const { index, remoteEarth } = prepared.network
  const at = index.enclosureStart
  const flow = flowOf(prepared, acAt(230, 1, at, remoteEarth))

  it('and stands on the ground has no more than the part to remote earth, and more the farther away', () => {
    const near = runToEnd(fromHandToFeet(flow, at, 1))
    const far = runToEnd(fromHandToFeet(flow, at, 200))
    expect(near.prospectiveV).toBeLessThanOrEqual(far.prospectiveV)
    expect(far.prospectiveV).toBeLessThan(Math.abs(flow.nodeV[at]))
    const surface = surfaceOf(runToEnd(soilLeaks(prepared.network, flow.edgeA)))
    // bar 1 stands at the origin
    expect(near.prospectiveV).toBeGreaterThanOrEqual(Math.abs(flow.nodeV[at] - surface(1, 0)))
    // the source's ohm lies beside the way through soil
    expect(near.ohmBetween).toBeLessThan(1)
  })

  it('a part that the fault does not reach has nothing', () => {
    const cut = preparedSite(randomSite(randomStream(76), bars, 6, 0))
    const away = flowOf(cut, acAt(230, 1, at, at + 1))
    expect(runToEnd(fromHandToFeet(away, at, 1))).toEqual({ prospectiveV: 0, ohmBetween: Infinity })
  })
})
