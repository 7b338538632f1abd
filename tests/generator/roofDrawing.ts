import { newSite } from '../../src/model/newSite.ts'
import type { Drawing } from '../../src/model/schema/drawing.ts'
import type { Conductor } from '../../src/model/schema/equipment.ts'
import type { Plan } from '../../src/model/schema/planning.ts'
import type { Row } from '../../src/model/schema/row.ts'
import type { TableType } from '../../src/model/schema/tableType.ts'
import { planOf } from './planOf.ts'

/*
 * Three rows of two tables on the sheet of a low roof, two aluminium rails under every table, each frame held by
 * two clamps on either rail. One conductor comes up from the earth bar and takes the rows one after the other.
 *
 *         ├ R3 ══T1══•══T2══
 *         ├ R2 ══T1══•══T2══        ═ table   • jumper   ├ lay-in lug
 *         ├ R1 ══T1══•══T2══
 *     E1─B1
 *        G1
 */
const rowNumbers = [1, 2, 3] as const
const tiltDeg = 8
const lowerRailUpM = 0.4
const planFactor = Math.cos((tiltDeg * Math.PI) / 180)
const rowSouthM = (row: number) => (row - 1) * 2.2
const bar = { x: -2.5, y: -3.4 }

const tableType: TableType = {
  id: 'flush6',
  name: '1 high × 6, portrait, flush',
  mounting: 'flushRoof',
  tiltDeg,
  modules: {
    high: 1,
    across: 6,
    longSideM: 1.76,
    shortSideM: 1.13,
    orientation: 'portrait',
    gapAcrossM: 0.02,
    gapHighM: 0,
  },
  longMembers: [lowerRailUpM, 1.36].map((upM) => ({
    carries: [1],
    upM,
    material: 'aluminium-extrusion',
    areaMm2: 320,
    spliceAfter: [4],
  })),
  crossMembers: null,
  posts: null,
  frameBond: { clamps: { perMember: 2, kind: 'frameClamp' }, links: null },
}

const rows: readonly Row[] = rowNumbers.map((row) => ({
  id: row,
  label: `Row ${row}`,
  originM: { x: 0, y: Number(rowSouthM(row).toFixed(3)) },
  bearingDeg: 90,
  gapM: 0.3,
  runs: [{ firstTable: 1, count: 2, type: tableType.id }],
  nextTable: 3,
  links: { count: 1, kind: 'jumper' },
  tableLabels: { '1': `${row} west`, '2': `${row} east` },
}))

const lugOnRow = (row: number): Conductor['points'][number] => ({
  id: row + 2,
  atM: { x: 0, y: Number((rowSouthM(row) + lowerRailUpM * planFactor).toFixed(3)) },
  landing: { part: `R${row}/T1/L1.1`, kind: 'layInLug' },
})

const conductors: readonly Conductor[] = [
  {
    id: 1,
    label: 'Roof bonding conductor',
    material: 'copper',
    areaMm2: 16,
    size: 'mm2-16',
    closed: false,
    points: [
      { id: 1, atM: bar, landing: { part: 'B1', kind: 'crimpLug' } },
      { id: 2, atM: { x: -2.5, y: -0.4 }, landing: null },
      ...rowNumbers.map(lugOnRow),
    ],
    nextPoint: 6,
    // With the six metres down the wall, which a plan does not show.
    lengthM: 16.5,
  },
  {
    id: 2,
    label: 'Earthing conductor',
    material: 'copper',
    areaMm2: 25,
    size: 'mm2-25',
    closed: false,
    points: [
      { id: 1, atM: bar, landing: { part: 'B1', kind: 'crimpLug' } },
      { id: 2, atM: { x: -2.5, y: -5.6 }, landing: { part: 'G1', kind: 'rodClamp' } },
    ],
    nextPoint: 3,
    lengthM: null,
  },
  {
    id: 3,
    label: 'Inverter to bar',
    material: 'copper',
    areaMm2: 16,
    size: 'mm2-16',
    closed: false,
    points: [
      { id: 1, atM: bar, landing: { part: 'B1', kind: 'crimpLug' } },
      { id: 2, atM: { x: -4, y: -3.4 }, landing: { part: 'E1', kind: 'crimpLug' } },
    ],
    nextPoint: 3,
    lengthM: null,
  },
]

/** From the bar to both ends of every row, then along every row from its west end. */
const plan: Plan = planOf(
  'handover',
  'Handover test',
  'Four-wire clips: from the bar to all rows, then along each row on the upper rail.',
  [
    {
      from: 'B1',
      to: [
        'E1',
        ...rowNumbers.flatMap((row) =>
          ['T1/L1.1', 'T1/L2.1', 'T1/F1.3', 'T2/L2.7'].map((part) => `R${row}/${part}`),
        ),
      ],
    },
    ...rowNumbers.map((row) => ({
      from: `R${row}/T1/L2.1`,
      to: ['T1/L2.7', 'T1/L1.7', 'T2/L1.1', 'T2/L1.7', 'T2/F1.6'].map((part) => `R${row}/${part}`),
    })),
  ],
)

/** The roof as it was meant to be built. */
export function roofDrawing(ids: { readonly site: string; readonly revision: string }): Drawing {
  const { drawing } = newSite({ id: ids.site, revision: ids.revision, name: '', units: 'metric' })
  return {
    ...drawing,
    facts: {
      ...drawing.facts,
      soilOhmM: 60,
      soilSource: 'assumed',
      note: 'Trapezoidal sheet; the rails stand on rubber and are not bonded to the roof.',
    },
    nextIds: {
      ...drawing.nextIds,
      row: 4,
      enclosure: 2,
      earthBar: 2,
      electrode: 2,
      conductor: 4,
      aisle: 2,
    },
    tableTypes: [tableType],
    rows,
    enclosures: [
      { id: 1, label: 'Inverter', atM: { x: -4, y: -3.4 }, widthM: 0.7, depthM: 0.4, bearingDeg: 0 },
    ],
    earthBars: [{ id: 1, label: 'Earth bar', atM: bar }],
    electrodes: [
      {
        id: 1,
        label: 'Rod',
        measuredOhm: 21,
        form: 'rod',
        atM: { x: -2.5, y: -5.6 },
        lengthM: 2.4,
        diameterM: 0.016,
      },
    ],
    conductors,
    aisles: [
      {
        id: 1,
        pathM: [
          { x: -1, y: -1 },
          { x: -1, y: 7 },
        ],
      },
    ],
    plans: [plan],
  }
}
