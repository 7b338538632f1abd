import { defaultAccess, newSite } from '../../src/model/newSite.ts'
import type { Drawing } from '../../src/model/schema/drawing.ts'
import type { Conductor } from '../../src/model/schema/equipment.ts'
import type { Plan } from '../../src/model/schema/planning.ts'
import type { Row } from '../../src/model/schema/row.ts'
import type { TableType } from '../../src/model/schema/tableType.ts'
import { planOf } from './planOf.ts'

/*
 * Six rows of eight tables on posts, rows 6.5 m apart, modules facing south. Within a row one jumper joins each
 * table to the next; a bare copper conductor along the west ends ties the rows to the earth bar and two rods.
 *
 *     G2
 *     │
 *     ├ R6 ═══T1═══•═══T2═══•═══T3═══• … •═══T8═══
 *     ├ R5
 *     ├ R4                               ═ table   • jumper
 *   E1┼B1
 *     ├ R3
 *     ├ R2
 *     ├ R1
 *     │
 *     G1
 */
export const fieldRows = 6
export const fieldTables = 8

const rowPitchM = 6.5
const tiltDeg = 25
const lowestPurlinUpM = 0.5
const landingUpM = lowestPurlinUpM * Math.cos((tiltDeg * Math.PI) / 180)
const bar = { x: -1.2, y: 16.6 }

const tableType: TableType = {
  id: 'fixed20',
  name: '2 high × 10, portrait',
  mounting: 'fixedTilt',
  tiltDeg,
  modules: {
    high: 2,
    across: 10,
    longSideM: 2.28,
    shortSideM: 1.13,
    orientation: 'portrait',
    gapAcrossM: 0.02,
    gapHighM: 0.02,
  },
  longMembers: [lowestPurlinUpM, 1.78, 2.8, 4.08].map((upM, m) => ({
    carries: [m < 2 ? 1 : 2],
    upM,
    material: 'galvanised-steel',
    areaMm2: 420,
    spliceAfter: [6],
  })),
  crossMembers: { stations: [2, 5, 8, 10], bracketKind: 'bracket' },
  posts: {
    stations: [2, 5, 8, 10],
    lines: 2,
    support: 'fixed',
    bondKinds: ['bracket'],
    soil: { buriedM: 1.5, diameterM: 0.1 },
  },
  frameBond: { clamps: { perMember: 1, kind: 'frameClamp' }, links: null },
}

const rowNumbers = Array.from({ length: fieldRows }, (_, r) => r + 1)
const tableNumbers = Array.from({ length: fieldTables }, (_, t) => t + 1)
const rowSouthM = (row: number) => (row - 1) * rowPitchM

const rows: readonly Row[] = rowNumbers.map((row) => ({
  id: row,
  label: `Row ${row}`,
  originM: { x: 0, y: rowSouthM(row) },
  bearingDeg: 90,
  gapM: 0.52,
  runs: [{ firstTable: 1, count: fieldTables, type: tableType.id }],
  nextTable: fieldTables + 1,
  links: { count: 1, kind: 'jumper' },
  tableLabels: Object.fromEntries(tableNumbers.map((table) => [String(table), `${row}-0${table}`])),
}))

const lugOnRow = (row: number) => ({
  atM: { x: 0, y: Number((rowSouthM(row) + landingUpM).toFixed(3)) },
  landing: { part: `R${row}/T1/L1.1`, kind: 'crimpLug' },
})
const rods = [
  { x: 0, y: -3 },
  { x: 0, y: 40 },
]

function conductorOf(
  id: number,
  label: string,
  areaMm2: number,
  points: readonly Omit<Conductor['points'][number], 'id'>[],
): Conductor {
  return {
    id,
    label,
    material: 'copper',
    areaMm2,
    size: `mm2-${areaMm2}`,
    closed: false,
    points: points.map((point, k) => ({ id: k + 1, ...point })),
    nextPoint: points.length + 1,
    lengthM: null,
  }
}

