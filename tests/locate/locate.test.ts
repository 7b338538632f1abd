import { describe, expect, it } from 'vitest'
import { modelDoubt } from '../../src/locate/trust.ts'
import type { EntryOf } from '../../src/model/schema/record.ts'
import { pairResistance } from '../../src/network/pairResistance.ts'
import { locateIn, partOf, prepare, rowSite, starOfRows, uuid, withReadings, type Taken } from './rowSite.ts'

/** Scatter of rounding and digits, the same in every test: what kit A shows on a sound array, in ohm. */
const wobble = [0.01, -0.01, 0.02, 0, 0.01, -0.02, 0, 0.01, 0.02, -0.01]
let k = 0
const sound = (table: number): number =>
  Math.max(0, Math.round((0.002 * table + 0.01 + wobble[k++ % wobble.length]) * 100) / 100)
const star = (special: (row: number, table: number) => number | null | undefined): Taken[] => {
  k = 0
  return starOfRows((row, table) => {
    const usual = sound(table)
    const value = special(row, table)
    return value === undefined ? usual : value
  })
}
const readingOf = (answer: ReturnType<typeof locateIn>, n: number) => {
  const found = answer.readings.find((reading) => reading.entry === uuid(100 + n))
  if (!found) throw new Error(`no reading ${n}`)
  return found
}

describe('a sound array', () => {
  it('is called so, with every reading in line', () => {
    const answer = locateIn(
      withReadings(
        rowSite(),
        star(() => undefined),
      ),
    )
    expect(answer.headline).toBe('nothingBroken')
    expect(answer.nothingBrokenProbability).toBeGreaterThan(0.95)
    expect(answer.readings.map((r) => r.verdict)).toEqual(new Array(10).fill('inLine'))
    expect(answer.fit).toBeGreaterThan(0.01)
  })

  it('says how many may be bad; a group is likelier than its joints and no likelier than all of them', () => {
    const { badCount, nothingBrokenProbability, groups, unexplored } = locateIn(
      withReadings(
        rowSite(),
        star(() => undefined),
      ),
    )
    expect(badCount.reduce((sum, p) => sum + p, 0)).toBeCloseTo(1, 9)
    // what no model supports and what was not searched is taken off
    expect(nothingBrokenProbability).toBeCloseTo(badCount[0] * (1 - modelDoubt) * (1 - unexplored), 9)
    for (const { joints, jointCount, probability } of groups.filter((group) => group.jointCount <= 50)) {
      expect(joints).toHaveLength(jointCount)
      const sum = joints.reduce((total, joint) => total + joint.probability, 0)
      expect(probability).toBeLessThan(sum + unexplored)
      for (const joint of joints)
        expect(probability).toBeGreaterThan(joint.probability * (1 - unexplored) - 1e-12)
    }
  })
})

describe('an open jumper', () => {
  const site = withReadings(
    rowSite(),
    star((row, table) => (row === 1 && table >= 4 ? 2.4 : undefined)),
  )
  const answer = locateIn(site)

  it('is named first, by the readings that cross it', () => {
    expect(answer.headline).toBe('suspects')
    expect(answer.groups[0].joints[0].joint).toBe('R1/T3+T4~1')
    expect(answer.groups[0].probability).toBeGreaterThan(0.95)
    const bits = answer.groups[0].evidence.map((e) => e.bits)
    for (const crossing of [2, 3, 4]) expect(bits[crossing]).toBeGreaterThan(5)
    for (const other of [5, 6, 7, 8, 9]) expect(Math.abs(bits[other])).toBeLessThan(1)
  })

  it('explains those readings, so that no contact is blamed', () => {
    for (const n of [2, 3, 4]) {
      expect(readingOf(answer, n).verdict).toBe('highBySuspect')
      expect(readingOf(answer, n).expectedWithSuspectOhm).toBeGreaterThan(1)
    }
  })

  it('cuts off three tables of the row in metal', () => {
    // parts of one table: 8 frames, 4 x 5 stations, 2 cross members, 2 posts
    expect(answer.groups[0].cutsOffParts).toBe(3 * (8 + 20 + 2 + 2))
  })

  it('is the same answer for the same record, in whatever order the file holds it', () => {
    expect(locateIn({ ...site, record: [...site.record].reverse() })).toEqual(answer)
  })
})

