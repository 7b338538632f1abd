import { portion } from '../../base/portion.ts'
import type { NewRow } from '../../model/edits/addDrawn.ts'
import type { Row } from '../../model/schema/row.ts'

/** A table where a file puts it: its lower outer corner in plan, and the direction in which its row runs. */
export interface PlacedTable {
  /** Name of its row; null where the file names none. */
  readonly row: string | null
  readonly label: string
  readonly x: number
  readonly y: number
  readonly bearingDeg: number
  readonly type: string
}

export interface Evenness {
  /** Length of a table of each type along its row. */
  readonly alongM: ReadonlyMap<string, number>
  /** No table is moved further than this to stand in an even row. */
  readonly toleranceM: number
  /** For a row of one table. */
  readonly gapM: number
  readonly links: Row['links']
  /** Number of the first row without a name. */
  readonly firstNumber: number
}

export interface FoundRows {
  readonly rows: readonly NewRow[]
  readonly largestMoveM: number
}

/** Directions given for two tables of one row may differ by so much; that of the row comes from where its tables stand. */
const sameBearingDeg = 0.5
/** Tables further apart than this stand in two rows, whatever else is even. */
const furthestGapM = 30
const toRad = Math.PI / 180

/** Lines are looked up by squares across of this size; many tables on one spot are a mistake, and a few are looked at. */
const cellM = 1
const mostOpen = 16
const tablesAtOnce = 1_000

/** A table seen along the direction of its group: s runs along, c across to the left. */
interface Seen {
  readonly table: PlacedTable
  readonly order: number
  readonly s: number
  readonly c: number
  readonly alongM: number
}

/**
 * Makes rows of tables that stand in line with the same gap between them. Tables that a file gives to one row are parted where
 * the gap or the line changes; without names of rows, lines are found by where the tables stand. Yields the fraction
 * done. O(tables log tables).
 */
export function* placedRows(tables: readonly PlacedTable[], even: Evenness): Generator<number, FoundRows> {
  const rows: NewRow[] = []
  let largestMoveM = 0
  let number = even.firstNumber
  const groups = groupTables(tables)
  const partsOf = new Map<string, number>()
  let done = 0
  for (const group of groups) {
    const name = group[0].row
    const share = group.length / tables.length
    const from = done / tables.length
    const lines = yield* portion(linesOf(seenAlong(group, even), even.toleranceM), from, share / 2)
    const pieces = yield* portion(piecesOf(lines, even), from + share / 2, share / 2)
    for (const piece of pieces) {
      const part = (partsOf.get(name ?? '') ?? 0) + 1
      partsOf.set(name ?? '', part)
      const label = name === null ? String(number++) : part === 1 ? name : `${name} (${part})`
      const { row, moveM } = rowOf(piece, label, even)
      rows.push(row)
      largestMoveM = Math.max(largestMoveM, moveM)
    }
    done += group.length
    yield done / tables.length
  }
  return { rows, largestMoveM }
}

/** By row and direction; in the order in which the file first names them. */
function groupTables(tables: readonly PlacedTable[]): PlacedTable[][] {
  const byName = new Map<string | null, PlacedTable[]>()
  for (const table of tables) {
    const group = byName.get(table.row)
    if (group) group.push(table)
    else byName.set(table.row, [table])
  }
  return [...byName.values()].flatMap(byBearing)
}

function byBearing(group: PlacedTable[]): PlacedTable[][] {
  const order = [...group].sort((a, b) => a.bearingDeg - b.bearingDeg)
  const parts: PlacedTable[][] = []
  for (const table of order) {
    const part = parts.at(-1)
    if (part && table.bearingDeg - part[0].bearingDeg <= sameBearingDeg) part.push(table)
    else parts.push([table])
  }
  const [first] = parts
  const last = parts.at(-1)
  if (last && first !== last && first[0].bearingDeg + 360 - last[0].bearingDeg <= sameBearingDeg) {
    parts[0] = [...last, ...first]
    parts.pop()
  }
  const place = new Map(group.map((table, k) => [table, k]))
  const firstOf = (part: readonly PlacedTable[]) =>
    part.reduce((least, table) => Math.min(least, place.get(table)!), Infinity)
  return parts
    .map((part) => ({ part, first: firstOf(part) }))
    .sort((a, b) => a.first - b.first)
    .map(({ part }) => part.sort((a, b) => place.get(a)! - place.get(b)!))
}

