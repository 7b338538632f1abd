import { describe, expect, it } from 'vitest'
import { wholly } from '../../src/base/portion.ts'
import { randomStream } from '../../src/base/random.ts'
import { seatClips } from '../../src/drill/drawContact.ts'
import {
  beginDrill,
  callBadTest,
  callJoint,
  nullLeads,
  readPair,
  repeatReading,
  type Drill,
} from '../../src/drill/drill.ts'
import { drillRules } from '../../src/drill/drillRules.ts'
import { scoreOf } from '../../src/drill/score.ts'
import { showOhm } from '../../src/drill/showOhm.ts'
import { trueArray } from '../../src/drill/trueArray.ts'
import { pairResistance } from '../../src/network/pairResistance.ts'
import { digitsSdOhm } from '../../src/reading/kitError.ts'
import { leadOhm } from '../../src/reading/leadOhm.ts'
import { effort } from '../../src/walk/effort.ts'
import { smallSite } from '../engine/smallSite.ts'
import { fourWireKit, longLead, preparedIn, twoWireKit } from './drillIn.ts'

const { network } = preparedIn(smallSite())
const [e1, e2, e3, e4] = [0, 1, 2, 3].map((k) => network.index.enclosureStart + k)
const edgeAt = (joint: number) => network.edgeOfJoint[joint]

function drillWith(seed: number, over: Partial<Parameters<typeof beginDrill>[0]> = {}): Drill {
  const hidden = { edge: edgeAt(network.index.extraJointStart + 2), addedOhm: 3 }
  const factor = wholly(trueArray(network, network.medianOhm, hidden))
  return beginDrill({ by: 'seed', seed, kit: twoWireKit, lead: longLead, network, factor, hidden, ...over })
}

const exact = { ...twoWireKit, resolutionOhm: 1e-9, digits: 0, gainError: 0, mostOhm: 1e6 }
const shown = (drill: Drill) => {
  const { result } = drill.readings.at(-1)!
  return result.form === 'ohm' ? result.ohm : Infinity
}

describe('contacts', () => {
  const trials = 20_000

  it('are poor once in twenty', () => {
    const random = randomStream(11)
    let poor = 0
    for (let k = 0; k < trials; k++) if (seatClips(twoWireKit, false, random).isPoor) poor++
    const sd = Math.sqrt((0.05 * 0.95) / trials)
    expect(Math.abs(poor / trials - 0.05)).toBeLessThan(4 * sd)
  })

  it('seated afresh are never poor, and two-wire clips still add their few milliohms', () => {
    const random = randomStream(12)
    const ohms: number[] = []
    for (let k = 0; k < trials; k++) {
      const { isPoor, contactOhm } = seatClips(twoWireKit, true, random)
      expect(isPoor).toBe(false)
      ohms.push(contactOhm)
    }
    ohms.sort((a, b) => a - b)
    expect(ohms[trials / 2] / 0.003).toBeGreaterThan(0.95)
    expect(ohms[trials / 2] / 0.003).toBeLessThan(1.05)
    expect(ohms[trials - 1]).toBeLessThan(0.2)
  })

  it('of four-wire clips add nothing, or lose the reading', () => {
    const random = randomStream(13)
    for (let k = 0; k < 2000; k++) {
      const { isPoor, contactOhm } = seatClips(fourWireKit, false, random)
      expect(contactOhm).toBe(isPoor ? Infinity : 0)
    }
  })
})

describe('what an instrument shows', () => {
  it('lies on its resolution, within its digits, and is over range above its end', () => {
    const random = randomStream(3)
    for (let k = 0; k < 2000; k++) {
      const ohm = 300 * random.uniform() ** 4
      const result = showOhm(twoWireKit, 1, ohm, random)
      const limit = (twoWireKit.digits + 0.5) * twoWireKit.resolutionOhm + 1e-9
      if (result.form === 'over') expect(ohm).toBeGreaterThan(twoWireKit.mostOhm - limit)
      else {
        const steps = result.ohm / twoWireKit.resolutionOhm
        expect(Math.abs(steps - Math.round(steps))).toBeLessThan(1e-6)
        expect(Math.abs(result.ohm - ohm)).toBeLessThanOrEqual(limit)
      }
    }
    expect(showOhm(twoWireKit, 1, Infinity, random)).toEqual({ form: 'over', atLeastOhm: 200 })
  })

  it('scatters as the reading model says that its digits do', () => {
    const random = randomStream(5)
    const fine = { ...twoWireKit, digits: 3, resolutionOhm: 0.01 }
    const found = Array.from({ length: 20_000 }, () => showOhm(fine, 1, 0.5, random)).map((each) =>
      each.form === 'ohm' ? each.ohm - 0.5 : NaN,
    )
    const sd = Math.sqrt(found.reduce((sum, x) => sum + x * x, 0) / found.length)
    expect(sd / digitsSdOhm(fine)).toBeCloseTo(1, 1)
  })
})

