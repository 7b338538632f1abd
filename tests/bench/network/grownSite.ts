import { saveSite } from '../../../src/files/saveSite.ts'
import type { Conductor } from '../../../src/model/schema/equipment.ts'
import type { Row } from '../../../src/model/schema/row.ts'
import { siteFormat, siteVersion, type Site } from '../../../src/model/schema/site.ts'
import { fieldDrawing } from '../../generator/fieldDrawing.ts'

const rowPitchM = 6.5
const ids = {
  site: '00000000-0000-4000-8000-000000000001',
  revision: '00000000-0000-4000-8000-000000000002',
}

/**
 * The demo field with another number of rows and of tables in a row, as the bytes of its file: its tables,
 * a jumper in each gap, and one conductor along the west ends with a lug on every row.
 */
export function grownSite(rowCount: number, tablesPerRow: number): Uint8Array {
  const drawing = fieldDrawing(ids)
  const rows: Row[] = Array.from({ length: rowCount }, (_, r) => ({
    ...drawing.rows[0],
    id: r + 1,
    label: `Row ${r + 1}`,
    originM: { x: 0, y: r * rowPitchM },
    runs: [{ ...drawing.rows[0].runs[0], count: tablesPerRow }],
    nextTable: tablesPerRow + 1,
    tableLabels: {},
  }))
  const site: Site = {
    format: siteFormat,
    version: siteVersion,
    id: ids.site,
    name: 'Grown field',
    drawing: {
      ...drawing,
      rows,
      nextIds: { ...drawing.nextIds, row: rowCount + 1, conductor: 2 },
      conductors: [westConductor(drawing.conductors[0], rowCount)],
      plans: [],
    },
    record: [],
  }
  return new TextEncoder().encode(saveSite(site))
}

function westConductor(drawn: Conductor, rowCount: number): Conductor {
  const points = [
    { id: 1, atM: { x: 0, y: -3 }, landing: { part: 'G1', kind: 'rodClamp' } },
    ...Array.from({ length: rowCount }, (_, r) => ({
      id: r + 2,
      atM: { x: 0, y: r * rowPitchM + 0.5 },
      landing: { part: `R${r + 1}/T1/L1.1`, kind: 'crimpLug' },
    })),
  ]
  return { ...drawn, points, nextPoint: rowCount + 2 }
}

/**
 * Fields from ten thousand to a million joints, as wide as they are deep; small ones are worked through more often,
 * since code that has just been compiled weighs more there.
 */
export const growth = [
  { rows: 9, tables: 9, rounds: 40 },
  { rows: 17, tables: 17, rounds: 20 },
  { rows: 30, tables: 30, rounds: 10 },
  { rows: 53, tables: 53, rounds: 5 },
  { rows: 94, tables: 94, rounds: 3 },
] as const
