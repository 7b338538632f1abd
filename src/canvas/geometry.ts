import { patternOfRun } from '../layout/partIndex.ts'
import { runFrame } from '../layout/positions.ts'
import type { TableSpot } from '../layout/rowIndex.ts'
import type { SiteIndex } from '../layout/siteIndex.ts'
import type { PointM } from '../model/schema/primitives.ts'
import { jointChanges } from '../network/jointChanges.ts'
import { itemGeometry, type ItemGeometry } from './itemGeometry.ts'
import type { RectM } from './mapTypes.ts'
import type { PathSet } from './pathSet.ts'
import { typeGeometry, type TypeGeometry } from './typeGeometry.ts'

/**
 * Where tables stand. Tables of a run are evenly spaced, so that a run is one line of numbers: table t has
 * its corner at corner + t · stepM · along; inside it x metres along and y up add x · along + y · up, with
 * up = (−along.y, along.x).
 */
export interface RunGeometry {
  readonly count: number
  readonly cornerX: Float64Array
  readonly cornerY: Float64Array
  readonly alongX: Float64Array
  readonly alongY: Float64Array
  readonly stepM: Float64Array
  /** Box around each run: west, south, east, north. */
  readonly boxes: Float64Array
}

/** All that the map draws and hits, in metres; a few numbers for each run and each drawn item. */
export interface MapGeometry {
  readonly index: SiteIndex
  readonly boundsM: RectM
  readonly types: readonly (TypeGeometry | null)[]
  readonly runs: RunGeometry
  readonly items: ItemGeometry
  /** Joints that the pattern puts there and design or findings take away. */
  readonly absentJoints: ReadonlySet<number>
  /** Of them those that were found missing, though they are drawn, in ascending order. */
  readonly missingJoints: Int32Array
  /** Shortest side of any module as seen in plan; 1 where there is none. */
  readonly shortSideM: number
  /** The same of any table; infinite where there is none. */
  readonly tableShortM: number
}

/** Around a site without anything in it. */
const emptyHalfM = 50

/** O(runs + drawn items + parts and joints of each table type), whatever the number of tables. */
export function buildGeometry(index: SiteIndex): MapGeometry {
  const types = index.patterns.map((pattern) => (pattern ? typeGeometry(pattern) : null))
  const runs = runGeometry(index, types)
  const items = itemGeometry(index)
  return {
    index,
    boundsM: boundsOf(runs, items),
    types,
    runs,
    items,
    ...absentJoints(index),
    tableShortM: Math.min(
      ...types.map((type) => (type ? Math.min(type.pattern.size.alongM, type.pattern.size.upM) : Infinity)),
    ),
    shortSideM: Math.min(
      ...types.map((type) => type?.shortSideM ?? Infinity),
      types.some(Boolean) ? Infinity : 1,
    ),
  }
}

function runGeometry(index: SiteIndex, types: readonly (TypeGeometry | null)[]): RunGeometry {
  const { runs } = index.rows
  const count = runs.count.length
  const cornerX = new Float64Array(count)
  const cornerY = new Float64Array(count)
  const alongX = new Float64Array(count)
  const alongY = new Float64Array(count)
  const stepM = new Float64Array(count)
  const boxes = new Float64Array(4 * count)
  for (let run = 0; run < count; run++) {
    const { corner, along, up } = runFrame(index, run)
    cornerX[run] = corner.x
    cornerY[run] = corner.y
    alongX[run] = along.x
    alongY[run] = along.y
    stepM[run] = patternOfRun(index, run).size.alongM + index.drawing.rows[runs.row[run]].gapM
    const { minX, minY, maxX, maxY } = types[runs.type[run]]!.box
    const endX = maxX + (runs.count[run] - 1) * stepM[run]
    // far and near end along the row, low and high edge up from it: the signs pick the outermost
    const westEast = [minX * along.x, endX * along.x, minY * up.x, maxY * up.x]
    const southNorth = [minX * along.y, endX * along.y, minY * up.y, maxY * up.y]
    boxes[4 * run] = corner.x + Math.min(westEast[0], westEast[1]) + Math.min(westEast[2], westEast[3])
    boxes[4 * run + 1] =
      corner.y + Math.min(southNorth[0], southNorth[1]) + Math.min(southNorth[2], southNorth[3])
    boxes[4 * run + 2] = corner.x + Math.max(westEast[0], westEast[1]) + Math.max(westEast[2], westEast[3])
    boxes[4 * run + 3] =
      corner.y + Math.max(southNorth[0], southNorth[1]) + Math.max(southNorth[2], southNorth[3])
  }
  return { count, cornerX, cornerY, alongX, alongY, stepM, boxes }
}

