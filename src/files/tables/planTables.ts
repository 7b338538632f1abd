import { limits } from '../../model/limits.ts'
import { noItems } from '../../model/edits/addDrawn.ts'
import type { NewRow } from '../../model/edits/addDrawn.ts'
import type { Problem } from '../../model/problem.ts'
import { problem } from '../../model/problem.ts'
import { byId } from '../../model/queries/byId.ts'
import type { Drawing } from '../../model/schema/drawing.ts'
import { tableSize } from '../../layout/tableSize.ts'
import type { TableSize } from '../../layout/tableSize.ts'
import { mostPreview, mostTroubles } from '../importPlan.ts'
import type { ImportPlan, PreviewLine } from '../importPlan.ts'
import { cleanLabel } from '../cleanLabel.ts'
import { metresPer } from './columns.ts'
import type { ColumnRole } from './columns.ts'
import { placedRows, positiveDeg } from './placedRows.ts'
import type { PlacedTable } from './placedRows.ts'
import type { Cells, Line } from './readCells.ts'
import { readNumber } from './readNumber.ts'
import type { TableChoices } from './tableChoices.ts'

const linesAtOnce = 1_000

interface Reading {
  readonly cells: Cells
  readonly choices: TableChoices
  readonly sizes: ReadonlyMap<string, TableSize>
}

/**
 * What a list of rows or tables would add to the drawing. A line with something wrong adds nothing and is told with its
 * number, its column and what to do. Yields the fraction done. O(lines log lines).
 */
export function* planTables(
  cells: Cells,
  choices: TableChoices,
  drawing: Drawing,
): Generator<number, ImportPlan> {
  const sizes = new Map([...byId(drawing.tableTypes)].map(([id, type]) => [id, tableSize(type)]))
  const reading: Reading = { cells, choices, sizes }
  const preview: PreviewLine[] = []
  const troubles: Problem[] = []
  const rows: NewRow[] = []
  const tables: PlacedTable[] = []
  let wrong = 0
  for (const [k, line] of cells.lines.entries()) {
    const wrongHere: Problem[] = []
    const read =
      choices.lists === 'rows' ? readRow(reading, line, wrongHere) : readTable(reading, line, wrongHere)
    if (read === null || wrongHere.length > 0) {
      wrong++
      troubles.push(...wrongHere.slice(0, mostTroubles - troubles.length))
    } else {
      if ('runs' in read) rows.push(read)
      else tables.push(read)
      if (preview.length < mostPreview) preview.push(previewOf(read, line.number))
    }
    if (k % linesAtOnce === 0) yield (0.5 * k) / cells.lines.length
  }
  let largestMoveM = 0
  if (tables.length > 0) {
    const job = placedRows(tables, {
      alongM: new Map([...sizes].map(([id, { alongM }]) => [id, alongM])),
      toleranceM: choices.toleranceM,
      gapM: choices.gapM,
      links: choices.links,
      firstNumber: drawing.rows.length + 1,
    })
    let step = job.next()
    for (; !step.done; step = job.next()) yield 0.5 + 0.5 * step.value
    rows.push(...step.value.rows)
    largestMoveM = step.value.largestMoveM
  }
  return {
    items: { ...noItems, rows },
    preview,
    troubles,
    wrong,
    total: cells.lines.length,
    passedOver: 0,
    largestMoveM,
  }
}

/** Reads cells of one line and notes what is wrong with them. */
class LineReader {
  readonly #reading: Reading
  readonly #line: Line
  readonly #wrong: Problem[]

  constructor(reading: Reading, line: Line, wrong: Problem[]) {
    this.#reading = reading
    this.#line = line
    this.#wrong = wrong
  }