function directionOf(bearingDeg: number) {
  return { x: Math.sin(bearingDeg * toRad), y: Math.cos(bearingDeg * toRad) }
}

function seenAlong(group: readonly PlacedTable[], { alongM }: Evenness): Seen[] {
  const along = directionOf(group[Math.floor(group.length / 2)].bearingDeg)
  const [{ x: x0, y: y0 }] = group
  return group
    .map((table, order) => ({
      table,
      order,
      s: (table.x - x0) * along.x + (table.y - y0) * along.y,
      c: (table.y - y0) * along.x - (table.x - x0) * along.y,
      alongM: alongM.get(table.type) ?? 0,
    }))
    .sort((a, b) => a.s - b.s)
}

/** Tables one behind the other. Each joins the line that ends nearest beside it; lines are looked up by their place across. */
function* linesOf(seen: readonly Seen[], toleranceM: number): Generator<number, Seen[][]> {
  const lines: Seen[][] = []
  const ends = new Map<number, Seen[][]>()
  const drift = Math.tan(2 * sameBearingDeg * toRad)
  for (const [k, table] of seen.entries()) {
    if (k % tablesAtOnce === 0) yield k / seen.length
    const cell = Math.floor(table.c / cellM)
    let best: Seen[] | null = null
    let bestAway = Infinity
    for (let near = cell - 1; near <= cell + 1; near++) {
      const open = (ends.get(near) ?? []).filter((line) => table.s - endOf(line) <= furthestGapM)
      if (open.length > 0) ends.set(near, open)
      else ends.delete(near)
      for (const line of open) {
        const last = line[line.length - 1]
        const away = Math.abs(table.c - last.c)
        const apart = table.s - endOf(line)
        if (apart < -toleranceM || away > toleranceM + drift * (table.s - last.s) || away >= bestAway)
          continue
        best = line
        bestAway = away
      }
    }
    if (best === null) {
      best = []
      lines.push(best)
    } else {
      const before = Math.floor(best[best.length - 1].c / cellM)
      const left = (ends.get(before) ?? []).filter((line) => line !== best)
      if (left.length > 0) ends.set(before, left)
      else ends.delete(before)
    }
    best.push(table)
    ends.set(cell, [...(ends.get(cell) ?? []).slice(1 - mostOpen), best])
  }
  const firstOf = new Map(
    lines.map((line) => [line, line.reduce((least, { order }) => Math.min(least, order), Infinity)]),
  )
  return lines.sort((a, b) => firstOf.get(a)! - firstOf.get(b)!)
}

function endOf(line: readonly Seen[]): number {
  const last = line[line.length - 1]
  return last.s + last.alongM
}

function* piecesOf(lines: readonly Seen[][], even: Evenness): Generator<number, Seen[][]> {
  const pieces: Seen[][] = []
  for (const [k, line] of lines.entries()) {
    for (const piece of evenPieces(line, even)) pieces.push(piece)
    if (k % 50 === 0) yield k / lines.length
  }
  return pieces
}

/** Parts a line where the gap changes, so that each piece keeps the tolerance when its row is fitted. */
function evenPieces(line: readonly Seen[], even: Evenness): Seen[][] {
  const { toleranceM } = even
  const gaps = line.slice(1).map((table, k) => table.s - line[k].s - line[k].alongM)
  const pieces: Seen[][] = []
  let from = 0
  while (from < line.length) {
    let to = from + 1
    // a wide gap at the head of a piece belongs between rows where the next gap is narrower
    const isParted = to + 1 < line.length && gaps[from] - gaps[to] > 2 * toleranceM
    if (!isParted && to < line.length) {
      let sum = gaps[from]
      to++
      while (to < line.length) {
        const usual = sum / (to - from - 1)
        if (Math.abs(gaps[to - 1] - usual) > 2 * toleranceM) break
        sum += gaps[to - 1]
        to++
      }
    }
    pieces.push(...withinTolerance(line.slice(from, to), even))
    from = to
  }
  return pieces
}

