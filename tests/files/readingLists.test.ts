import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { wholly } from '../../src/base/portion.ts'
import { randomStream } from '../../src/base/random.ts'
import { decodeText } from '../../src/files/decodeText.ts'
import { wholeText } from '../../src/files/exportPiece.ts'
import { openSite } from '../../src/files/openSite.ts'
import { EndMatcher } from '../../src/files/readings/matchEnds.ts'
import { planReadings, type ReadingPlan } from '../../src/files/readings/planReadings.ts'
import {
  guessReadingChoices,
  type ReadingChoices,
  type ReadingTarget,
} from '../../src/files/readings/readingChoices.ts'
import { guessReadingColumns, unitOfHeading } from '../../src/files/readings/readingColumns.ts'
import { clearMarks, guessMarks, readOhms, unitIn } from '../../src/files/readings/readOhms.ts'
import { guessOrder, readInstant } from '../../src/files/readings/readTimes.ts'
import { writeReadings } from '../../src/files/readings/writeReadings.ts'
import { readCells } from '../../src/files/tables/readCells.ts'
import { partAddressAt } from '../../src/layout/partIndex.ts'
import { indexSite } from '../../src/layout/siteIndex.ts'
import { writePartAddress } from '../../src/model/address.ts'
import { appendEntries } from '../../src/model/record/appendEntries.ts'
import { effectiveRecord } from '../../src/model/record/effectiveRecord.ts'
import type { Entry, EntryOf } from '../../src/model/schema/record.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { latestVisit } from '../../src/state/entries.ts'
import { listEntries, listWithdrawals, recordedLists } from '../../src/state/listEntries.ts'
import { namePart } from '../../src/text/partNames.ts'
import { openNameBook } from '../../src/text/places.ts'
import { problemLine } from '../../src/text/problems.ts'
import { deepFreeze } from '../model/deepFreeze.ts'
import { exampleReading, exampleSite, uuid } from '../model/exampleSite.ts'

const site = deepFreeze(exampleSite())
const zoneOf = () => 120
const nowMs = Date.parse('2031-06-01T12:00:00Z')

function demo(name: string): Site {
  const opened = openSite(readFileSync(`demo-data/${name}.json`), `${name}.json`)
  if (!opened.ok) throw new Error(problemLine(opened.error[0]))
  return opened.value
}

function indexOf(of: Site) {
  const index = indexSite(of.drawing)
  if (!index.ok) throw new Error('no index')
  return index.value
}

function targetOf(of: Site): ReadingTarget {
  const visit = latestVisit(of)!
  return { visit, kits: visit.kits, leads: visit.leads }
}

function planOf(text: string, changes: Partial<ReadingChoices> = {}, of = site, target = targetOf(of)) {
  const cells = wholly(readCells(text))
  if (!cells.ok) throw new Error(problemLine(cells.error))
  const choices = { ...guessReadingChoices(cells.value, target), ...changes }
  const input = { cells: cells.value, choices, target, index: indexOf(of), record: of.record, zoneOf, nowMs }
  return wholly(planReadings(input))
}

const why = ({ rejected }: ReadingPlan) =>
  rejected.map(({ line, problems }) => `${line.number}: ${problemLine(problems[0])}`)

function identity(first: number) {
  let next = first
  return { newId: () => uuid(next++), now: () => '2031-06-01T12:00:00Z', device: uuid(99) }
}

function recorded(of: Site, plan: ReadingPlan, list = 'list.csv', target = targetOf(of), first = 5000): Site {
  const entries = listEntries(of, identity(first), { readings: plan.readings, target, list, leftOut: null })
  const added = appendEntries(entries)(of)
  if (!added.ok) throw new Error(problemLine(added.error))
  return added.value
}

describe('headings', () => {
  it('say what a column is, and its unit', () => {
    const columns = guessReadingColumns(['From', 'To', 'R [mΩ]', 'Taken', 'Comment', 'Test current (A)'])
    expect(columns).toMatchObject({ from: 0, to: 1, value: 2, time: 3, note: 4, testCurrent: 5 })
    expect(guessReadingColumns(['a', 'b', 'milliohms'])).toMatchObject({ from: 0, to: 1, value: 2 })
    expect(guessReadingColumns(['__proto__', 'constructor', 'from', 'from'])).toMatchObject({
      from: 2,
      to: -1,
    })
  })

  it.each([
    ['ohms', 'Ω'],
    ['R (mΩ)', 'mΩ'],
    ['Resistance [mOhm]', 'mΩ'],
    ['milli-ohms', 'mΩ'],
    ['MΩ', 'MΩ'],
    ['value kohm', 'kΩ'],
    ['READING MOHM', 'unclear'],
    ['resistance', null],
    ['r', null],
  ])('%s is in %s', (heading, unit) => {
    expect(unitOfHeading(heading)).toBe(unit)
  })
})

