import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { openSite } from '../../src/files/openSite.ts'
import { jointAddressAt } from '../../src/layout/jointIndex.ts'
import { partAddressAt } from '../../src/layout/partIndex.ts'
import { indexSite } from '../../src/layout/siteIndex.ts'
import { writeJointAddress, writePartAddress } from '../../src/model/address.ts'
import { countedEntries } from '../../src/model/record/effectiveRecord.ts'
import type { Drawing } from '../../src/model/schema/drawing.ts'
import type { FoundPlace } from '../../src/text/findCatch.ts'
import { findableItems } from '../../src/text/findItems.ts'
import { PlaceFinder } from '../../src/text/findPlaces.ts'
import { nameJoint } from '../../src/text/jointNames.ts'
import { namePart } from '../../src/text/partNames.ts'
import { openNameBook } from '../../src/text/places.ts'
import { anyDrawing } from '../layout/anyDrawing.ts'
import { drawingOf, indexOf, rowOf, typeOf } from '../layout/smallDrawings.ts'

function finderOf(drawing: Drawing, readings: readonly string[] = []): PlaceFinder {
  const numbered = readings.map((entry, k) => ({ number: k + 1, entry }))
  return new PlaceFinder(indexOf(drawing), openNameBook(drawing), () => numbered)
}

function demo(file: string) {
  const opened = openSite(readFileSync(`demo-data/${file}`), file)
  if (!opened.ok) throw new Error(`${file} does not open`)
  const { drawing, record } = opened.value
  const indexed = indexSite(drawing)
  if (!indexed.ok) throw new Error(`${file} cannot be indexed`)
  const readings = countedEntries(record, 'reading').map(({ id }, k) => ({ number: k + 1, entry: id }))
  const book = openNameBook(drawing)
  return { drawing, book, index: indexed.value, finder: new PlaceFinder(indexed.value, book, () => readings) }
}

const field = demo('field.json')
const roof = demo('roof.json')

function written(place: FoundPlace | undefined): string {
  switch (place?.kind) {
    case 'row':
      return `R${place.row}`
    case 'table':
      return `R${place.row}/T${place.table}`
    case 'reading':
      return `reading ${place.number}`
    default:
      return place?.address ?? 'nothing'
  }
}

const first = (typed: string, finder = field.finder) => written(finder.find(typed).places[0])

describe('making what is looked through', () => {
  const tracker = demo('tracker.json')
  const fresh = () => new PlaceFinder(tracker.index, tracker.book)
  const typed = ['4-06', 'frame 1.2', 'row 4', 'inverter', 'lug', 'R4/T6/F1.2', 'jumper']

  it('pauses on the way, after few names each time', () => {
    const { index, book } = tracker
    const finder = fresh()
    const labels = index.drawing.rows.reduce((sum, row) => sum + 1 + Object.keys(row.tableLabels).length, 0)
    const names = index.patterns.reduce((sum, type) => sum + (type ? type.partCount + type.jointCount : 0), 0)
    let pauses = 0
    for (const job = finder.prepare(); !job.next().done;) pauses++
    expect(pauses).toBeGreaterThan(labels / 300 + findableItems(index, book).length / 100 + names / 50)
    // what is there is not made again
    pauses = 0
    for (const job = finder.prepare(); !job.next().done;) pauses++
    expect(pauses).toBe(1)
  })

  it('changes nothing that is found, before, within or after it', () => {
    const expected = typed.map((text) => fresh().find(text))
    const finder = fresh()
    const job = finder.prepare()
    for (let k = 0; !job.next().done; k++) {
      const which = k % typed.length
      if (k % 5 === 0) expect(finder.find(typed[which])).toEqual(expected[which])
    }
    expect(typed.map((text) => finder.find(text))).toEqual(expected)
    expect(expected.every(({ places }) => places.length > 0)).toBe(true)
  })
})

