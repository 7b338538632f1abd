import { limits } from '../../model/limits.ts'
import type { Drawing } from '../../model/schema/drawing.ts'
import type { PointM } from '../../model/schema/primitives.ts'
import type { Row } from '../../model/schema/row.ts'
import { guessColumns, guessUnit, headerWords, metresPer } from './columns.ts'
import type { Columns, LengthUnit } from './columns.ts'
import type { Cells } from './readCells.ts'
import { guessDecimalMark, readNumber } from './readNumber.ts'
import type { DecimalMark } from './readNumber.ts'

/** How a list of rows or tables is to be read; a guess from its header, and then the user's word. */
export interface TableChoices {
  readonly lists: 'rows' | 'tables'
  readonly columns: Columns
  readonly mark: DecimalMark
  readonly unit: LengthUnit
  /** What of a table stands at x and y; of a row it is always the corner of its first table. */
  readonly spot: 'corner' | 'middle'
  /** What a bearing is of: the way along the row, or the way that the tables look, down their slope. */
  readonly bearingOf: 'along' | 'facing'
  /** Where the file gives none. */
  readonly bearingDeg: number
  readonly gapM: number
  /** Table type of lines that name none; null where the site has no type. */
  readonly type: string | null
  /** Table types by what the file calls them, letters small; null for a name that stands for none. */
  readonly typeOf: ReadonlyMap<string, string | null>
  /** The place in the file, in metres, that becomes the drawing's origin. */
  readonly originM: PointM
  readonly links: Row['links']
  readonly toleranceM: number
}

export const defaultToleranceM = 0.02
export const defaultGapM = 0.5
const mostTypeNames = 12

/** What the file's own words say, for a start. */
export function guessChoices(cells: Cells, drawing: Drawing): TableChoices {
  const { header } = cells
  const guessed = guessColumns(header)
  const lists = guessed.tables >= 0 ? 'rows' : 'tables'
  // a column called “row” is the label of a row, and of a table the row that it belongs to
  const isRowsLabel = lists === 'rows' && guessed.label < 0
  const columns = isRowsLabel ? { ...guessed, label: guessed.row, row: -1 } : guessed
  const places = [columns.x, columns.y, columns.bearing, columns.pitch, columns.gap]
  const mark = guessDecimalMark(numbersOf(cells, places))
  const unit = guessUnit(header, columns) ?? (drawing.facts.units === 'us' ? 'ft' : 'm')
  const placeWords = headerWords(`${header[columns.x] ?? ''} ${header[columns.y] ?? ''}`)
  const bearingWords = headerWords(header[columns.bearing] ?? '')
  const type = drawing.tableTypes[0]?.id ?? null
  const choices: TableChoices = {
    lists,
    columns,
    mark,
    unit,
    spot: /cent(er|re)|mid/.test(placeWords) ? 'middle' : 'corner',
    bearingOf: /azimuth|facing|orientation/.test(bearingWords) ? 'facing' : 'along',
    bearingDeg: 90,
    gapM: drawing.rows.at(-1)?.gapM ?? defaultGapM,
    type,
    typeOf: new Map(),
    originM: { x: 0, y: 0 },
    links: drawing.rows.at(-1)?.links ?? { count: 0, kind: 'jumper' },
    toleranceM: defaultToleranceM,
  }
  const withOrigin = { ...choices, originM: guessOrigin(cells, choices) }
  return { ...withOrigin, typeOf: guessTypes(cells, withOrigin, drawing) }
}

function* numbersOf({ lines }: Cells, places: readonly number[]): Generator<string> {
  for (const line of lines.slice(0, 500)) {
    for (const place of places) if (place >= 0) yield line.cells[place] ?? ''
  }
}

/** Zero where the places fit a drawing as they are; else a round place below and to the left of all of them. */
export function guessOrigin({ lines }: Cells, { columns, mark, unit }: TableChoices): PointM {
  const least = (column: number) => {
    let low = Infinity
    let high = -Infinity
    for (const { cells } of lines) {
      const value = readNumber(cells[column] ?? '', mark)
      if (value === null) continue
      low = Math.min(low, value * metresPer[unit])
      high = Math.max(high, value * metresPer[unit])
    }
    return { low, farthest: Math.max(Math.abs(low), Math.abs(high)) }
  }
  const [x, y] = [least(columns.x), least(columns.y)]
  const isFar = [x, y].some(({ low, farthest }) => Number.isFinite(low) && farthest > limits.coordinateM)
  const round = (low: number) => (Number.isFinite(low) ? Math.floor(low / 100) * 100 : 0)
  return isFar ? { x: round(x.low), y: round(y.low) } : { x: 0, y: 0 }
}

/** The different names of table types in the file, letters small, the first of them as written. */
export function typeNamesIn({ lines }: Cells, { columns }: Pick<TableChoices, 'columns'>): readonly string[] {
  if (columns.type < 0) return []
  const names = new Map<string, string>()
  for (const { cells } of lines) {
    const name = (cells[columns.type] ?? '').trim()
    if (name !== '' && !names.has(name.toLowerCase())) names.set(name.toLowerCase(), name)
    if (names.size > mostTypeNames) break
  }
  return [...names.values()].slice(0, mostTypeNames)
}

export function guessTypes(
  cells: Cells,
  choices: Pick<TableChoices, 'columns' | 'type'>,
  { tableTypes }: Drawing,
): ReadonlyMap<string, string | null> {
  const known = new Map<string, string>()
  for (const { id, name } of tableTypes) {
    known.set(name.trim().toLowerCase(), id)
    known.set(id.toLowerCase(), id)
  }
  const found = new Map<string, string | null>([...known])
  for (const name of typeNamesIn(cells, choices)) {
    const small = name.toLowerCase()
    if (!found.has(small)) found.set(small, null)
  }
  return found
}