function boundsOf(runs: RunGeometry, items: ItemGeometry): RectM {
  const bounds = { minX: Infinity, minY: Infinity, maxX: -Infinity, maxY: -Infinity }
  const add = (west: number, south: number, east: number, north: number) => {
    bounds.minX = Math.min(bounds.minX, west)
    bounds.minY = Math.min(bounds.minY, south)
    bounds.maxX = Math.max(bounds.maxX, east)
    bounds.maxY = Math.max(bounds.maxY, north)
  }
  const addBoxes = (boxes: Float64Array) => {
    for (let i = 0; i < boxes.length; i += 4) add(boxes[i], boxes[i + 1], boxes[i + 2], boxes[i + 3])
  }
  addBoxes(runs.boxes)
  const { enclosures, earthBars } = items
  for (let i = 0; i < enclosures.length; i += 6) {
    const reach = Math.hypot(enclosures[i + 4], enclosures[i + 5])
    add(enclosures[i] - reach, enclosures[i + 1] - reach, enclosures[i] + reach, enclosures[i + 1] + reach)
  }
  for (let i = 0; i < earthBars.length; i += 2) {
    add(earthBars[i], earthBars[i + 1], earthBars[i], earthBars[i + 1])
  }
  const ways: readonly PathSet[] = [items.strips, items.conductors, items.aisles, items.obstacles]
  for (const { boxes } of ways) addBoxes(boxes)
  if (bounds.minX <= bounds.maxX) return bounds
  return { minX: -emptyHalfM, minY: -emptyHalfM, maxX: emptyHalfM, maxY: emptyHalfM }
}

function absentJoints(index: SiteIndex): Pick<MapGeometry, 'absentJoints' | 'missingJoints'> {
  const kindNumber = new Map(index.drawing.jointKinds.map(({ id }, k) => [id, k]))
  const absentIn = (asBuilt: boolean) => {
    const { changes } = jointChanges(index, kindNumber, asBuilt)
    return new Set([...changes].flatMap(([joint, change]) => (change === 'absent' ? [joint] : [])))
  }
  const absent = absentIn(true)
  const byDesign = absentIn(false)
  const missing = [...absent].filter((joint) => !byDesign.has(joint)).sort((a, b) => a - b)
  return { absentJoints: absent, missingJoints: Int32Array.from(missing) }
}

export function typeOfRun({ index, types }: MapGeometry, run: number): TypeGeometry {
  return types[index.rows.runs.type[run]]!
}

/** The place in plan of a point inside a table. O(1). */
export function tablePointM({ runs }: MapGeometry, { run, place }: TableSpot, x: number, y: number): PointM {
  const along = place * runs.stepM[run] + x
  return {
    x: runs.cornerX[run] + along * runs.alongX[run] - y * runs.alongY[run],
    y: runs.cornerY[run] + along * runs.alongY[run] + y * runs.alongX[run],
  }
}

/** Corners of a table in plan, the lower outer one first, against the clock; with a margin around it. */
export function tableCornersM(geometry: MapGeometry, spot: TableSpot, marginM = 0): readonly PointM[] {
  const { alongM, upM } = typeOfRun(geometry, spot.run).pattern.size
  const corners = [
    [-marginM, -marginM],
    [alongM + marginM, -marginM],
    [alongM + marginM, upM + marginM],
    [-marginM, upM + marginM],
  ]
  return corners.map(([x, y]) => tablePointM(geometry, spot, x, y))
}
