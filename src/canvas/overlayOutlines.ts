import { jointIndexOf } from '../layout/jointIndex.ts'
import { findId } from '../layout/idLookup.ts'
import { partKindAt, partIndexOf } from '../layout/partIndex.ts'
import { frameCode } from '../layout/partKinds.ts'
import { frameOutlineM } from '../layout/positions.ts'
import { tableById } from '../layout/rowIndex.ts'
import { parseJointAddress, parsePartAddress } from '../model/address.ts'
import type { PointM } from '../model/schema/primitives.ts'
import type { MapMarks } from '../state/mapMarks.ts'
import type { Picked } from '../state/picked.ts'
import { tableCornersM, type MapGeometry } from './geometry.ts'
import type { RectM } from './mapTypes.ts'
import { jointPointM, partPointM } from './markPoints.ts'

/** What is drawn around something chosen, in plan: the edge of an area, or rings around spots. */
export type Outline =
  | { readonly form: 'area'; readonly cornersM: readonly PointM[] }
  | { readonly form: 'spots'; readonly atM: readonly PointM[] }

const tableMarginM = 0.25

/** The outline of something chosen; null where it is not on the map, and for readings, which shine themselves. */
export function outlineOf(
  geometry: MapGeometry,
  marks: Pick<MapMarks, 'suspects'>,
  picked: Picked | null,
): Outline | null {
  switch (picked?.kind) {
    case undefined:
    case 'reading':
      return null
    case 'part': {
      const part = partNumber(geometry, picked.address)
      return part < 0 ? null : partOutline(geometry, part)
    }
    case 'joint': {
      const joint = jointNumber(geometry, picked.address)
      return joint < 0 ? null : { form: 'spots', atM: [jointPointM(geometry, joint)] }
    }
    case 'table': {
      const spot = tableSpot(geometry, picked.row, picked.table)
      return spot && { form: 'area', cornersM: tableCornersM(geometry, spot, tableMarginM) }
    }
    case 'suspect': {
      const joints = jointsOfGroup(geometry, marks, picked.joint)
      return joints.length === 0
        ? null
        : { form: 'spots', atM: joints.map((joint) => jointPointM(geometry, joint)) }
    }
  }
}

/** A module by its edge, anything else by a ring; null for remote earth. */
export function partOutline(geometry: MapGeometry, part: number): Outline | null {
  const { index } = geometry
  if (part < index.enclosureStart && partKindAt(index, part) === frameCode) {
    const { corner, alongEdge, upEdge } = frameOutlineM(index, part)
    const at = (a: number, u: number) => ({
      x: corner.x + a * alongEdge.x + u * upEdge.x,
      y: corner.y + a * alongEdge.y + u * upEdge.y,
    })
    return { form: 'area', cornersM: [at(0, 0), at(1, 0), at(1, 1), at(0, 1)] }
  }
  const point = partPointM(geometry, part)
  return point && { form: 'spots', atM: [point] }
}

/** The box around what is chosen, as far as it is on the map. */
export function rectOfPicked(
  geometry: MapGeometry,
  marks: MapMarks,
  picked: Picked,
  beside: readonly Picked[] = [],
): RectM | null {
  if (beside.length > 0) {
    const rect = rectOfPicked(geometry, marks, picked)
    const others = beside.map((other) => rectOfPicked(geometry, marks, other))
    return rect && rectAround([rect, ...others].flatMap((each) => (each ? cornersOf(each) : [])))
  }
  if (picked.kind !== 'reading') {
    const outline = outlineOf(geometry, marks, picked)
    return outline && rectAround(outline.form === 'area' ? outline.cornersM : outline.atM)
  }
  const mark = marks.readings.find(({ entry }) => entry === picked.entry)
  return mark ? rectOfPair(geometry, mark) : null
}

/** The box around two parts, as far as they are on the map. */
export function rectOfPair(
  geometry: MapGeometry,
  { from, to }: { readonly from: number; readonly to: number },
): RectM | null {
  const ends = [partPointM(geometry, from), partPointM(geometry, to)]
  return rectAround(ends.filter((end) => end !== null))
}

function cornersOf({ minX, minY, maxX, maxY }: RectM): readonly PointM[] {
  return [
    { x: minX, y: minY },
    { x: maxX, y: maxY },
  ]
}

function rectAround(points: readonly PointM[]): RectM | null {
  if (points.length === 0) return null
  const xs = points.map(({ x }) => x)
  const ys = points.map(({ y }) => y)
  return { minX: Math.min(...xs), minY: Math.min(...ys), maxX: Math.max(...xs), maxY: Math.max(...ys) }
}

/** All joints of the group that has this joint; the joint alone where no group has it. */
function jointsOfGroup(
  geometry: MapGeometry,
  { suspects }: Pick<MapMarks, 'suspects'>,
  address: string,
): readonly number[] {
  const joint = jointNumber(geometry, address)
  if (joint < 0) return []
  const rank = suspects.find((suspect) => suspect.joint === joint)?.rank
  if (rank === undefined) return [joint]
  return suspects.filter((suspect) => suspect.rank === rank).map((suspect) => suspect.joint)
}

export function partNumber({ index }: MapGeometry, text: string): number {
  const address = parsePartAddress(text)
  return address && address.at !== 'remoteEarth' ? partIndexOf(index, address) : -1
}

export function jointNumber({ index }: MapGeometry, text: string): number {
  const address = parseJointAddress(text)
  return address ? jointIndexOf(index, address) : -1
}

function tableSpot({ index }: MapGeometry, row: number, table: number) {
  const r = findId(index.rows.ids, row)
  return r < 0 ? null : tableById(index.rows, r, table)
}
