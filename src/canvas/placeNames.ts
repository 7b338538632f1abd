import { tableIdAt, type TableSpot } from '../layout/rowIndex.ts'
import type { SiteIndex } from '../layout/siteIndex.ts'
import type { PointM } from '../model/schema/primitives.ts'
import { labelled } from '../text/places.ts'
import { tablePointM, typeOfRun, type MapGeometry } from './geometry.ts'

/** A row by the name that is painted on site, and the line through its middle from its first end to its last. */
export interface RowName {
  readonly text: string
  readonly fromM: PointM
  readonly toM: PointM
  /** Half of what its tables measure across it. */
  readonly halfM: number
}

export interface RowNames {
  readonly rows: readonly RowName[]
  /** How far apart neighbouring rows lie, in the median; infinite where there is only one. */
  readonly pitchM: number
}

/** O(rows log rows). */
export function rowNames(geometry: MapGeometry): RowNames {
  const { index } = geometry
  const rows = index.drawing.rows.map((_, row) => rowName(geometry, row))
  const pitches = rows.flatMap((row, i) => (i === 0 ? [] : apartM(rows[i - 1], row))).sort((a, b) => a - b)
  return { rows, pitchM: pitches.length > 0 ? pitches[pitches.length >> 1] : Infinity }
}

function rowName(geometry: MapGeometry, row: number): RowName {
  const { runStart, runs } = geometry.index.rows
  const first = runStart[row]
  const last = runStart[row + 1] - 1
  const { upM } = typeOfRun(geometry, first).pattern.size
  const end = typeOfRun(geometry, last).pattern.size
  return {
    text: rowText(geometry.index, row),
    fromM: tablePointM(geometry, { run: first, place: 0 }, 0, upM / 2),
    toM: tablePointM(geometry, { run: last, place: runs.count[last] - 1 }, end.alongM, end.upM / 2),
    halfM: Math.max(upM, end.upM) / 2,
  }
}

/** Distance of a row from the line through another; nothing for rows that lie in one line. */
function apartM(a: RowName, b: RowName): readonly number[] {
  const dx = a.toM.x - a.fromM.x
  const dy = a.toM.y - a.fromM.y
  const lengthM = Math.hypot(dx, dy)
  if (lengthM === 0) return []
  const apart = Math.abs((b.fromM.x - a.fromM.x) * dy - (b.fromM.y - a.fromM.y) * dx) / lengthM
  return apart > a.halfM ? [apart] : []
}

/** What is painted on the row, or the word with its number. */
export function rowText({ drawing }: SiteIndex, row: number): string {
  const { label, id } = drawing.rows[row]
  return capital(label.trim() === '' ? labelled('row', '', String(id)) : label.trim())
}

/** What is painted on the table, or the word with its number. */
export function tableText(index: SiteIndex, spot: TableSpot): string {
  const id = tableIdAt(index.rows, spot)
  const label = (index.drawing.rows[index.rows.runs.row[spot.run]].tableLabels[String(id)] ?? '').trim()
  return capital(label === '' ? labelled('table', '', String(id)) : label)
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1)
}