describe('contacts and leads', () => {
  it('a high reading that its neighbours contradict is a poor contact, not a bad joint', () => {
    const answer = locateIn(
      withReadings(
        rowSite(),
        star((row, table) => (row === 1 && table === 4 ? 0.4 : undefined)),
      ),
    )
    expect(answer.headline).toBe('nothingBroken')
    expect(readingOf(answer, 2).verdict).toBe('poorContact')
    expect(readingOf(answer, 2).poorContactProbability).toBeGreaterThan(0.9)
  })

  it('a single high reading at the end of a row does not convict', () => {
    const answer = locateIn(
      withReadings(
        rowSite(),
        star((row, table) => (row === 1 && table === 6 ? 0.6 : undefined)),
      ),
    )
    expect(answer.groups[0].joints[0].joint).toBe('R1/T5+T6~1')
    expect(answer.groups[0].probability).toBeLessThan(0.8)
    expect(answer.nothingBrokenProbability).toBeGreaterThan(0.2)
  })

  it('is never enough for a verdict, even where it reads just what an open jumper would', () => {
    const high = star((row, table) => (row === 1 && table === 6 ? 6 : undefined))
    const once = locateIn(withReadings(rowSite(), high))
    expect(once.groups[0].joints[0].joint).toBe('R1/T5+T6~1')
    expect(once.headline).not.toBe('suspects')
    const again: Taken = { from: 'R1/T1/L1.3', to: 'R1/T6/L1.3', ohm: 6.02, repeats: 4 }
    expect(locateIn(withReadings(rowSite(), [...high, again])).headline).toBe('suspects')
  })

  it('a repeat after re-seating that reads like its peers clears the joint', () => {
    const first = star((row, table) => (row === 1 && table === 6 ? 0.6 : undefined))
    const once = locateIn(withReadings(rowSite(), first))
    const again: Taken = { from: 'R1/T1/L1.3', to: 'R1/T6/L1.3', ohm: 0.02, repeats: 4 }
    const twice = locateIn(withReadings(rowSite(), [...first, again]))
    expect(twice.nothingBrokenProbability).toBeGreaterThan(0.95)
    expect(twice.nothingBrokenProbability).toBeGreaterThan(once.nothingBrokenProbability)
    expect(readingOf(twice, 4).verdict).toBe('poorContact')
    expect(readingOf(twice, 10).verdict).toBe('inLine')
  })

  it('a repeat that stays high speaks for the joint', () => {
    const first = star((row, table) => (row === 1 && table === 6 ? 0.6 : undefined))
    const once = locateIn(withReadings(rowSite(), first))
    const again: Taken = { from: 'R1/T1/L1.3', to: 'R1/T6/L1.3', ohm: 0.62, repeats: 4 }
    const twice = locateIn(withReadings(rowSite(), [...first, again]))
    expect(twice.groups[0].joints[0].joint).toBe('R1/T5+T6~1')
    expect(twice.groups[0].probability).toBeGreaterThan(Math.max(0.9, once.groups[0].probability))
  })

  it('a lead that was not nulled adds its own ohms to every reading and breaks nothing', () => {
    const taken = star(() => undefined).map((t) => ({ ...t, ohm: (t.ohm ?? 0) + 0.57 }))
    const answer = locateIn(withReadings(rowSite(), taken, [], false))
    expect(answer.headline).toBe('nothingBroken')
    expect(answer.nullings[0].entry).toBeNull()
    expect(answer.nullings[0].offsetOhm).toBeCloseTo(0.575, 1)
    expect(answer.readings.every((r) => r.verdict === 'inLine')).toBe(true)
  })

  it('a common offset after nulling is learnt from the readings that share it', () => {
    const taken = star(() => undefined).map((t) => ({ ...t, ohm: (t.ohm ?? 0) + 0.04 }))
    const { nullings, headline } = locateIn(withReadings(rowSite(), taken))
    expect(headline).toBe('nothingBroken')
    expect(nullings[0].offsetOhm).toBeGreaterThan(0.025)
    expect(nullings[0].offsetSdOhm).toBeLessThan(nullings[0].offsetPriorSdOhm / 2)
  })

  it('over range between parts that soil joins is a fallen clip before it is a joint', () => {
    const answer = locateIn(
      withReadings(
        rowSite(),
        star((row, table) => (row === 2 && table === 3 ? null : undefined)),
      ),
    )
    expect(answer.headline).toBe('nothingBroken')
    expect(readingOf(answer, 6).verdict).toBe('overRange')
    expect(readingOf(answer, 6).poorContactProbability).toBeGreaterThan(0.9)
  })

  it('a reading far below what the network can read is called too low', () => {
    const taken = [
      { from: 'R1/T1/L1.3', to: 'R2/T6/L1.3', ohm: 0.03 },
      { from: 'R1/T2/L1.3', to: 'R2/T6/L1.3', ohm: 0.03 },
      { from: 'R1/T3/L1.3', to: 'R2/T6/L1.3', ohm: 0.03 },
    ]
    const far = rowSite((d) => ({
      ...d,
      conductors: d.conductors.map((c) => ({ ...c, areaMm2: 0.5, lengthM: 60 })),
    }))
    const right = taken.map((t) => ({ ...t, ohm: 0.72 }))
    expect(locateIn(withReadings(far, right)).readings.map((r) => r.verdict)).toEqual(Array(3).fill('inLine'))
    const oneLow = locateIn(withReadings(far, [right[0], right[1], taken[2]]))
    expect(oneLow.readings[2].verdict).toBe('tooLow')
    expect(oneLow.headline).toBe('nothingBroken')
  })
})