/** The piece, or its halves where one of its tables would be moved too far. */
function withinTolerance(piece: Seen[], even: Evenness): Seen[][] {
  if (piece.length === 1 || fit(piece).moveM <= even.toleranceM) return [piece]
  const middle = Math.ceil(piece.length / 2)
  return [...withinTolerance(piece.slice(0, middle), even), ...withinTolerance(piece.slice(middle), even)]
}

interface Fitted {
  readonly x: number
  readonly y: number
  readonly bearingDeg: number
  readonly gapM: number
  readonly moveM: number
}

/**
 * The even row nearest to the tables, by least squares of x and of y over the number of gaps passed: corner of table i =
 * start + (lengths before it) · direction + i · gap · direction.
 */
function fit(piece: readonly Seen[]): Fitted {
  const n = piece.length
  const first = piece[0].table
  const last = piece[n - 1].table
  const lengthM = Math.hypot(last.x - first.x, last.y - first.y)
  const along = { x: (last.x - first.x) / lengthM, y: (last.y - first.y) / lengthM }
  // what remains when the tables' own lengths are taken off is a straight line in i
  let [sumU, sumIU, sumC, sumIC, before] = [0, 0, 0, 0, 0]
  const places: { readonly u: number; readonly c: number; readonly before: number }[] = []
  piece.forEach(({ table, alongM }, i) => {
    const [dx, dy] = [table.x - first.x, table.y - first.y]
    const u = dx * along.x + dy * along.y - before
    const c = dy * along.x - dx * along.y
    places.push({ u, c, before })
    sumU += u
    sumIU += i * u
    sumC += c
    sumIC += i * c
    before += alongM
  })
  const middle = (n - 1) / 2
  const spread = (n * (n * n - 1)) / 12
  const gap = (sumIU - middle * sumU) / spread
  const gapM = Math.max(gap, 0)
  const u0 = sumU / n - middle * gapM
  // across, the line may lean a little against the one from first to last
  const runM = lengthM / (n - 1)
  const lean = (sumIC - middle * sumC) / spread / runM
  const c0 = sumC / n - middle * lean * runM
  const moveM = places.reduce((most, { u, c, before: at }, i) => {
    const s = u0 + i * gapM
    return Math.max(most, Math.hypot(s - u, c0 + lean * (at + s) - c))
  }, 0)
  const turned = { x: along.x - lean * along.y, y: along.y + lean * along.x }
  const bearing = Math.atan2(turned.x, turned.y) / toRad
  return {
    x: first.x + u0 * along.x - c0 * along.y,
    y: first.y + u0 * along.y + c0 * along.x,
    bearingDeg: positiveDeg(bearing),
    gapM,
    moveM,
  }
}

/** A bearing within 0 … 360, never 360 itself. */
export function positiveDeg(bearingDeg: number): number {
  const turned = ((bearingDeg % 360) + 360) % 360
  return turned >= 360 ? 0 : turned
}

function rowOf(piece: readonly Seen[], label: string, even: Evenness) {
  const first = piece[0].table
  const fitted: Fitted =
    piece.length === 1
      ? { x: first.x, y: first.y, bearingDeg: positiveDeg(first.bearingDeg), gapM: even.gapM, moveM: 0 }
      : fit(piece)
  const runs: { count: number; type: string }[] = []
  for (const { table } of piece) {
    const { type } = table
    const run = runs.at(-1)
    if (run && run.type === type) run.count++
    else runs.push({ count: 1, type })
  }
  const tableLabels = Object.fromEntries(
    piece.flatMap(({ table }, i) => (table.label === '' ? [] : [[String(i + 1), table.label]])),
  )
  const row: NewRow = {
    label,
    originM: { x: fitted.x, y: fitted.y },
    bearingDeg: fitted.bearingDeg,
    gapM: fitted.gapM,
    runs,
    links: even.links,
    tableLabels,
  }
  return { row, moveM: fitted.moveM }
}
