import { wholly } from '../base/portion.ts'
import { findTokens, fitOf, fitOfId, fits, tokenKey } from './findTokens.ts'
import type { Fit, TokenKey, Wanted } from './findTokens.ts'
import { lastAtMost } from './idLookup.ts'
import { tableById, tableIdAt } from './rowIndex.ts'
import type { TableSpot } from './rowIndex.ts'
import type { SiteIndex } from './siteIndex.ts'

/**
 * Rows and tables with what is painted on them, ready to be looked through. Tables are counted through the
 * drawing from 0, row after row: a number per table, one key per painted label, nothing per part.
 */
export interface TableBook {
  readonly index: SiteIndex
  /** Number of the first table of each run, and of each row; the last entry is the number of tables. */
  readonly runTables: Int32Array
  readonly rowTables: Int32Array
  readonly rowKeys: readonly TokenKey[]
  /** Keys by table number; undefined where nothing is painted. */
  readonly tableKeys: readonly (TokenKey | undefined)[]
  /** Number of each table's type in the drawing. */
  readonly tableType: Int32Array
  /** All tokens of the labels of tables. */
  readonly tableTokens: ReadonlySet<string>
  /** Tables by their label as it is painted, in small letters. */
  readonly tablesPainted: ReadonlyMap<string, readonly number[]>
}

/** A row or a table that is looked for by label or by number. */
export interface WantedLine {
  readonly wanted: Wanted
  /** Written as in an address (`R4`): the number counts before the label. */
  readonly isAddress: boolean
}

/** Tables that fit, best first, then in drawing order. */
export interface TableSelection {
  readonly tables: readonly number[]
  readonly fit: readonly Fit[]
}

/** As `tableBookInPortions`, in one go. */
export function openTableBook(index: SiteIndex): TableBook {
  return wholly(tableBookInPortions(index))
}

/** Rows and labels looked at between two pauses: a millisecond of work or so. */
const linesPerPortion = 256

/** O(rows + runs + labels). Yields the fraction of the rows that is done. */
export function* tableBookInPortions(index: SiteIndex): Generator<number, TableBook> {
  const { drawing, rows } = index
  const runCount = rows.runs.count.length
  const runTables = new Int32Array(runCount + 1)
  for (let run = 0; run < runCount; run++) runTables[run + 1] = runTables[run] + rows.runs.count[run]
  const rowTables = Int32Array.from(
    { length: drawing.rows.length + 1 },
    (_, r) => runTables[rows.runStart[r]],
  )
  const tableType = new Int32Array(rows.tableCount)
  for (let run = 0; run < runCount; run++) {
    tableType.fill(rows.runs.type[run], runTables[run], runTables[run + 1])
  }
  yield 0
  const labels: TableLabels = {
    tableKeys: Array.from({ length: rows.tableCount }),
    tableTokens: new Set(),
    tablesPainted: new Map(),
  }
  const rowKeys: TokenKey[] = []
  let lines = 0
  for (const [r, row] of drawing.rows.entries()) {
    rowKeys.push(tokenKey(lineTokens(row.label, 'row')))
    if (++lines % linesPerPortion === 0) yield r / drawing.rows.length
    for (const [id, label] of Object.entries(row.tableLabels)) {
      const spot = label.trim() === '' ? null : tableById(rows, r, Number(id))
      if (spot) enterLabel(labels, label, runTables[spot.run] + spot.place)
      if (++lines % linesPerPortion === 0) yield r / drawing.rows.length
    }
  }
  return { index, runTables, rowTables, rowKeys, tableType, ...labels }
}

interface TableLabels {
  readonly tableKeys: (TokenKey | undefined)[]
  readonly tableTokens: Set<string>
  readonly tablesPainted: Map<string, number[]>
}

function enterLabel(
  { tableKeys, tableTokens, tablesPainted }: TableLabels,
  label: string,
  table: number,
): void {
  const tokens = lineTokens(label, 'table')
  tableKeys[table] = tokenKey(tokens)
  for (const token of tokens) tableTokens.add(token)
  const painted = label.trim().toLowerCase()
  const alike = tablesPainted.get(painted)
  if (alike) alike.push(table)
  else tablesPainted.set(painted, [table])
}

