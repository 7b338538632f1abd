import type { RandomStream } from '../../../../src/base/random.ts'
import { defaultAccess, newSite } from '../../../../src/model/newSite.ts'
import type { Drawing } from '../../../../src/model/schema/drawing.ts'
import type { Conductor } from '../../../../src/model/schema/equipment.ts'
import type { Row } from '../../../../src/model/schema/row.ts'
import type { TableType } from '../../../../src/model/schema/tableType.ts'
import { drawUuid } from '../../../generator/identity.ts'
import { assumed } from './assumed.ts'
import type { Family } from './families.ts'

/** What was drawn by lot about a site's shape. */
export interface Shape {
  readonly rows: number
  readonly tables: number
  readonly high: number
  readonly across: number
  /** Clamps that hold one frame, 1 to 4. */
  readonly clampsPerFrame: number
  readonly inSoil: boolean
}

/** As clamps per frame on each member, and members under each module row. */
const clampings = [
  { members: 1, perMember: 1 },
  { members: 2, perMember: 1 },
  { members: 3, perMember: 1 },
  { members: 2, perMember: 2 },
] as const

const moduleM = { long: 1.76, short: 1.13 }
const gapM = 0.4

export function drawShape({ mounting }: Family, random: RandomStream): Shape {
  const between = (from: number, to: number) => from + random.integer(to - from + 1)
  return {
    rows: between(2, 4),
    tables: mounting === 'roof' ? between(2, 3) : between(3, 5),
    high: mounting === 'fixed' ? between(1, 2) : 1,
    across: between(2, 4),
    clampsPerFrame: random.uniform() < assumed.oneClampShare ? 1 : between(2, mounting === 'tracker' ? 2 : 4),
    inSoil: mounting !== 'roof' && random.uniform() < 0.5,
  }
}

function tableTypeOf({ mounting }: Family, shape: Shape): TableType {
  const { high, across, clampsPerFrame, inSoil } = shape
  const { members, perMember } =
    mounting === 'tracker'
      ? ({ members: 1, perMember: clampsPerFrame === 1 ? 1 : 2 } as const)
      : clampings[clampsPerFrame - 1]
  const isRoof = mounting === 'roof'
  const longMembers = Array.from({ length: high * members }, (_, m) => {
    const moduleRow = Math.floor(m / members)
    const within = (0.2 + (0.6 * (m % members)) / Math.max(1, members - 1)) * moduleM.long
    return {
      carries: [moduleRow + 1],
      upM: Number((moduleRow * (moduleM.long + 0.02) + within).toFixed(2)),
      material: isRoof ? ('aluminium-extrusion' as const) : ('galvanised-steel' as const),
      areaMm2: mounting === 'tracker' ? 2300 : 380,
      spliceAfter: isRoof && across >= 3 ? [2] : [],
    }
  })
  const stations = [1, across + 1]
  return {
    id: 'table',
    name: `${high} high × ${across}`,
    mounting: isRoof ? 'flushRoof' : mounting === 'tracker' ? 'tracker' : 'fixedTilt',
    tiltDeg: isRoof ? 8 : mounting === 'tracker' ? 0 : 25,
    modules: {
      high,
      across,
      longSideM: moduleM.long,
      shortSideM: moduleM.short,
      orientation: 'portrait',
      gapAcrossM: 0.02,
      gapHighM: 0.02,
    },
    longMembers,
    crossMembers: longMembers.length > 1 && !isRoof ? { stations, bracketKind: 'bracket' } : null,
    posts: isRoof
      ? null
      : {
          stations,
          lines: 1,
          support: mounting === 'tracker' ? 'pivot' : 'fixed',
          bondKinds: [mounting === 'tracker' ? 'jumper' : 'bracket'],
          soil: inSoil ? { buriedM: 1.5, diameterM: 0.1 } : null,
        },
    frameBond: { clamps: { perMember, kind: 'frameClamp' }, links: null },
  }
}

type Point = Conductor['points'][number]