  text(role: ColumnRole): string {
    const column = this.#reading.choices.columns[role]
    return column < 0 ? '' : (this.#line.cells[column] ?? '').trim()
  }

  note(role: ColumnRole, code: 'value.wrong' | 'value.outOfRange', expected: string, found: string): null {
    this.#wrong.push(problem(code, { expected, found }, this.#where(role)))
    return null
  }

  /** The number in a column: null where the cell is empty or wrong, undefined is never given. */
  number(role: ColumnRole, expected: string, low: number, high: number, isNeeded: boolean): number | null {
    const { columns, mark } = this.#reading.choices
    const text = this.text(role)
    if (text === '') {
      if (isNeeded) this.#wrong.push(problem('value.missing', { expected }, this.#where(role)))
      return null
    }
    const value = columns[role] < 0 ? null : readNumber(text, mark)
    if (value === null) return this.note(role, 'value.wrong', `${expected}, ${markWords[mark]}`, `“${text}”`)
    return value < low || value > high ? this.note(role, 'value.outOfRange', expected, text) : value
  }

  #where(role: ColumnRole) {
    const { cells, choices } = this.#reading
    const column = choices.columns[role]
    const header = column < 0 ? role : cells.header[column] || role
    return { path: [header], line: this.#line.number }
  }
}

const markWords = { point: 'with a point before decimals', comma: 'with a comma before decimals' } as const
const farthest = `at most ${limits.coordinateM / 1000} km from the origin`

interface LineStart {
  readonly reader: LineReader
  readonly x: number | null
  readonly y: number | null
  readonly bearingDeg: number | null
  readonly type: string | null
}

function readStart(reading: Reading, line: Line, wrong: Problem[]): LineStart {
  const reader = new LineReader(reading, line, wrong)
  const { choices, cells } = reading
  if (line.isBroken) {
    const facts = {
      expected: 'a quotation mark only around a whole cell, and doubled within it',
      found: 'one that stands alone',
    }
    wrong.push(problem('value.wrong', facts, { line: line.number }))
    return { reader, x: null, y: null, bearingDeg: null, type: null }
  }
  if (line.cells.slice(cells.header.length).some((cell) => cell.trim() !== '')) {
    const expected = `${cells.header.length} cells as in the first line`
    wrong.push(
      problem('value.wrong', { expected, found: `${line.cells.length} cells` }, { line: line.number }),
    )
  }
  return {
    reader,
    x: coordinate(reading, reader, 'x'),
    y: coordinate(reading, reader, 'y'),
    bearingDeg: readBearing(choices, reader),
    type: readType(reading, reader),
  }
}

function coordinate({ choices }: Reading, reader: LineReader, axis: 'x' | 'y'): number | null {
  const { unit, originM } = choices
  const most = limits.coordinateM
  const value = reader.number(axis, `a number for ${axis}`, -1e9, 1e9, true)
  if (value === null) return null
  const inDrawing = value * metresPer[unit] - originM[axis]
  if (Math.abs(inDrawing) <= most) return inDrawing
  return reader.note(axis, 'value.outOfRange', `a place ${farthest}`, reader.text(axis))
}

function readBearing({ bearingOf, bearingDeg }: TableChoices, reader: LineReader): number | null {
  const isGiven = reader.text('bearing') !== ''
  const read = isGiven ? reader.number('bearing', 'degrees from −360 to 360', -360, 360, false) : bearingDeg
  if (read === null) return null
  // tables rise to the left of their row, so they look to its right
  return positiveDeg(isGiven && bearingOf === 'facing' ? read - 90 : read)
}

function readType({ choices, sizes }: Reading, reader: LineReader): string | null {
  const name = reader.text('type')
  const type = name === '' ? choices.type : (choices.typeOf.get(name.toLowerCase()) ?? null)
  if (type !== null && sizes.has(type)) return type
  const known = 'the name of a table type of this site, or a choice of one for this name'
  return reader.note('type', 'value.wrong', known, name === '' ? 'none' : `“${name}”`)
}

function readTable(reading: Reading, line: Line, wrong: Problem[]): PlacedTable | null {
  const { reader, x, y, bearingDeg, type } = readStart(reading, line, wrong)
  if (x === null || y === null || bearingDeg === null || type === null) return null
  const name = reader.text('row')
  const at =
    reading.choices.spot === 'corner' ? { x, y } : cornerOf({ x, y }, bearingDeg, reading.sizes.get(type)!)
  return {
    row: name === '' ? null : cleanLabel(name),
    label: cleanLabel(reader.text('label')),
    ...at,
    bearingDeg,
    type,
  }
}

/** Lower outer corner of a table whose middle stands at a place. */
export function cornerOf(
  middle: { readonly x: number; readonly y: number },
  bearingDeg: number,
  { alongM, upM }: Pick<TableSize, 'alongM' | 'upM'>,
) {
  const bearing = (bearingDeg * Math.PI) / 180
  const [sin, cos] = [Math.sin(bearing), Math.cos(bearing)]
  return {
    x: middle.x - (alongM / 2) * sin + (upM / 2) * cos,
    y: middle.y - (alongM / 2) * cos - (upM / 2) * sin,
  }
}

function readRow(reading: Reading, line: Line, wrong: Problem[]): NewRow | null {
  const { choices, sizes } = reading
  const { reader, x, y, bearingDeg, type } = readStart(reading, line, wrong)
  const most = limits.tablesPerRow
  const tables = reader.number('tables', `a whole number of tables from 1 to ${most}`, 1, most, true)
  if (tables !== null && !Number.isInteger(tables)) {
    return reader.note('tables', 'value.wrong', 'a whole number of tables', reader.text('tables'))
  }
  const gapM = type === null ? null : readGap(reading, reader, sizes.get(type)!)
  if (x === null || y === null || bearingDeg === null || type === null || tables === null || gapM === null) {
    return null
  }
  return {
    label: cleanLabel(reader.text('label')),
    originM: { x, y },
    bearingDeg,
    gapM,
    runs: [{ count: tables, type }],
    links: choices.links,
    tableLabels: {},
  }
}

/** The clear gap: its own column, else the pitch less the length of a table, else what was chosen. */
function readGap({ choices }: Reading, reader: LineReader, size: TableSize): number | null {
  const perUnit = metresPer[choices.unit]
  const mostM = 1000
  if (reader.text('gap') !== '') {
    const gap = reader.number('gap', 'a gap of 0 to 1000 m', 0, mostM / perUnit, false)
    return gap === null ? null : gap * perUnit
  }
  if (reader.text('pitch') === '') return choices.gapM
  const pitch = reader.number('pitch', 'a pitch from table to table', 0, mostM / perUnit + 1000, false)
  if (pitch === null) return null
  const gapM = pitch * perUnit - size.alongM
  // a pitch that was rounded to the millimetre may come out a hair below the table's length
  if (gapM < -0.001 || gapM > mostM) {
    const least = Number((size.alongM / perUnit).toFixed(3))
    return reader.note(
      'pitch',
      'value.outOfRange',
      `at least the length of one table, ${least}`,
      reader.text('pitch'),
    )
  }
  return Math.max(gapM, 0)
}

function previewOf(read: NewRow | PlacedTable, number: number): PreviewLine {
  if ('runs' in read) {
    const [{ count, type }] = read.runs
    const { label, originM, bearingDeg } = read
    return { number, what: 'row', label, ...originM, bearingDeg, tables: count, type }
  }
  const { row, label, x, y, bearingDeg, type } = read
  return {
    number,
    what: 'table',
    label: [row ?? '', label].filter((text) => text !== '').join(' / '),
    x,
    y,
    bearingDeg,
    tables: null,
    type,
  }
}