/** A label that says itself what it labels is found without that word as well. */
function lineTokens(label: string, word: string): readonly string[] {
  const tokens = findTokens(label)
  return tokens.length > 1 && tokens[0] === word ? tokens.slice(1) : tokens
}

/** Run and place of a table by its number. O(log runs). */
export function spotOfTable(book: TableBook, table: number): TableSpot {
  const run = lastAtMost(book.runTables, table, 0, book.runTables.length - 1)
  return { run, place: table - book.runTables[run] }
}

/** Ids of a table and its row, as addresses have them. */
export function tableIds(book: TableBook, table: number): { readonly row: number; readonly table: number } {
  const { index } = book
  const spot = spotOfTable(book, table)
  return { row: index.drawing.rows[index.rows.runs.row[spot.run]].id, table: tableIdAt(index.rows, spot) }
}

/** How each row fits; all of them where none is looked for. O(rows). */
export function rowFits(book: TableBook, line: WantedLine | null): readonly Fit[] {
  const { rows } = book.index.drawing
  return rows.map(({ id }, r) => (line ? lineFit(book.rowKeys[r], id, line) : fits.same))
}

/**
 * Tables that fit in the rows that fit: by label where one is painted, else by number; where a label is painted
 * the number fits less well. A row without a match costs nothing. O(tables of the rows that fit).
 */
export function selectTables(
  book: TableBook,
  rowLine: WantedLine | null,
  tableLine: WantedLine | null,
): TableSelection {
  const { rows } = book.index
  if (tableLine && !mayFitTables(book, tableLine.wanted)) return { tables: [], fit: [] }
  const fitOfRow = rowFits(book, rowLine)
  const byFit = new Map<Fit, number[]>()
  const put = (fit: Fit, table: number) => {
    const equal = byFit.get(fit)
    if (equal) equal.push(table)
    else byFit.set(fit, [table])
  }
  for (let r = 0; r < fitOfRow.length; r++) {
    const rowFit = fitOfRow[r]
    if (rowFit === fits.none) continue
    for (let run = rows.runStart[r]; run < rows.runStart[r + 1]; run++) {
      const start = book.runTables[run]
      const firstId = rows.runs.firstTable[run]
      for (let place = 0; place < rows.runs.count[run]; place++) {
        const table = start + place
        const fit = tableLine ? lineFit(book.tableKeys[table], firstId + place, tableLine) : fits.same
        if (fit !== fits.none) put(Math.max(rowFit, fit) as Fit, table)
      }
    }
  }
  const tables: number[] = []
  const fit: Fit[] = []
  for (const each of [fits.exact, fits.same, fits.begins, fits.holds]) {
    for (const table of byFit.get(each) ?? []) {
      tables.push(table)
      fit.push(each)
    }
  }
  return { tables, fit }
}

/** Whether any label of a table has what is wanted, or a number may do: spares the look at each table. */
function mayFitTables({ tableTokens }: TableBook, wanted: Wanted): boolean {
  if (wanted.number > 0) return true
  return wanted.tokens.every((token, t) => {
    if (tableTokens.has(token)) return true
    if (wanted.sought[t].endsWith(' ')) return false
    for (const known of tableTokens) if (known.startsWith(token)) return true
    return false
  })
}

function lineFit(key: TokenKey | undefined, id: number, { wanted, isAddress }: WantedLine): Fit {
  const byLabel = key === undefined ? fits.none : fitOf(key, wanted)
  const byId = fitOfId(id, wanted)
  const isPainted = key !== undefined && key !== ''
  if (isAddress) return Math.min(byId, weaker(byLabel)) as Fit
  return Math.min(byLabel, isPainted ? weaker(byId) : byId) as Fit
}

function weaker(fit: Fit): Fit {
  return fit === fits.none ? fit : (Math.min(fit + 1, fits.holds) as Fit)
}
