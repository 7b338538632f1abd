import { assert } from '../../../src/base/assert.ts'
import { randomStream } from '../../../src/base/random.ts'
import { indexSite, type SiteIndex } from '../../../src/layout/siteIndex.ts'
import type { Drawing } from '../../../src/model/schema/drawing.ts'
import { fieldDrawing } from '../../generator/fieldDrawing.ts'
import { drawUuid } from '../../generator/identity.ts'

export interface SiteSize {
  readonly rows: number
  readonly tables: number
  /** 90 runs east; any other turns the rows out of the axes of the screen. */
  readonly bearingDeg: number
}

export const modulesPerTable = 40
const rowPitchM = 6.5
/** A road after so many rows. */
const rowsOfBlock = 20
const roadM = 9

/** Rows of tables of 2 × 20 modules, in blocks with a road between them, with a rod at each end of each block. */
export function largeDrawing({ rows, tables, bearingDeg }: SiteSize): Drawing {
  const random = randomStream(11)
  const field = fieldDrawing({ site: drawUuid(random), revision: drawUuid(random) })
  const [type] = field.tableTypes
  const [row] = field.rows
  const stepM = 20 * 1.15 + row.gapM
  const turn = ((90 - bearingDeg) * Math.PI) / 180
  const turned = (x: number, y: number) => ({
    x: x * Math.cos(turn) - y * Math.sin(turn),
    y: x * Math.sin(turn) + y * Math.cos(turn),
  })
  const upOf = (r: number) => r * rowPitchM + Math.floor(r / rowsOfBlock) * roadM
  const blocks = Array.from({ length: Math.ceil(rows / rowsOfBlock) }, (_, b) => b)
  return {
    ...field,
    tableTypes: [
      {
        ...type,
        modules: { ...type.modules, across: 20 },
        longMembers: type.longMembers.map((member) => ({ ...member, spliceAfter: [6, 13] })),
        crossMembers: { stations: [2, 7, 13, 18], bracketKind: 'bracket' },
        posts: type.posts && { ...type.posts, stations: [2, 7, 13, 18] },
      },
    ],
    rows: Array.from({ length: rows }, (_, r) => ({
      ...row,
      id: r + 1,
      label: `Row ${r + 1}`,
      originM: turned(0, upOf(r)),
      bearingDeg,
      runs: [{ firstTable: 1, count: tables, type: type.id }],
      nextTable: tables + 1,
      tableLabels: {},
    })),
    nextIds: { ...field.nextIds, row: rows + 1, electrode: 2 * blocks.length + 1, aisle: blocks.length + 1 },
    conductors: [],
    plans: [],
    sources: [],
    devices: [],
    extraJoints: [],
    asBuilt: [],
    enclosures: [],
    earthBars: [],
    obstacles: [],
    electrodes: blocks.flatMap((b) =>
      [-6, tables * stepM + 4].map((x, end) => ({
        id: 2 * b + end + 1,
        label: `Rod ${2 * b + end + 1}`,
        measuredOhm: null,
        form: 'rod' as const,
        atM: turned(x, upOf(b * rowsOfBlock)),
        lengthM: 2.4,
        diameterM: 0.016,
      })),
    ),
    aisles: blocks.map((b) => ({
      id: b + 1,
      pathM: [turned(-4, upOf(b * rowsOfBlock) - 5), turned(tables * stepM + 4, upOf(b * rowsOfBlock) - 5)],
    })),
  }
}

export function largeIndex(size: SiteSize): SiteIndex {
  const index = indexSite(largeDrawing(size))
  assert(index.ok, 'the large site cannot be indexed')
  return index.value
}