describe('finding in the field demo', () => {
  it.each([
    ['4-06', 'R4/T6'],
    ['4-6', 'R4/T6'],
    ['4 6', 'R4/T6'],
    [' 4 - 06 ', 'R4/T6'],
    ['table 4-06', 'R4/T6'],
    ['row 4 table 6', 'R4/T6'],
    ['Table 4-6, Row 4', 'R4/T6'],
    ['r4/t6', 'R4/T6'],
    ['row 4', 'R4'],
    ['ROW4', 'R4'],
    ['4', 'R4'],
    ['R4/T6/F1.2', 'R4/T6/F1.2'],
    ['r04 / t06 / f1.02', 'R4/T6/F1.2'],
    ['r4 t6 f1.2', 'R4/T6/F1.2'],
    ['4-06 frame 1.2', 'R4/T6/F1.2'],
    ['frame 1.2 4-6', 'R4/T6/F1.2'],
    ['frame 1.2, table 4-06, row 4', 'R4/T6/F1.2'],
    ['Row 4, table 4-06: frame 1.2', 'R4/T6/F1.2'],
    ['rail 3 between modules 4 and 5, 4-06', 'R4/T6/L3.5'],
    ['rail 3 at its end table 4-06', 'R4/T6/L3.11'],
    ['jumper between table 4-06 and table 4-07 of row 4', 'R4/T6+T7~1'],
    ['jumper 4-01', 'R4/T1+T2~1'],
    ['r4/t6+t7~1', 'R4/T6+T7~1'],
    ['inverter 1', 'E1'],
    ['inv', 'E1'],
    ['main earth bar', 'B1'],
    ['main ground bar', 'B1'],
    ['b1', 'B1'],
    ['south rod', 'G1'],
    ['rod north', 'G2'],
    ['c1.5', 'C1.5'],
    ['inverter to bar', 'C2.1'],
    ['reading 12', 'reading 12'],
    ['READING 03', 'reading 3'],
    ['read', 'reading 1'],
  ])('%j leads to %s', (typed, expected) => {
    expect(first(typed)).toBe(expected)
  })

  it('tells how many more there are', () => {
    const tables = field.finder.find('table')
    expect(tables.places).toHaveLength(8)
    expect(tables.places.every(({ kind }) => kind === 'table')).toBe(true)
    const { index, book } = field
    const others = [
      ...stretch(index.enclosureStart, index.partCount).map((part) =>
        namePart(book, writePartAddress(partAddressAt(index, part))),
      ),
      ...stretch(index.conductorJointStart, index.jointCount).map((joint) =>
        nameJoint(book, writeJointAddress(jointAddressAt(index, joint))),
      ),
    ].filter((name) => name.includes('table'))
    expect(tables.further).toBe(48 - 8 + others.length)
    const frames = field.finder.find('frame')
    expect(frames.places.length + frames.further).toBeGreaterThan(48 * 20 - 1)
    const parts = field.finder.find('frame', 'parts', 12)
    expect(parts.places.length + parts.further).toBe(48 * 20)
    const inRow = field.finder.find('row 2 frame 1.1', 'parts')
    expect(inRow.places.map(written)).toEqual([1, 2, 3, 4, 5, 6, 7, 8].map((table) => `R2/T${table}/F1.1`))
    expect(field.finder.find('row 2 frame 1.1 ', 'parts', 3)).toMatchObject({ further: 5 })
  })

  it('finds parts of a table by the table alone where only parts are looked for', () => {
    const { places, further } = field.finder.find('4-06', 'parts', 12)
    expect(places.map(written).slice(0, 2)).toEqual(['R4/T6/F1.1', 'R4/T6/F1.2'])
    expect(places.length + further).toBe(field.index.patterns[0]!.partCount)
    expect(field.finder.find('clamp 4-06', 'parts').places).toEqual([])
  })

  it.each(['zzz', 'row 44', 'R4/T99', 'R4/T99/F1.1', 'reading 999', '', '  ', '-', '4-06 frame 9.9'])(
    'finds nothing for %j',
    (typed) => {
      expect(field.finder.find(typed)).toMatchObject({ places: [], further: 0 })
    },
  )

  it('is sure of what was typed in full only', () => {
    expect(field.finder.find('4-06').isSure).toBe(true)
    expect(field.finder.find('4-0').isSure).toBe(false)
    expect(field.finder.find('frame 1.1', 'parts').isSure).toBe(false)
  })

  it('keeps up while an address or a name is typed, letter by letter', () => {
    for (const whole of [
      'R4/T6/F1.2',
      'table 4-06',
      'main earth bar',
      'frame 1.2, table 4-06',
      'reading 12',
    ]) {
      for (let letters = 1; letters <= whole.length; letters++) {
        const typed = whole.slice(0, letters)
        expect(field.finder.find(typed).places.length, typed).toBeGreaterThan(0)
      }
    }
  })
})

describe.each([
  ['field', field],
  ['roof', roof],
])('every name and address of the %s demo', (_, { drawing, book, index, finder }) => {
  it('leads to its part first', () => {
    for (let part = 0; part < index.partCount; part += 5) {
      const address = writePartAddress(partAddressAt(index, part))
      expect(first(address, finder)).toBe(address)
      expect(first(address.toLowerCase(), finder)).toBe(address)
      const byName = first(namePart(book, address), finder)
      expect(namePart(book, byName)).toBe(namePart(book, address))
    }
  })

  it('leads to its joint first', () => {
    for (let joint = 0; joint < index.jointCount; joint += 7) {
      const address = writeJointAddress(jointAddressAt(index, joint))
      expect(first(address, finder)).toBe(address)
      const byName = first(nameJoint(book, address), finder)
      expect(nameJoint(book, byName)).toBe(nameJoint(book, address))
    }
  })

  it('leads to what carries the label', () => {
    for (const { id, label, tableLabels } of drawing.rows) {
      expect(first(label, finder)).toBe(`R${id}`)
      for (const [table, painted] of Object.entries(tableLabels)) {
        expect(first(painted, finder)).toBe(`R${id}/T${table}`)
        expect(first(` ${painted.toUpperCase()}`, finder)).toBe(`R${id}/T${table}`)
      }
    }
  })
})

