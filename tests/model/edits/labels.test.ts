import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { openSite } from '../../../src/files/openSite.ts'
import { saveSite } from '../../../src/files/saveSite.ts'
import { checkSite } from '../../../src/model/checkSite.ts'
import {
  canClearLabels,
  canLabelRows,
  canNumberTables,
  canPasteLabels,
  clearLabels,
  labelRows,
  numberTables,
  pasteLabels,
  previewTableLabels,
} from '../../../src/model/edits/labels.ts'
import { fitColumn, linesOfColumn } from '../../../src/model/labels/labelColumn.ts'
import { labelRepeats } from '../../../src/model/labels/labelRepeats.ts'
import type { TableRule } from '../../../src/model/labels/labelRule.ts'
import type { Corner } from '../../../src/model/labels/tableWalk.ts'
import { tablesAlong, walkRows } from '../../../src/model/labels/tableWalk.ts'
import { newSite } from '../../../src/model/newSite.ts'
import type { Row } from '../../../src/model/schema/row.ts'
import type { Site } from '../../../src/model/schema/site.ts'
import { drawingOf, rowOf, typeOf } from '../../layout/smallDrawings.ts'
import { deepFreeze } from '../deepFreeze.ts'
import { uuid } from '../exampleSite.ts'
import { anySite } from './anySite.ts'

const empty = newSite({ id: uuid(1), revision: uuid(2), name: 'labels', units: 'metric' })

function siteOf(rows: readonly Partial<Row>[]): Site {
  const drawing = drawingOf({ tableTypes: [typeOf({})], rows: rows.map((row) => rowOf(row)) })
  return deepFreeze({ ...empty, drawing })
}
const tables = (count: number) => [{ firstTable: 1, count, type: 'plain' }]

/** Three rows eastwards, one above the other; the middle one is drawn from its east end. */
const field = siteOf([
  { id: 5, label: 'N', originM: { x: 0, y: 20 }, runs: tables(2) },
  { id: 1, label: 'S', originM: { x: 0, y: 0 }, runs: tables(3) },
  { id: 2, label: 'M', originM: { x: 11, y: 14 }, bearingDeg: 270, runs: tables(3) },
])
const all = [1, 2, 5]

const rule: TableRule = {
  pattern: '{row}-{table}',
  row: { first: 1, step: 1 },
  table: { first: 1, step: 1 },
  start: 'southWest',
  rowOrder: 'fromCorner',
  course: 'rowByRow',
  counting: 'eachRow',
}

const labelsOf = (site: Site, id: number) => {
  const row = site.drawing.rows.find((one) => one.id === id)!
  return row.runs.flatMap(({ firstTable, count }) =>
    Array.from({ length: count }, (_, k) => row.tableLabels[firstTable + k]),
  )
}
const numbered = (change: Partial<TableRule>, rows: readonly number[] = all, site = field) => {
  const edited = deepFreeze(numberTables({ rows, rule: { ...rule, ...change } })(site))
  expect(checkSite(edited)).toEqual([])
  return edited
}