function conductorOf(
  id: number,
  label: string,
  points: readonly Omit<Point, 'id'>[],
  closed = false,
): Conductor {
  return {
    id,
    label,
    material: 'copper',
    areaMm2: 25,
    size: 'mm2-25',
    closed,
    points: points.map((point, k) => ({ id: k + 1, ...point })),
    nextPoint: points.length + 1,
    lengthM: null,
  }
}

/** Address of the first long member of a row at its near and at its far end. */
export const nearEnd = (row: number): string => `R${row}/T1/L1.1`
export const farEnd = (row: number, { tables, across }: Shape): string =>
  `R${row}/T${tables}/L1.${across + 1}`

function conductorsOf({ tie, mounting }: Family, shape: Shape, rowPitchM: number): Conductor[] {
  const rows = Array.from({ length: shape.rows }, (_, r) => r + 1)
  const lug = mounting === 'roof' ? 'layInLug' : 'crimpLug'
  const lengthM = shape.tables * (shape.across * (moduleM.short + 0.02) + gapM)
  const near = rows.map((row) => ({
    atM: { x: -0.5, y: (row - 1) * rowPitchM + 0.3 },
    landing: { part: nearEnd(row), kind: lug },
  }))
  const far = rows.map((row) => ({
    atM: { x: lengthM + 0.5, y: (row - 1) * rowPitchM + 0.3 },
    landing: { part: farEnd(row, shape), kind: lug },
  }))
  const bar = { atM: { x: -2, y: -1 }, landing: { part: 'B1', kind: 'crimpLug' } }
  const rod = { atM: { x: -2, y: -3 }, landing: { part: 'G1', kind: 'rodClamp' } }
  const toBox = conductorOf(2, 'Inverter to bar', [
    bar,
    { atM: { x: -3.5, y: -1 }, landing: { part: 'E1', kind: 'crimpLug' } },
  ])
  if (tie === 'ring') {
    const ring = conductorOf(1, 'Ring', [bar, ...near, ...far.toReversed()], true)
    return [ring, toBox, conductorOf(3, 'Earthing conductor', [bar, rod])]
  }
  const west = [conductorOf(1, 'Main bonding conductor', [rod, bar, ...near]), toBox]
  return tie === 'bothEnds' ? [...west, conductorOf(3, 'Far bonding conductor', far)] : west
}

/** A site as its designer drew it, with the catalogue that a new site starts from. */
export function drawDrawing(family: Family, shape: Shape, random: RandomStream): Drawing {
  const { drawing } = newSite({ id: drawUuid(random), revision: drawUuid(random), name: '', units: 'metric' })
  const rowPitchM = family.mounting === 'roof' ? 2.4 : 6
  const conductors = conductorsOf(family, shape, rowPitchM)
  const rows: readonly Row[] = Array.from({ length: shape.rows }, (_, r) => ({
    id: r + 1,
    label: `Row ${r + 1}`,
    originM: { x: 0, y: r * rowPitchM },
    bearingDeg: 90,
    gapM,
    runs: [{ firstTable: 1, count: shape.tables, type: 'table' }],
    nextTable: shape.tables + 1,
    links: { count: 1, kind: 'jumper' },
    tableLabels: {},
  }))
  return {
    ...drawing,
    facts: { ...drawing.facts, soilOhmM: 100, soilSource: 'assumed', ambientC: 18 },
    nextIds: {
      ...drawing.nextIds,
      row: shape.rows + 1,
      enclosure: 2,
      earthBar: 2,
      electrode: 2,
      conductor: conductors.length + 1,
    },
    tableTypes: [tableTypeOf(family, shape)],
    rows,
    enclosures: [
      { id: 1, label: 'Inverter', atM: { x: -3.5, y: -1 }, widthM: 0.7, depthM: 0.4, bearingDeg: 0 },
    ],
    earthBars: [{ id: 1, label: 'Earth bar', atM: { x: -2, y: -1 } }],
    electrodes: [
      {
        id: 1,
        label: 'Rod',
        measuredOhm: null,
        form: 'rod',
        atM: { x: -2, y: -3 },
        lengthM: 2.4,
        diameterM: 0.016,
      },
    ],
    conductors,
    access: defaultAccess,
  }
}