describe('finding in any drawing', () => {
  it('leads from every address to itself, first', () => {
    fc.assert(
      fc.property(anyDrawing, (drawing) => {
        const finder = finderOf(drawing)
        const { index } = finder
        for (let part = 0; part < index.partCount; part++) {
          const address = writePartAddress(partAddressAt(index, part))
          expect(first(address, finder)).toBe(address)
          expect(finder.find(address, 'parts').places[0]).toEqual({ kind: 'part', address })
        }
        for (let joint = 0; joint < index.jointCount; joint++) {
          const address = writeJointAddress(jointAddressAt(index, joint))
          expect(first(address, finder)).toBe(address)
        }
      }),
      { seed: 41, numRuns: 15 },
    )
  })

  it('leads from every name to what is called so, first', () => {
    fc.assert(
      fc.property(anyDrawing, (drawing) => {
        const finder = finderOf(drawing)
        const { index, names } = finder
        for (let part = 0; part < index.partCount; part++) {
          const name = namePart(names, writePartAddress(partAddressAt(index, part)))
          expect(namePart(names, first(name, finder))).toBe(name)
        }
        for (let joint = 0; joint < index.jointCount; joint++) {
          const name = nameJoint(names, writeJointAddress(jointAddressAt(index, joint)))
          expect(nameJoint(names, first(name, finder))).toBe(name)
        }
      }),
      { seed: 42, numRuns: 15 },
    )
  })

  const label = fc.oneof(
    fc.string({ minLength: 1, maxLength: 8 }),
    fc.constantFrom('4-06', '4-6', 'Row 3', 'table 9', 'R1/T2', 'north field', 'F12', 'row', '★'),
  )

  it('leads from every painted label to something that carries it, first, whatever else it may mean', () => {
    fc.assert(
      fc.property(fc.array(label, { minLength: 3, maxLength: 3 }), label, (tableLabels, rowLabel) => {
        const drawing = drawingOf({
          tableTypes: [typeOf({})],
          rows: [
            rowOf({
              id: 3,
              label: rowLabel,
              runs: [{ firstTable: 1, count: 3, type: 'plain' }],
              tableLabels: Object.fromEntries(tableLabels.map((painted, k) => [String(k + 1), painted])),
            }),
          ],
        })
        const finder = finderOf(drawing)
        const all = [
          ...tableLabels.map((painted, k) => ({ painted, at: `R3/T${k + 1}` })),
          { painted: rowLabel, at: 'R3' },
        ]
        for (const { painted, at } of all) {
          if (painted.trim() === '') continue
          const sameAsPainted = all.filter((other) => simple(other.painted) === simple(painted))
          // an address written on something else is shown beside it
          const { places } = finder.find(painted)
          const leading = places.slice(0, sameAsPainted.length + 1).map(written)
          expect(leading).toContain(at)
        }
      }),
      { seed: 43, numRuns: 300 },
    )
  })
})

const stretch = (from: number, to: number) => Array.from({ length: to - from }, (_, k) => from + k)
const simple = (text: string) => text.trim().toLowerCase()

describe('numbers without painted labels', () => {
  const finder = finderOf(
    drawingOf({
      tableTypes: [typeOf({})],
      rows: [
        rowOf({ id: 4, runs: [{ firstTable: 1, count: 120, type: 'plain' }] }),
        rowOf({ id: 12, label: '4', originM: { x: 0, y: 50 } }),
      ],
    }),
    ['a', 'b'],
  )

  it('name rows and tables by place', () => {
    expect(first('4-6', finder)).toBe('R4/T6')
    expect(first('row 4 table 110', finder)).toBe('R4/T110')
    expect(finder.find('r4/t1').places.slice(0, 3).map(written)).toEqual(['R4/T1', 'R4/T10', 'R4/T11'])
    const tables = finder.find('row 4 table 1')
    // 1, 10 to 19 and 100 to 120 of row 4, and table 1 of the row that is painted so
    expect(tables.places.length + tables.further).toBe(1 + 10 + 21 + 1)
    expect(finder.find('row 4 table 1 ').further + finder.find('row 4 table 1 ').places.length).toBe(2)
  })

  it('give a painted label before a number, and an address before a painted label', () => {
    expect(first('row 4', finder)).toBe('R4')
    expect(finder.find('row 4').places.map(written)).toContain('R12')
    expect(first('R4', finder)).toBe('R4')
  })

  it('lead to readings too', () => {
    expect(finder.find('2').places.map(written)).toContain('reading 2')
  })
})