describe('ohms of a cell', () => {
  const ohm = (value: number) => ({ form: 'ohm', ohm: value })
  const over = (value: number) => ({ form: 'over', atLeastOhm: value })
  it.each([
    ['0.031', 'point', 'Ω', ohm(0.031)],
    ['31', 'point', 'mΩ', ohm(0.031)],
    ['31 mΩ', null, null, ohm(0.031)],
    ['31m', null, 'Ω', ohm(0.031)],
    ['0,5 Ohm', null, null, ohm(0.5)],
    ['1,234.5', null, 'Ω', ohm(1234.5)],
    ['1.234,5', null, 'Ω', ohm(1234.5)],
    ['1,234', 'pointThousands', 'Ω', ohm(1234)],
    ['1,234', 'comma', 'Ω', ohm(1.234)],
    ['1 234,5', 'comma', 'Ω', ohm(1234.5)],
    ['1.2e-3', 'point', 'Ω', ohm(0.0012)],
    ['2 kΩ', 'point', 'mΩ', ohm(2000)],
    ['2 MOhm', 'point', 'mΩ', ohm(2e6)],
    ['-0', 'point', 'Ω', ohm(0)],
    ['OL', null, null, over(200)],
    ['O.L', null, null, over(200)],
    ['over range', null, null, over(200)],
    ['>20', 'point', 'Ω', over(20)],
    ['> 500 mΩ', 'point', 'Ω', over(0.5)],
  ] as const)('%s with %s and %s', (cell, marks, unit, value) => {
    expect(readOhms(cell, { marks, unit }, 200)).toEqual({ ok: true, value })
  })

  it.each([
    ['0.5', 'point', null, 'a unit'],
    ['1,234', null, 'Ω', 'marks are clear'],
    ['1,234', 'point', 'Ω', 'point before decimals'],
    ['1.234', null, 'Ω', 'marks are clear'],
    ['-0.01', 'point', 'Ω', 'no less than zero'],
    ['NaN', 'point', 'Ω', 'ohms such as'],
    ['1e400', 'point', 'Ω', 'at most 1000 MΩ'],
    ['1e300', 'point', 'Ω', 'at most 1000 MΩ'],
    ['0x10', 'point', 'Ω', 'ohms such as'],
    ['=1+1', 'point', 'Ω', 'ohms such as'],
    ['12 V', 'point', 'Ω', 'Ω, mΩ'],
    ['5 MOHM', 'point', null, 'milliohms or Mohm'],
    ['<0.01', 'point', 'Ω', 'less than'],
    ['1.2.3', 'point', 'Ω', 'a number'],
    ['12,34,567.8', 'point', 'Ω', 'a number'],
    ['>0', 'point', 'Ω', 'more than zero'],
  ] as const)('%s with %s and %s is refused', (cell, marks, unit, expected) => {
    const read = readOhms(cell, { marks, unit }, 200)
    expect(!read.ok && read.error.expected).toContain(expected)
  })

  it('show their marks only where they can mean one thing', () => {
    expect(['0,030', '12,5', '1,234', '1.234,5', '1,234,567', '7'].map(clearMarks)).toEqual([
      'comma',
      'comma',
      null,
      'comma',
      'pointThousands',
      null,
    ])
    expect(guessMarks(['0,03', '1,234'])).toBe('comma')
    expect(guessMarks(['1,234', '2,500'])).toBeNull()
    expect(guessMarks(['0,03', '0.03'])).toBeNull()
    expect(guessMarks(['1', 'OL', ''])).toBe('point')
    expect(['mohm', 'MOhm', 'megohm', 'µΩ', 'μΩ', '\u2126', 'R', 'r', 'for'].map(unitIn)).toEqual([
      'mΩ',
      'MΩ',
      'MΩ',
      'µΩ',
      'µΩ',
      'Ω',
      'Ω',
      null,
      null,
    ])
  })
})