describe('a reading', () => {
  it('is the exact network with the hidden joint in it, clips and lead', () => {
    const drill = drillWith(1, { kit: exact, lead: null })
    const after = readPair(drill, { a: e1, b: e3 })
    const { contactOhm, isPoor } = after.readings[0]
    expect(isPoor).toBe(false)
    const ohm = pairResistance(drill.factor, e1, e3)
    // two joints of 0.1 Ω side by side, then 0.2 Ω with 3 Ω added
    expect(ohm).toBeCloseTo(0.05 + 3.2, 9)
    expect(shown(after)).toBeCloseTo(ohm + contactOhm, 8)
  })

  it('has the whole lead in it until the leads are nulled, and what nulling leaves after that', () => {
    const own = leadOhm(longLead, network.index.drawing.facts.ambientC)
    const open = readPair(drillWith(2, { kit: exact }), { a: e1, b: e2 })
    const bare = readPair(drillWith(2, { kit: exact, lead: null }), { a: e1, b: e2 })
    expect(own).toBeGreaterThan(0.3)
    expect(shown(open) - shown(bare)).toBeCloseTo(own, 7)
    const left = Array.from({ length: 400 }, (_, seed) => {
      const nulled = nullLeads(drillWith(seed, { kit: exact }))
      expect(nulled.isNulled).toBe(true)
      expect(nulled.minutes).toBe(effort.renullMin)
      return nulled.leadOffsetOhm
    })
    const sd = Math.sqrt(left.reduce((sum, x) => sum + x * x, 0) / left.length)
    expect(sd / Math.hypot(0.045 * own, 0.0035)).toBeCloseTo(1, 0.5)
    expect(Math.max(...left.map(Math.abs))).toBeLessThan(own / 2)
  })

  it('is the same for the same seed and steps, whatever was called between', () => {
    const steps = (seed: number, called: boolean) => {
      let drill = nullLeads(drillWith(seed))
      drill = readPair(drill, { a: e1, b: e3 })
      if (called) drill = callJoint(drill, 0, 'J1')
      drill = repeatReading(drill, 'reseat')
      return readPair(drill, { a: e2, b: e3 }).readings
    }
    expect(steps(7, true)).toEqual(steps(7, false))
    expect(steps(8, false)).not.toEqual(steps(7, false))
  })

  it('through a poor contact stays bad when it is read again, and is cured by a clip that is seated afresh', () => {
    let poor = 0
    for (let seed = 0; seed < 400; seed++) {
      const drill = readPair(drillWith(seed, { kit: exact, lead: null }), { a: e1, b: e2 })
      if (!drill.readings[0].isPoor) continue
      poor++
      const again = repeatReading(drill, 'again')
      expect(shown(again)).toBe(shown(drill))
      expect(again.minutes - drill.minutes).toBe(drillRules.againMin)
      const cured = repeatReading(again, 'reseat')
      expect(cured.readings[2].isPoor).toBe(false)
      expect(shown(cured) - 0.05).toBeLessThan(0.2)
      // both readings of the poor seating are one bad test, the third is none
      expect(callBadTest(again, 2).called).toEqual([{ call: 'badTest', reading: 1, isRight: true }])
      expect(callBadTest(cured, 3).called).toEqual([{ call: 'badTest', reading: 3, isRight: false }])
    }
    expect(poor).toBeGreaterThan(5)
  })

  it('costs the minutes that a plan counts with: less from the same first place', () => {
    const first = readPair(drillWith(1), { a: e1, b: e2 })
    expect(first.minutes).toBe(effort.sameReferenceMin + effort.moveReferenceMin)
    const second = readPair(first, { a: e1, b: e3 })
    expect(second.minutes - first.minutes).toBe(effort.sameReferenceMin)
    const moved = readPair(second, { a: e4, b: e3 })
    expect(moved.minutes - second.minutes).toBe(effort.sameReferenceMin + effort.moveReferenceMin)
  })
})

describe('calls and points', () => {
  it('the right joint ends the drill, a wrong one is counted', () => {
    const drill = drillWith(1)
    const wrong = callJoint(drill, drill.hidden.edge + 1, 'J4')
    expect(wrong.isOver).toBe(false)
    const right = callJoint(wrong, drill.hidden.edge, 'J3')
    expect([right.isOver, right.isFound]).toEqual([true, true])
    expect(right.called.map(({ isRight }) => isRight)).toEqual([false, true])
  })

  const none = { isFound: false, readings: 0, minutes: 0, called: [], asked: 0 }
  const wrong = { call: 'joint', joint: 'J1', isRight: false } as const
  const badTest = { call: 'badTest', reading: 1, isRight: true } as const

  it('are 100 for the joint, less what it took', () => {
    expect(scoreOf({ ...none, isFound: true }).total).toBe(100)
    const score = scoreOf({ isFound: true, readings: 10, minutes: 24, called: [wrong, badTest], asked: 1 })
    expect(score).toEqual({
      found: 100,
      readings: -10,
      minutes: -12,
      wrongCalls: -15,
      badTests: 5,
      asked: -5,
      total: 63,
    })
  })

  it('fall with every reading, minute, wrong call and asking, and stay between 0 and 100', () => {
    const random = randomStream(9)
    for (let trial = 0; trial < 300; trial++) {
      const counted = {
        isFound: random.uniform() < 0.5,
        readings: random.integer(60),
        minutes: 200 * random.uniform(),
        called: [...Array<typeof wrong>(random.integer(4)).fill(wrong), badTest],
        asked: random.integer(5),
      }
      const { total } = scoreOf(counted)
      expect(total).toBeGreaterThanOrEqual(0)
      expect(total).toBeLessThanOrEqual(100)
      for (const more of [
        { readings: counted.readings + 1 },
        { minutes: counted.minutes + 5 },
        { called: [...counted.called, wrong] },
        { asked: counted.asked + 1 },
      ])
        expect(scoreOf({ ...counted, ...more }).total).toBeLessThanOrEqual(total)
    }
  })
})
