import { describe, expect, it } from 'vitest'
import { wholly } from '../../src/base/portion.ts'
import {
  beginDrill,
  callBadTest,
  nullLeads,
  readPair,
  repeatReading,
  type Drill,
} from '../../src/drill/drill.ts'
import { drillRecord } from '../../src/drill/drillRecord.ts'
import { trueArray } from '../../src/drill/trueArray.ts'
import { drillReadingOf } from '../../src/model/drillEntry.ts'
import { entrySchema } from '../../src/model/schema/record.ts'
import { smallSite } from '../engine/smallSite.ts'
import { fourWireKit, longLead, preparedIn, twoWireKit } from './drillIn.ts'

const { network } = preparedIn(smallSite())
const [e1, e2, e3] = [0, 1, 2].map((k) => network.index.enclosureStart + k)

function drillWith(seed: number, over: Partial<Parameters<typeof beginDrill>[0]> = {}): Drill {
  const hidden = { edge: network.edgeOfJoint[network.index.extraJointStart + 2], addedOhm: 3 }
  const factor = wholly(trueArray(network, network.medianOhm, hidden))
  return beginDrill({ by: 'seed', seed, kit: twoWireKit, lead: longLead, network, factor, hidden, ...over })
}

const readingsIn = (drill: Drill) =>
  drillRecord(drill).flatMap((entry) => (entry.entry === 'reading' ? [entry] : []))

describe('the readings of a drill as a record', () => {
  it('are sound entries in the order of their times, with the leads as they were', () => {
    let drill = readPair(drillWith(1), { a: e1, b: e2 })
    drill = nullLeads(drill)
    drill = readPair(drill, { a: e1, b: e3 })
    drill = nullLeads(nullLeads(drill))
    drill = readPair(drill, { a: e2, b: e3 })
    const record = drillRecord(drill)
    expect(record.map(({ entry }) => entry)).toEqual([
      'visit',
      'reading',
      'nulling',
      'reading',
      'nulling',
      'reading',
    ])
    for (const entry of record) expect(entrySchema.safeParse(entry).success).toBe(true)
    expect(new Set(record.map(({ id }) => id)).size).toBe(record.length)
    const times = record.map(({ at }) => Date.parse(at))
    expect(times).toEqual(times.toSorted((a, b) => a - b))
    expect(readingsIn(drill).map(({ lead }) => lead)).toEqual(Array(3).fill(longLead.id))
    const four = readPair(drillWith(1, { kit: fourWireKit, lead: null }), { a: e1, b: e2 })
    expect(readingsIn(four)[0].lead).toBeNull()
  })

  it('count each seating once, as it was read last', () => {
    let drill = readPair(drillWith(2), { a: e1, b: e2 })
    drill = repeatReading(drill, 'again')
    drill = repeatReading(drill, 'again')
    expect(readingsIn(drill).map(({ id }) => drillReadingOf(id))).toEqual([3])
    drill = repeatReading(drill, 'reseat')
    const [first, second] = readingsIn(drill)
    expect([drillReadingOf(first.id), drillReadingOf(second.id)]).toEqual([3, 4])
    expect(second.repeats).toBe(first.id)
  })

  it('leave out what was rightly called a bad test, and keep what was not', () => {
    let bad = 0
    for (let seed = 0; seed < 200; seed++) {
      const drill = readPair(drillWith(seed), { a: e1, b: e2 })
      const reseated = repeatReading(callBadTest(drill, 1), 'reseat')
      const isBad = drill.readings[0].isPoor
      if (isBad) bad++
      expect(readingsIn(reseated).map(({ id }) => drillReadingOf(id))).toEqual(isBad ? [2] : [1, 2])
      expect(readingsIn(reseated).at(-1)!.repeats === null).toBe(isBad)
    }
    expect(bad).toBeGreaterThan(3)
  })

  it('hold nothing of what is hidden', () => {
    const drill = nullLeads(readPair(drillWith(3), { a: e1, b: e3 }))
    const hidden = { edge: drill.hidden.edge + 1, addedOhm: null }
    const other = { ...drill, hidden, factor: null as unknown as Drill['factor'], gain: 2, leadOffsetOhm: 9 }
    expect(drillRecord(other)).toEqual(drillRecord(drill))
  })
})