describe('times', () => {
  const at = (date: string, time = '', order: 'dayFirst' | 'monthFirst' | null = null) => {
    const read = readInstant(date, time, order, zoneOf)
    return read.ok ? read.value : read.error.expected
  }
  it('are read with the zone that they name, else with that of the device', () => {
    expect(at('2031-05-12T08:05:30Z')).toBe('2031-05-12T08:05:30Z')
    expect(at('2031-05-12 08:05:30.25 +0530')).toBe('2031-05-12T08:05:30.250+05:30')
    expect(at('2031-05-12', '8:05 pm')).toBe('2031-05-12T20:05:00+02:00')
    expect(at('2031-05-12')).toBe('2031-05-12T12:00:00+02:00')
    expect(at('12/05/2031 08:05', '', 'dayFirst')).toBe('2031-05-12T08:05:00+02:00')
    expect(at('12/05/2031 08:05', '', 'monthFirst')).toBe('2031-12-05T08:05:00+02:00')
    expect(at('05.05.2031 08:05')).toBe('2031-05-05T08:05:00+02:00')
  })

  it('are refused where order, day or clock are not clear', () => {
    expect(at('12/05/2031')).toContain('order is clear')
    expect(at('31/02/2031', '', 'dayFirst')).toContain('day of the calendar')
    expect(at('2031-05-12', '25:00')).toContain('a time')
    expect(at('12.5.31', '', 'dayFirst')).toContain('four digits')
    expect(at('', '08:05')).toContain('a day')
    expect([guessOrder(['1/2/2031', '13/2/2031']), guessOrder(['1/13/2031'])]).toEqual([
      'dayFirst',
      'monthFirst',
    ])
    expect([guessOrder(['1/2/2031']), guessOrder(['1/13/2031', '13/1/2031'])]).toEqual([null, null])
  })
})

describe('ends', () => {
  it.each(['roof', 'field', 'tracker'])(
    'of the %s demo are found by the names that the program shows (seeded)',
    (name) => {
      const of = demo(name)
      const index = indexOf(of)
      const book = openNameBook(of.drawing)
      const matcher = new EndMatcher(index, 'either')
      const random = randomStream(7)
      for (let k = 0; k < 60; k++) {
        const address = writePartAddress(partAddressAt(index, random.integer(index.partCount - 1)))
        if (address === 'earth') continue
        expect([address, matcher.part(address)]).toEqual([address, { ok: true, address }])
        const byName = matcher.part(namePart(book, address))
        if (byName.ok) expect(byName.address).toBe(address)
        else expect([namePart(book, address), byName.why]).toEqual([namePart(book, address), 'ambiguous'])
      }
    },
  )

  it('are found by painted labels, whatever capitals, zeros and order', () => {
    const matcher = new EndMatcher(indexOf(demo('field')), 'either')
    for (const text of [
      'frame 1.2, table 4-06, Row 4',
      '4-6 frame 1.2',
      'R04/t6/f1.02',
      'FRAME 1.2 table 4-06',
    ]) {
      expect([text, matcher.part(text)]).toEqual([text, { ok: true, address: 'R4/T6/F1.2' }])
    }
  })

  it('that are not there or may be several are refused with what comes nearest', () => {
    const matcher = new EndMatcher(indexOf(demo('field')), 'either')
    expect(matcher.part('R4/T6/F9.2')).toMatchObject({ ok: false, why: 'unknown' })
    expect(matcher.part('table 4-06')).toMatchObject({ ok: false })
    expect(matcher.part('frame 1.2')).toMatchObject({ ok: false })
    expect(matcher.part('nowhere at all')).toMatchObject({ ok: false, why: 'unknown' })
  })

  it('that are the address of one thing and the label of another are not clear', () => {
    const [first, ...rest] = site.drawing.rows
    const painted: Site = {
      ...site,
      drawing: {
        ...site.drawing,
        rows: [{ ...first, label: 'R2' }, { ...rest[0], label: 'R1' }, ...rest.slice(1)],
      },
    }
    const text = 'R1/T1/F1.1'
    expect(new EndMatcher(indexOf(painted), 'either').part(text)).toMatchObject({ why: 'ambiguous' })
    expect(new EndMatcher(indexOf(painted), 'addresses').part(text)).toEqual({ ok: true, address: text })
  })
})

const head = 'from,to,ohm\n'
const good = `${head}B1,R1/T1/F1.1,0.031\nB1,R1/T1/F1.2,0.044\n`