describe('numbering tables', () => {
  it('begins at the corner that is named, whichever way a row was drawn', () => {
    const from = (start: Corner) => all.map((id) => labelsOf(numbered({ start }), id).join(' '))
    expect(from('southWest')).toEqual(['1-1 1-2 1-3', '2-3 2-2 2-1', '3-1 3-2'])
    expect(from('southEast')).toEqual(['1-3 1-2 1-1', '2-1 2-2 2-3', '3-2 3-1'])
    expect(from('northWest')).toEqual(['3-1 3-2 3-3', '2-3 2-2 2-1', '1-1 1-2'])
    expect(from('northEast')).toEqual(['3-3 3-2 3-1', '2-1 2-2 2-3', '1-2 1-1'])
  })

  it('goes back along every other row where the course is a serpentine', () => {
    const edited = numbered({ course: 'serpentine', counting: 'through', pattern: '{table}' })
    expect(all.map((id) => labelsOf(edited, id).join(' '))).toEqual(['1 2 3', '4 5 6', '7 8'])
    const byRow = numbered({ counting: 'through', pattern: '{table}' })
    expect(all.map((id) => labelsOf(byRow, id).join(' '))).toEqual(['1 2 3', '6 5 4', '7 8'])
  })

  it('counts from a first number by a step, in the order in which rows are listed where that is asked', () => {
    const edited = numbered(
      {
        pattern: '{row:A}{table:03} ({name})',
        row: { first: 3, step: 2 },
        table: { first: 10, step: 10 },
        rowOrder: 'asListed',
      },
      [5, 1, 5],
    )
    expect(labelsOf(edited, 5)).toEqual(['C010 (N)', 'C020 (N)'])
    expect(labelsOf(edited, 1)).toEqual(['E010 (S)', 'E020 (S)', 'E030 (S)'])
    expect(edited.drawing.rows[2]).toBe(field.drawing.rows[2])
  })

  it('follows tables as they stand, not their ids', () => {
    const runs = [
      { firstTable: 8, count: 2, type: 'plain' },
      { firstTable: 1, count: 2, type: 'plain' },
    ]
    const site = siteOf([{ id: 1, runs }])
    expect(numbered({ pattern: '{table}' }, [1], site).drawing.rows[0].tableLabels).toEqual({
      8: '1',
      9: '2',
      1: '3',
      2: '4',
    })
    const back = numbered({ pattern: '{table}', start: 'northEast' }, [1], site)
    expect(back.drawing.rows[0].tableLabels).toEqual({ 8: '4', 9: '3', 1: '2', 2: '1' })
  })

  it('orders rows that run north, and rows one behind the other in a line', () => {
    const trackers = siteOf([
      { id: 1, originM: { x: 20, y: 0 }, bearingDeg: 0 },
      { id: 2, originM: { x: 0, y: 0 }, bearingDeg: 0 },
      { id: 3, originM: { x: 20, y: 50 }, bearingDeg: 0 },
      { id: 4, originM: { x: 0, y: 50.1 }, bearingDeg: 180 },
    ])
    const order = (start: Corner) => {
      const walked = walkRows(trackers.drawing, [1, 2, 3, 4], {
        start,
        rowOrder: 'fromCorner',
        course: 'rowByRow',
      })
      return walked.ok && walked.value.map(({ row }) => row.id)
    }
    expect(order('southWest')).toEqual([2, 4, 1, 3])
    expect(order('northWest')).toEqual([4, 2, 3, 1])
    expect(order('southEast')).toEqual([1, 3, 2, 4])
    expect(order('northEast')).toEqual([3, 1, 4, 2])
  })

  it('orders rows askew across their own direction', () => {
    const askew = (deg: number) =>
      siteOf(
        [2, 0, 1].map((k) => {
          const bearing = (deg * Math.PI) / 180
          const originM = { x: -6 * k * Math.cos(bearing) + 3 * k, y: 6 * k * Math.sin(bearing) }
          return { id: k + 1, originM, bearingDeg: k === 1 ? (deg + 180) % 360 : deg }
        }),
      )
    for (const deg of [80, 100, 110]) {
      const walked = walkRows(askew(deg).drawing, [1, 2, 3], { ...rule, start: 'southWest' })
      expect(walked.ok && walked.value.map(({ row, isBackwards }) => [row.id, isBackwards])).toEqual([
        [1, false],
        [2, true],
        [3, false],
      ])
    }
  })

  it('takes the place of what was painted, and changes nothing when it says the same', () => {
    const once = numbered({})
    expect(numberTables({ rows: all, rule })(once)).toBe(once)
    expect(labelsOf(numbered({ pattern: '' }, all, once), 1)).toEqual([undefined, undefined, undefined])
    expect(numberTables({ rows: [], rule })(field)).toBe(field)
  })

  it('is refused for what cannot be written or counted', () => {
    const can = (change: Partial<TableRule>, rows: readonly number[] = all) =>
      canNumberTables(field, { rows, rule: { ...rule, ...change } })
    expect(can({ pattern: '{tabel}' })).toMatchObject({ code: 'label.placeholder' })
    expect(can({ pattern: '{row:A}', row: { first: 0, step: 1 } })).toMatchObject({ code: 'label.noLetter' })
    expect(can({ row: { first: 0, step: 1 } })).toBe(true)
    expect(can({ table: { first: 1, step: 0 } })).toMatchObject({
      code: 'value.outOfRange',
      where: { path: ['table', 'step'] },
    })
    expect(can({ table: { first: 1.5, step: 1 } })).toMatchObject({ where: { path: ['table', 'first'] } })
    expect(can({}, [1, 9])).toMatchObject({ code: 'edit.notThere', facts: { id: '9' } })
    expect(can({ pattern: 'x'.repeat(201) })).not.toBe(true)
  })

  it('of any rows gives each table one label, counted without a gap, in a site that opens again', () => {
    fc.assert(
      fc.property(
        anySite,
        fc.constantFrom<Corner>('southWest', 'southEast', 'northWest', 'northEast'),
        fc.constantFrom('rowByRow' as const, 'serpentine' as const),
        (site, start, course) => {
          const rows = site.drawing.rows.map(({ id }) => id)
          const edited = deepFreeze(
            numberTables({ rows, rule: { ...rule, start, course, counting: 'through', pattern: '{table}' } })(
              site,
            ),
          )
          expect(checkSite(edited)).toEqual([])
          const labels = rows.flatMap((id) => labelsOf(edited, id)).map(Number)
          expect(labels.toSorted((a, b) => a - b)).toEqual(labels.map((_, k) => k + 1))
          const opened = openSite(new TextEncoder().encode(saveSite(edited)), 'labelled')
          expect(opened.ok && opened.value).toEqual(edited)
          const walked = walkRows(site.drawing, rows, { start, course, rowOrder: 'fromCorner' })
          const along = walked.ok ? walked.value : []
          const inOrder = along.flatMap((one) =>
            [...tablesAlong(one)].map((table) => {
              return edited.drawing.rows.find(({ id }) => id === one.row.id)!.tableLabels[table]
            }),
          )
          expect(inOrder).toEqual(labels.map((_, k) => String(k + 1)))
        },
      ),
      { numRuns: 60, seed: 8 },
    )
  })
})