const conductors = [
  conductorOf(1, 'Main bonding conductor', 35, [
    { atM: rods[0], landing: { part: 'G1', kind: 'rodClamp' } },
    lugOnRow(1),
    lugOnRow(2),
    lugOnRow(3),
    { atM: bar, landing: { part: 'B1', kind: 'crimpLug' } },
    lugOnRow(4),
    lugOnRow(5),
    lugOnRow(6),
    { atM: rods[1], landing: { part: 'G2', kind: 'rodClamp' } },
  ]),
  conductorOf(2, 'Inverter to bar', 16, [
    { atM: bar, landing: { part: 'B1', kind: 'crimpLug' } },
    { atM: { x: -2.6, y: 16.6 }, landing: { part: 'E1', kind: 'crimpLug' } },
  ]),
]

/** From the bar to every row, then in every row from the middle of its fourth table to all others. */
const plan: Plan = planOf(
  'firstTest',
  'First test of the field',
  'One set-up at the bar, then one in the middle of every row. 50 m of lead reaches all of them.',
  [
    { from: 'B1', to: ['E1', ...rowNumbers.map((row) => `R${row}/T1/L4.1`)] },
    ...rowNumbers.map((row) => ({
      from: `R${row}/T4/L1.6`,
      to: ['T1/L4.1', 'T2/L1.1', 'T3/F1.5', 'T5/L1.11', 'T6/F1.6', 'T7/L4.11', 'T8/L1.1'].map(
        (part) => `R${row}/${part}`,
      ),
    })),
  ],
)

/** The aisle of the rows' west ends, and one south of each row. */
const aisles = [
  {
    id: 1,
    pathM: [
      { x: -2, y: -4 },
      { x: -2, y: 41 },
    ],
  },
  ...rowNumbers.map((row) => ({
    id: row + 1,
    pathM: [
      { x: -2, y: rowSouthM(row) - 1 },
      { x: 97, y: rowSouthM(row) - 1 },
    ],
  })),
]

/** The six rows as they were meant to be built. */
export function fieldDrawing(ids: { readonly site: string; readonly revision: string }): Drawing {
  const { drawing } = newSite({ id: ids.site, revision: ids.revision, name: '', units: 'metric' })
  return {
    ...drawing,
    facts: {
      ...drawing.facts,
      soilOhmM: 100,
      soilSource: 'Sandy loam, 80 to 120 ohm metres by the ground report',
      ambientC: 18,
      note: 'Posts are rammed 1.5 m deep. The modules face south.',
    },
    nextIds: {
      ...drawing.nextIds,
      row: fieldRows + 1,
      enclosure: 2,
      earthBar: 2,
      electrode: 3,
      conductor: 3,
      aisle: aisles.length + 1,
    },
    tableTypes: [tableType],
    rows,
    enclosures: [
      { id: 1, label: 'Inverter 1', atM: { x: -2.6, y: 16.6 }, widthM: 1.1, depthM: 0.6, bearingDeg: 90 },
    ],
    earthBars: [{ id: 1, label: 'Main earth bar', atM: bar }],
    electrodes: rods.map((atM, k) => ({
      id: k + 1,
      label: k === 0 ? 'South rod' : 'North rod',
      measuredOhm: null,
      form: 'rod',
      atM,
      lengthM: 2.4,
      diameterM: 0.016,
    })),
    conductors,
    access: defaultAccess.map((access) =>
      access.part === 'electrode' ? { ...access, reachable: false } : access,
    ),
    aisles,
    plans: [plan],
    sources: [
      {
        id: 'string1',
        form: 'pvString',
        name: 'String of row 1',
        openCircuitV: 980,
        shortCircuitA: 14,
        modulesInSeries: 20,
        stringsInParallel: 8,
        referencing: 'floating',
      },
      {
        id: 'auxiliary1',
        form: 'ac',
        name: 'Auxiliary supply of inverter 1',
        phaseV: 230,
        frequencyHz: 50,
        sourceOhm: 0.35,
        returnPart: 'B1',
      },
    ],
    devices: [
      {
        id: 'monitor',
        name: 'Insulation monitor of inverter 1',
        form: 'insulationMonitor',
        characteristic: '',
        ratedA: null,
        protects: 'string1',
        note: '',
      },
      {
        id: 'auxiliaryBreaker',
        name: 'Breaker of the auxiliary supply',
        form: 'circuitBreaker',
        characteristic: 'C',
        ratedA: 16,
        protects: 'auxiliary1',
        note: '',
      },
    ],
  }
}