describe('a list of readings', () => {
  it('becomes readings of the visit, with instrument, lead and where they come from', () => {
    const after = recorded(site, planOf(good))
    const [one, other] = after.record.slice(-2) as EntryOf<'reading'>[]
    expect(one).toMatchObject({
      ...{ entry: 'reading', visit: uuid(100), kit: 'two-wire', lead: 'long', method: 'twoWire' },
      ...{ result: { form: 'ohm', ohm: 0.031 }, note: 'from list “list.csv” line 2', device: uuid(99) },
      from: { part: 'B1', spot: 'unknown' },
    })
    expect([one.counter, other.counter, one.at]).toEqual([0, 1, '2031-06-01T12:00:00Z'])
  })

  it('says of every rejected line its number, its cell and why', () => {
    const text = `${head}B1,R1/T1/F1.1,0.03\nB1,R1/T9/F1.1,0.03\nB1,B1,1\n,R1/T1/F1.1,1\nB1,R1/T1/F1.2,-1\nB1,R1/T1/F1.2,\nearth,B1,2\n`
    const plan = planOf(text)
    expect(plan.readings.map(({ line }) => line)).toEqual([2])
    const reasons = why(plan)
    expect(reasons.map((reason) => reason.split(':')[0])).toEqual(['3', '4', '5', '6', '7', '8'])
    expect(reasons[0]).toContain('to, line 3: Expected a part of this drawing; found “R1/T9/F1.1”')
    expect(reasons[2]).toContain('from, line 5')
    expect(reasons[3]).toMatch(/ohm, line 6.*no less than zero ohms; found “-1”/)
    expect(reasons[4]).toContain('A value is missing')
  })

  it('in which every number may mean two things is rejected until somebody says which', () => {
    const text = 'from;to;ohm\nB1;R1/T1/F1.1;1,234\nB1;R1/T1/F1.2;2,500\n'
    expect(planOf(text).readings).toEqual([])
    expect(planOf(text, { marks: 'comma' }).readings[0].result).toEqual({ form: 'ohm', ohm: 1.234 })
    expect(planOf(text, { marks: 'pointThousands' }).readings[0].result).toEqual({ form: 'ohm', ohm: 1234 })
  })

  it('without a unit is rejected until somebody says it', () => {
    const text = 'from,to,value\nB1,R1/T1/F1.1,31\n'
    expect(planOf(text).readings).toEqual([])
    expect(planOf(text, { unit: 'mΩ' }).readings[0].result).toEqual({ form: 'ohm', ohm: 0.031 })
  })

  it('without headings keeps its first reading', () => {
    const plan = planOf('B1\tR1/T1/F1.1\t31 mΩ\nB1\tR1/T1/F1.2\t44 mΩ\n')
    expect(plan.readings.map(({ line, result }) => [line, result])).toEqual([
      [1, { form: 'ohm', ohm: 0.031 }],
      [2, { form: 'ohm', ohm: 0.044 }],
    ])
  })

  it('tells a reading that is there already from one that was read again', () => {
    const timed =
      'from,to,ohm,time\nB1,R1/T1/F1.1,0.031,2031-05-12 08:00\nR1/T1/F1.1,B1,0.031,2031-05-12 08:00\nB1,R1/T1/F1.1,0.031,2031-05-12 08:01\n'
    const plan = planOf(timed)
    expect([plan.readings.length, plan.same.map(({ number }) => number)]).toEqual([2, [3]])
    const again = planOf(timed, {}, recorded(site, plan))
    expect([again.readings.length, again.same.length]).toEqual([0, 3])
    const plain = `${good}B1,R1/T1/F1.1,0.031\n`
    expect(planOf(plain).same.map(({ number }) => number)).toEqual([4])
    expect(planOf(plain, { alike: 'repeat' }).readings).toHaveLength(3)
    const marked = 'from,to,ohm,repeat\nB1,R1/T1/F1.1,0.031,\nB1,R1/T1/F1.1,0.031,yes\n'
    const record = recorded(site, planOf(marked)).record.slice(-2) as EntryOf<'reading'>[]
    expect(record[1].repeats).toBe(record[0].id)
  })

  it('tells of nulled leads, and refuses what the record cannot say', () => {
    const text = 'from,to,ohm,nulled\nB1,R1/T1/F1.1,0.031,no\nB1,R1/T1/F1.2,0.04,yes\nB1,R1/T2/F1.2,0.05,no\n'
    const target = { visit: null, kits: targetOf(site).kits, leads: targetOf(site).leads }
    const plan = planOf(text, {}, site, target)
    expect(why(plan)[0]).toContain('the leads were nulled before')
    const sorts = listEntries(site, identity(1), {
      readings: plan.readings,
      target,
      list: 'x',
      leftOut: ['4: x'],
      party: ['A. Rowan'],
    })
    expect(sorts[0]).toMatchObject({ party: ['A. Rowan'] })
    expect(sorts.map(({ entry }) => entry)).toEqual(['visit', 'reading', 'nulling', 'reading', 'note'])
    expect(appendEntries(sorts)(site).ok).toBe(true)
  })

  it('can be withdrawn as a whole, and its readings are not the same any more', () => {
    const after = recorded(site, planOf(good))
    const [list] = recordedLists(after.record)
    expect([list.list, list.counted.length, list.withdrawn]).toEqual(['list.csv', 2, 0])
    const withdrawn = appendEntries(listWithdrawals(after, identity(9000), list))(after)
    if (!withdrawn.ok) throw new Error(problemLine(withdrawn.error))
    expect(recordedLists(withdrawn.value.record)[0]).toMatchObject({ counted: [], withdrawn: 2 })
    expect(planOf(good, {}, withdrawn.value).readings).toHaveLength(2)
  })
})