describe('the preview of a rule', () => {
  it('says the first and the last labels and what would stand twice', () => {
    expect(previewTableLabels(field, { rows: all, rule })).toEqual({
      ok: true,
      value: {
        tables: 8,
        first: [
          { table: 'R1/T1', label: '1-1' },
          { table: 'R1/T2', label: '1-2' },
          { table: 'R1/T3', label: '1-3' },
        ],
        last: [
          { table: 'R2/T1', label: '2-3' },
          { table: 'R5/T1', label: '3-1' },
          { table: 'R5/T2', label: '3-2' },
        ],
        repeats: { labels: 0, ambiguous: 0, examples: [] },
      },
    })
    const few = previewTableLabels(field, { rows: [5], rule })
    expect(few.ok && [few.value.first.length, few.value.last.length]).toEqual([2, 0])
    expect(previewTableLabels(field, { rows: [9], rule })).toMatchObject({ ok: false })
  })

  it('tells labels alike in two rows from those that nobody can tell apart', () => {
    const alike = previewTableLabels(field, { rows: all, rule: { ...rule, pattern: '{table}' } })
    expect(alike.ok && alike.value.repeats).toEqual({ labels: 3, ambiguous: 0, examples: ['1', '2', '3'] })
    const one = previewTableLabels(field, { rows: [1], rule: { ...rule, pattern: 'x' } })
    expect(one.ok && one.value.repeats).toEqual({ labels: 1, ambiguous: 1, examples: ['x'] })
    // Repeats among other rows alone are not told again.
    const before = numbered({ pattern: 'y' }, [2])
    const other = previewTableLabels(before, { rows: [1], rule })
    expect(other.ok && other.value.repeats.labels).toBe(0)
    expect(labelRepeats(before.drawing.rows).labels).toBe(1)
  })

  it('of 170,000 tables is there in a moment', () => {
    const large = siteOf(
      [1, 2].map((id) => ({ id, originM: { x: 0, y: 9 * id }, runs: tables(85_000), nextTable: 85_001 })),
    )
    const started = performance.now()
    const preview = previewTableLabels(large, { rows: [1, 2], rule })
    expect(preview.ok && preview.value.last.at(-1)?.label).toBe('2-85000')
    expect(performance.now() - started).toBeLessThan(15_000)
  })
})

