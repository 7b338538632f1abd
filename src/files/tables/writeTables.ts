import { patternOfRun } from '../../layout/partIndex.ts'
import { runFrame } from '../../layout/positions.ts'
import type { SiteIndex } from '../../layout/siteIndex.ts'
import type { Drawing } from '../../model/schema/drawing.ts'
import type { Units } from '../../text/units.ts'
import type { Cell } from '../csvLine.ts'
import { csvLine } from '../csvLine.ts'
import type { ExportPiece } from '../exportPiece.ts'
import { linesInPiece } from '../exportPiece.ts'
import { metresPer } from './columns.ts'

/** A table of the drawing as it stands. */
export interface DrawnTable {
  readonly address: string
  readonly row: number
  readonly rowLabel: string
  readonly table: number
  readonly label: string
  /** Lower outer corner at the row's start. */
  readonly x: number
  readonly y: number
  /** From the corner along the row, and up the slope as seen in plan. */
  readonly along: { readonly x: number; readonly y: number }
  readonly up: { readonly x: number; readonly y: number }
  readonly bearingDeg: number
  readonly type: string
  readonly typeName: string
}

/** Every table in the order of the drawing; one is in memory at a time. */
export function* drawnTables(index: SiteIndex): Generator<DrawnTable, void> {
  const { rows, drawing } = index
  const typeNames = nameTypes(drawing)
  const { runs } = rows
  for (let run = 0; run < runs.count.length; run++) {
    const row = drawing.rows[runs.row[run]]
    const type = drawing.tableTypes[runs.type[run]]
    const { corner, step, along, up } = runFrame(index, run)
    const { alongM, upM } = patternOfRun(index, run).size
    for (let place = 0; place < runs.count[run]; place++) {
      const table = runs.firstTable[run] + place
      yield {
        address: `R${row.id}/T${table}`,
        row: row.id,
        rowLabel: row.label,
        table,
        label: row.tableLabels[table] ?? '',
        x: corner.x + place * step.x,
        y: corner.y + place * step.y,
        along: { x: alongM * along.x, y: alongM * along.y },
        up: { x: upM * up.x, y: upM * up.y },
        bearingDeg: row.bearingDeg,
        type: type.id,
        typeName: typeNames[runs.type[run]],
      }
    }
  }
}

/** The name of each type, or its id where that is the only way to tell it from others. */
function nameTypes({ tableTypes }: Drawing): readonly string[] {
  const count = new Map<string, number>()
  for (const { name } of tableTypes) count.set(name, (count.get(name) ?? 0) + 1)
  return tableTypes.map(({ id, name }) => (name.trim() === '' || count.get(name)! > 1 ? id : name))
}

/** Metres to 0.1 mm or feet to 0.0001 ft, so that what is read back is the same place to the millimetre. */
export function roundedLength(lengthM: number, units: Units): number {
  const value = units === 'us' ? lengthM / metresPer.ft : lengthM
  return Math.round(value * 1e4) / 1e4 + 0
}

/** Eight places of a degree: 0.02 mm over a kilometre of row. */
const roundedBearing = (bearingDeg: number) => Math.round(bearingDeg * 1e8) / 1e8

/**
 * Tables as CSV: address, row, label, place of the lower outer corner, bearing, type. It can be imported again. Yields
 * stretches of it; the header is that of `units`.
 */
export function* writeTables(index: SiteIndex, units: Units): Generator<ExportPiece, void> {
  const unit = units === 'us' ? 'ft' : 'm'
  let text = csvLine(['address', 'row', 'label', `x (${unit})`, `y (${unit})`, 'bearing (deg)', 'type'])
  let done = 0
  for (const table of drawnTables(index)) {
    const cells: Cell[] = [
      table.address,
      table.rowLabel === '' ? `R${table.row}` : table.rowLabel,
      table.label,
      roundedLength(table.x, units),
      roundedLength(table.y, units),
      roundedBearing(table.bearingDeg),
      table.typeName,
    ]
    text += csvLine(cells)
    done++
    if (done % linesInPiece !== 0) continue
    yield { text, fraction: done / index.tableCount }
    text = ''
  }
  yield { text, fraction: 1 }
}