describe('hostile lists', () => {
  it('keep formulas and markup as text, and refuse no good reading for them', () => {
    const text = 'from,to,ohm,note\nB1,R1/T1/F1.1,0.03,"=HYPERLINK(""x"")"\nB1,R1/T1/F1.2,0.03,<img src=x>\n'
    const notes = planOf(text).readings.map(({ note }) => note)
    expect(notes).toEqual(['=HYPERLINK("x")', '<img src=x>'])
    const csv = wholeText(
      writeReadings(recorded(site, planOf(text)), { only: null, said: new Map(), hasMark: true }),
    )
    expect(csv).toContain(`"'=HYPERLINK(""x"")`)
    expect(csv.startsWith('\ufeffnumber,time,')).toBe(true)
  })

  it('with a quotation mark that is never closed lose nothing unseen', () => {
    const plan = planOf(`${head}B1,R1/T1/F1.1,0.03\n"B1,R1/T1/F1.2,0.03\nB1,R1/T2/F1.2,0.04\n`)
    expect(plan.readings).toHaveLength(1)
    expect(why(plan)[0]).toContain('quotation mark')
  })

  it('with a million cells in a line, or no text, are refused', () => {
    const wide = wholly(readCells(`x${',x'.repeat(1_000_000)}`))
    expect(!wide.ok && wide.error).toMatchObject({ code: 'size.tooMany' })
    expect(decodeText(new Uint8Array([65, 0, 66]))).toMatchObject({ error: { code: 'file.notTable' } })
  })

  it('with any line end and a mark at the head are the same', () => {
    for (const end of ['\n', '\r', '\r\n']) {
      expect(planOf(`\ufeff${good.replaceAll('\n', end)}`).readings.map(({ line }) => line)).toEqual([2, 3])
    }
  })
})

type Compared = Partial<EntryOf<'reading'>>
function compared(record: readonly Entry[], from = 0): Compared[] {
  return effectiveRecord(record).flatMap(({ entry, withdrawnBy }) => {
    if (entry.entry !== 'reading' || withdrawnBy || record.findIndex(({ id }) => id === entry.id) < from)
      return []
    const { method, kit, lead, around, result, reverseOhm, unsteady, testCurrentA, metalC } = entry
    const { trackerDeg, spikesM, at, note } = entry
    const ends = { from: entry.from, to: method === 'earthElectrode' ? undefined : entry.to }
    return [
      {
        ...{
          method,
          kit,
          lead,
          around,
          result,
          reverseOhm,
          unsteady,
          testCurrentA,
          metalC,
          trackerDeg,
          spikesM,
        },
        ...{ at, ...ends, note: note.replace(/(; |^)from list .*$/, '') },
      },
    ]
  })
}