describe('a pasted column', () => {
  const walk = { start: 'southWest', rowOrder: 'fromCorner', course: 'rowByRow' } as const

  it('goes onto tables in order; an empty line leaves its table as it is', () => {
    const before = numbered({ pattern: 'old' })
    const column = 'a\tsecond cell\r\n\r\n c \nd\n'
    expect(linesOfColumn(column)).toEqual(['a', '', 'c', 'd'])
    const edited = pasteLabels({ rows: all, column, walk })(before)
    expect(checkSite(edited)).toEqual([])
    expect(all.map((id) => labelsOf(edited, id))).toEqual([
      ['a', 'old', 'c'],
      ['old', 'old', 'd'],
      ['old', 'old'],
    ])
    expect(edited.drawing.rows[0]).toBe(before.drawing.rows[0])
    expect(fitColumn(before.drawing, all, column)).toEqual({
      lines: 4,
      tables: 8,
      labelled: 3,
      linesOver: 0,
      tablesOver: 4,
    })
  })

  it('may be too long, or nothing', () => {
    const column = ['1', '2', '3', '4', '5']
    const edited = pasteLabels({ rows: [5], column, walk })(field)
    expect(labelsOf(edited, 5)).toEqual(['1', '2'])
    expect(fitColumn(field.drawing, [5], column)).toMatchObject({ labelled: 2, linesOver: 3, tablesOver: 0 })
    expect(pasteLabels({ rows: all, column: '', walk })(field)).toBe(field)
    expect(fitColumn(field.drawing, [5], '\n')).toMatchObject({ lines: 0, labelled: 0, tablesOver: 2 })
    expect(canPasteLabels(field, { rows: [9], column, walk })).toMatchObject({ code: 'edit.notThere' })
    expect(canPasteLabels(field, { rows: [5], column: 'x'.repeat(201), walk })).not.toBe(true)
  })
})

describe('rows', () => {
  it('are labelled by a rule and cleared', () => {
    const rowRule = {
      pattern: 'Row {row:02}',
      row: { first: 1, step: 1 },
      start: 'northWest',
      rowOrder: 'fromCorner',
    } as const
    const edited = labelRows({ rows: all, rule: rowRule })(field)
    expect(edited.drawing.rows.map(({ id, label }) => [id, label])).toEqual([
      [5, 'Row 01'],
      [1, 'Row 03'],
      [2, 'Row 02'],
    ])
    expect(canLabelRows(field, { rows: all, rule: { ...rowRule, pattern: '{table}' } })).toMatchObject({
      code: 'label.placeholder',
      facts: { counted: ['row'] },
    })
    const cleared = clearLabels({ rows: [1, 2], of: 'rows' })(edited)
    expect(cleared.drawing.rows.map(({ label }) => label)).toEqual(['Row 01', '', ''])
    const bare = clearLabels({ rows: all, of: 'tables' })(numbered({}))
    expect(bare.drawing.rows.every(({ tableLabels }) => Object.keys(tableLabels).length === 0)).toBe(true)
    expect(clearLabels({ rows: all, of: 'tables' })(field)).toBe(field)
    expect(canClearLabels(field, { rows: [7], of: 'rows' })).toMatchObject({ code: 'edit.notThere' })
  })
})
