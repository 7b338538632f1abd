import { newSite } from '../../src/model/newSite.ts'
import type { Drawing } from '../../src/model/schema/drawing.ts'
import type { TableType } from '../../src/model/schema/tableType.ts'
import { openNameBook, type NameBook } from '../../src/text/places.ts'

/** Two high, three across, clamped twice per rail, with cross members and two lines of posts. */
const type: TableType = {
  id: 'twoByThree',
  name: '2 high × 3',
  mounting: 'fixedTilt',
  tiltDeg: 20,
  modules: {
    high: 2,
    across: 3,
    longSideM: 2,
    shortSideM: 1,
    orientation: 'portrait',
    gapAcrossM: 0.02,
    gapHighM: 0.02,
  },
  longMembers: [1, 2].map((high) => ({
    carries: [high],
    upM: high,
    material: 'aluminium-extrusion' as const,
    areaMm2: 600,
    spliceAfter: [2],
  })),
  crossMembers: { stations: [1, 4], bracketKind: 'bracket' },
  posts: {
    stations: [1, 4],
    lines: 2,
    support: 'fixed',
    bondKinds: ['bracket', 'jumper'],
    soil: { buriedM: 1.5, diameterM: 0.1 },
  },
  frameBond: {
    clamps: { perMember: 2, kind: 'frameClamp' },
    links: { direction: 'high', kind: 'frameLink' },
  },
}

const oneClamp: TableType = {
  ...type,
  id: 'oneClamp',
  posts: { ...type.posts!, lines: 1 },
  frameBond: { clamps: { perMember: 1, kind: 'frameClamp' }, links: null },
}

/** A site in which nearly everything that can have a painted label has one, and its like has none. */
export function namedDrawing(units: 'metric' | 'us' = 'metric'): Drawing {
  const empty = newSite({
    id: '00000000-0000-4000-8000-000000000001',
    revision: '00000000-0000-4000-8000-000000000002',
    name: 'Names',
    units,
  }).drawing
  const point = (id: number, x: number, part: string | null) => ({
    id,
    atM: { x, y: 0 },
    landing: part === null ? null : { part, kind: 'crimpLug' },
  })
  const conductor = {
    material: 'copper' as const,
    areaMm2: 16,
    size: null,
    closed: false,
    nextPoint: 9,
    lengthM: null,
  }
  const row = { originM: { x: 0, y: 0 }, bearingDeg: 90, gapM: 0.3 }
  return {
    ...empty,
    tableTypes: [type, oneClamp],
    rows: [
      {
        ...row,
        id: 2,
        label: '',
        runs: [{ firstTable: 1, count: 5, type: 'oneClamp' }],
        nextTable: 6,
        links: { count: 1, kind: 'jumper' },
        tableLabels: {},
      },
      {
        ...row,
        id: 3,
        label: 'North field',
        runs: [
          { firstTable: 1, count: 2, type: 'twoByThree' },
          { firstTable: 9, count: 1, type: 'twoByThree' },
          { firstTable: 3, count: 2, type: 'twoByThree' },
        ],
        nextTable: 10,
        links: { count: 2, kind: 'jumper' },
        tableLabels: { 4: 'A-17' },
      },
    ],
    enclosures: [{ id: 1, label: 'INV-2', atM: { x: 0, y: 0 }, widthM: 1, depthM: 1, bearingDeg: 0 }],
    earthBars: [
      { id: 1, label: 'Main earth bar', atM: { x: 0, y: 0 } },
      { id: 2, label: '', atM: { x: 0, y: 0 } },
    ],
    electrodes: [
      { id: 1, label: '', measuredOhm: null, form: 'rod', atM: { x: 0, y: 0 }, lengthM: 3, diameterM: 0.016 },
    ],
    conductors: [
      {
        ...conductor,
        id: 5,
        label: 'main bonding conductor',
        points: [point(1, 0, 'B1'), point(2, 10, null), point(3, 20, 'R2/T4/L1.1')],
      },
      { ...conductor, id: 6, label: '', points: [point(1, 0, null), point(2, 10, 'G1')] },
    ],
    extraJoints: [
      { id: 4, label: 'fence bond', from: 'B2', to: 'E1', kind: 'jumper', medianOhm: null },
      { id: 5, label: '', from: 'R2/T1/F1.1', to: 'R2/T1/F1.2', kind: 'jumper', medianOhm: null },
    ],
    asBuilt: [
      {
        id: 2,
        on: null,
        note: '',
        found: { form: 'jointAdded', from: 'R2/T1/F1.1', to: 'R2/T2/F1.1', kind: 'jumper', medianOhm: null },
      },
    ],
  }
}

export function namedBook(units: 'metric' | 'us' = 'metric'): NameBook {
  return openNameBook(namedDrawing(units))
}

/** The same rows as trackers, whose long members carry what is said of each: none for a tube. */
export function trackerBook(carries: readonly number[][] = [[], [1, 2]]): NameBook {
  const drawing = namedDrawing()
  const tracker = (table: TableType): TableType => ({
    ...table,
    mounting: 'tracker',
    longMembers: carries.map((high) => ({ ...type.longMembers[0], carries: high })),
  })
  return openNameBook({ ...drawing, tableTypes: drawing.tableTypes.map(tracker) })
}