describe('what readings cannot tell', () => {
  it('joints that every reading crosses together are one group', () => {
    // nothing is clamped on table 2, so that the jumpers on both sides of it are always in series
    const taken = star((row, table) => (row === 1 && table >= 3 ? 2.4 : undefined)).filter(
      (t) => t.to !== 'R1/T2/L1.3',
    )
    const answer = locateIn(withReadings(rowSite(), taken))
    const names = answer.groups[0].joints.map((j) => j.joint)
    expect(names).toContain('R1/T1+T2~1')
    expect(names).toContain('R1/T2+T3~1')
    expect(answer.groups[0].probability).toBeGreaterThan(0.9)
    for (const joint of answer.groups[0].joints) expect(joint.probability).toBeLessThan(0.7)
  })

  it('a clamp with good paths beside it cannot be seen by kit A, and kit B sees more', () => {
    const taken = star(() => undefined)
    const withA = locateIn(withReadings(rowSite(), taken)).coverage
    const clamp = withA.examples.find((example) => example.kind === 'frameClamp')
    expect(clamp?.openOhm).toBeLessThan(0.01)
    expect(withA.seen + withA.notReached + withA.cannotBeSeen).toBe(withA.joints)
    const fine = taken.map((t): Taken => ({ ...t, kit: 'b', ohm: (t.ohm ?? 0) / 2 }))
    const withB = locateIn(withReadings(rowSite(), fine)).coverage
    expect(withB.cannotBeSeen).toBeLessThan(withA.cannotBeSeen)
    expect(withB.seen).toBeGreaterThanOrEqual(withA.seen)
  })

  it('parts joined only through soil have no metal path, whatever they read', () => {
    const site = rowSite((d) => ({
      ...d,
      rows: d.rows.map((row) => (row.id === 1 ? { ...row, links: { ...row.links, count: 0 } } : row)),
    }))
    const answer = locateIn(withReadings(site, [{ from: 'R1/T1/L1.3', to: 'R1/T4/L1.3', ohm: 0.03 }]))
    expect(answer.readings[0].path).toBe('soilOnly')
    expect(answer.readings[0].verdict).toBe('noMetalPath')
  })
})