describe('an exported list', () => {
  const write = (of: Site) => wholeText(writeReadings(of, { only: null, said: new Map(), hasMark: false }))
  const without = (of: Site): Site => ({
    ...of,
    record: of.record.filter(({ entry }) => entry === 'visit' || entry === 'amendment'),
  })

  it.each(['roof', 'field', 'tracker'])(
    'of the %s demo is the same readings again, and the same on its own site',
    (name) => {
      const of = demo(name)
      const csv = write(of)
      const there = planOf(csv, {}, of)
      expect([why(there), there.readings.length]).toEqual([[], 0])
      expect(there.same.length).toBe(compared(of.record).length)
      const bare = without(of)
      const plan = planOf(csv, {}, bare)
      expect(why(plan)).toEqual([])
      const after = recorded(bare, plan)
      expect(compared(after.record)).toEqual(compared(of.record))
      const nullings = (record: readonly Entry[]) => record.filter(({ entry }) => entry === 'nulling').length
      expect(nullings(after.record) > 0).toBe(nullings(of.record) > 0)
    },
  )

  it('of any readings comes back whole (seeded)', () => {
    const random = randomStream(41)
    const parts = ['B1', 'R1/T1/F1.1', 'R1/T1/F1.2', 'R1/T2/F1.1', 'E1', 'R1/T2/F1.2']
    const texts = [
      '',
      '=1+1',
      "'=x",
      '-5',
      '@a',
      'a "b", c',
      'two\nlines',
      'ω; x',
      '\u200eturned',
      '<b>',
      "'",
      '+',
    ]
    for (let trial = 0; trial < 40; trial++) {
      const readings = Array.from({ length: 1 + random.integer(12) }, (_, k): EntryOf<'reading'> => {
        const from = random.integer(parts.length)
        const to = (from + 1 + random.integer(parts.length - 1)) % parts.length
        const ohm = Number(
          (random.uniform() * 10 ** (random.integer(9) - 5)).toPrecision(1 + random.integer(9)),
        )
        const base = exampleReading(200 + k, parts[from], parts[to], ohm)
        return {
          ...base,
          at: new Date(
            Date.parse('2031-05-04T09:00:00Z') + 1000 * (k * 61 + random.integer(60)),
          ).toISOString(),
          result: random.integer(5) === 0 ? { form: 'over', atLeastOhm: 200 } : base.result,
          reverseOhm: random.integer(2) === 0 ? null : ohm * 1.1,
          unsteady: random.integer(3) > 0 ? null : { leastOhm: ohm, mostOhm: ohm * 2 },
          metalC: random.integer(2) === 0 ? null : -20 + random.integer(80),
          note: texts[random.integer(texts.length)].replace('\u200e', ''),
        }
      })
      const bare = without(site)
      const full = appendEntries(readings)(bare)
      if (!full.ok) throw new Error(problemLine(full.error))
      const csv = write(full.value)
      const same = planOf(csv, {}, full.value)
      expect([why(same), same.readings.length, same.same.length]).toEqual([[], 0, readings.length])
      const plan = planOf(csv, {}, bare)
      expect(why(plan)).toEqual([])
      expect(compared(recorded(bare, plan).record)).toEqual(compared(full.value.record))
    }
  })

  it('marks what was withdrawn and corrected', () => {
    const stamp = { device: uuid(90), at: '2031-05-04T10:00:00Z', visit: uuid(100) }
    const one = exampleReading(40, 'B1', 'R1/T1/F1.1', 0.2)
    const other = exampleReading(41, 'B1', 'R1/T1/F1.2', 0.3)
    const added = appendEntries([
      one,
      other,
      { ...stamp, id: uuid(700), counter: 700, entry: 'withdrawal', of: one.id, reason: 'Clip slipped' },
      ...([
        {
          ...stamp,
          id: uuid(701),
          counter: 701,
          entry: 'correction',
          of: other.id,
          result: { form: 'ohm', ohm: 0.33 },
          from: null,
          to: null,
          reason: 'Typed wrongly',
        },
      ] as const),
    ])(without(site))
    if (!added.ok) throw new Error(problemLine(added.error))
    const cells = wholly(readCells(write(added.value)))
    if (!cells.ok) throw new Error(problemLine(cells.error))
    const { header } = cells.value
    const [first, second] = cells.value.lines.map((line) => line.cells)
    const cell = (line: readonly string[], head: string) => line[header.indexOf(head)]
    expect([cell(first, 'withdrawn'), cell(first, 'why withdrawn')]).toEqual(['yes', 'Clip slipped'])
    expect([cell(second, 'read (ohm)'), cell(second, 'corrected from (ohm)')]).toEqual(['0.33', '0.3'])
    expect(planOf(write(added.value), {}, added.value)).toMatchObject({ readings: [], rejected: [] })
  })
})