describe('the record', () => {
  const identity = (n: number, minute: number) => ({
    id: uuid(n),
    device: uuid(3),
    counter: n,
    at: new Date(Date.UTC(2031, 4, 4, 9, minute)).toISOString(),
    visit: uuid(10),
  })
  const high = star((row, table) => (row === 1 && table >= 4 ? 2.4 : undefined))

  it('withdrawn readings are set aside', () => {
    const withdrawals = [2, 3, 4].map((n): EntryOf<'withdrawal'> => ({
      ...identity(300 + n, n),
      entry: 'withdrawal',
      of: uuid(100 + n),
      reason: 'wrong table',
    }))
    const answer = locateIn(withReadings(rowSite(), high, withdrawals))
    expect(answer.headline).toBe('nothingBroken')
    expect(readingOf(answer, 3)).toMatchObject({ verdict: 'setAside', setAside: 'withdrawn' })
  })

  it('corrections count in place of what was first written', () => {
    const corrections = [2, 3, 4].map((n): EntryOf<'correction'> => ({
      ...identity(300 + n, n),
      entry: 'correction',
      of: uuid(100 + n),
      result: { form: 'ohm', ohm: 0.024 },
      from: null,
      to: null,
      reason: 'milliohms',
    }))
    expect(locateIn(withReadings(rowSite(), high, corrections)).headline).toBe('nothingBroken')
  })

  const repairOf = (done: EntryOf<'repair'>['done']): EntryOf<'repair'> => ({
    ...identity(400, 0),
    entry: 'repair',
    joint: 'R1/T3+T4~1',
    done,
    torqueSetNm: null,
    coating: 'notTouched',
    photos: [],
    by: 'electrician',
    note: '',
  })

  it('readings from before a repair no longer speak of the joint', () => {
    const answer = locateIn(withReadings(rowSite(), high, [repairOf('replaced')]))
    expect(answer.headline).toBe('nothingBroken')
    expect([2, 3, 4].map((n) => readingOf(answer, n).setAside)).toEqual(Array(3).fill('beforeRepair'))
    expect(readingOf(answer, 0).setAside).toBeNull()
  })

  it('readings from before a temporary bond go on speaking of the joint', () => {
    const answer = locateIn(withReadings(rowSite(), high, [repairOf('temporaryBond')]))
    expect([2, 3, 4].map((n) => readingOf(answer, n).setAside)).toEqual(Array(3).fill(null))
    expect(answer.groups[0].joints[0].joint).toBe('R1/T3+T4~1')
  })

  it('without any reading there is nothing to say', () => {
    const answer = locateIn(rowSite())
    expect(answer.headline).toBe('noReadings')
    expect(answer.groups).toEqual([])
    expect(answer.coverage.notReached).toBe(answer.coverage.joints)
  })

  it('readings between parts that are not drawn are set aside', () => {
    const answer = locateIn(
      withReadings(rowSite(), [...high, { from: 'R1/T1/L1.3', to: 'R7/T1/L1.1', ohm: 0.02 }]),
    )
    expect(readingOf(answer, 10).setAside).toBe('noSuchPart')
    expect(answer.groups[0].joints[0].joint).toBe('R1/T3+T4~1')
  })
})

describe('a raised joint under a sharp instrument', () => {
  it('is told from an open one, and its ohms are narrowed to a few per cent', () => {
    const site = rowSite()
    const prepared = prepare(site)
    const node = (text: string) => partOf(prepared, text)
    const taken = starOfRows(() => 0).map((t): Taken => {
      const sound = pairResistance(prepared.solver.factor, node(t.from), node(t.to))
      const crosses = t.to.startsWith('R1/') && Number(t.to.slice(4, 5)) >= 4
      return { ...t, kit: 'b', ohm: Math.round((sound + (crosses ? 0.02 : 0)) * 1e4) / 1e4 }
    })
    const [first] = locateIn(withReadings(site, taken)).groups
    expect(first.joints[0].joint).toBe('R1/T3+T4~1')
    expect(first.openProbability).toBeLessThan(0.01)
    expect(first.addedOhm?.low).toBeGreaterThan(0.018)
    expect(first.addedOhm?.middle).toBeCloseTo(0.02, 2)
    expect(first.addedOhm?.high).toBeLessThan(0.022)
  })
})
