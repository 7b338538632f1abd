import { partKindNames } from '../../layout/partKinds.ts'
import type { TablePattern } from '../../layout/pattern.ts'
import type { PartKind } from '../../model/schema/planning.ts'

/** A place along a table, as numbers in its pattern: a part low on it, and one above that; null where there is none. */
export interface LocalRung {
  readonly low: number
  readonly high: number | null
}

/** How many places along a table points are taken at: one in its middle, or one near each end. */
export type PointsPerTable = 'middle' | 'ends'

/** Kinds of parts in the order in which a clip is put on them: a bare rail before an anodised frame. */
const preferred: readonly PartKind[] = ['longMember', 'frame', 'crossMember', 'post']

/**
 * The places of a table, along it: `low` on its lowest and `high` on its highest long member, or on what a clip
 * reaches instead. A table with a single long member has frames for its other side. Empty where no clip reaches
 * anything. O(parts).
 */
export function tableRungs(
  pattern: TablePattern,
  reachable: ReadonlySet<PartKind>,
  places: PointsPerTable,
): readonly LocalRung[] {
  const kind = preferred.find((each) => reachable.has(each) && partsOf(pattern, each).length > 0)
  if (kind === undefined) return []
  const parts = partsOf(pattern, kind)
  const lows = alongSide(pattern, parts, -1)
  const highs = alongSide(pattern, parts, 1)
  const isOneLine = pattern.yM[lows[0]] === pattern.yM[highs[0]]
  const others = isOneLine && kind === 'longMember' && reachable.has('frame') ? partsOf(pattern, 'frame') : []
  const above = isOneLine ? alongSide(pattern, others, 1) : highs
  return placesAmong(pattern, lows, places).map((low) => ({ low, high: nearestAlong(pattern, above, low) }))
}

function partsOf({ partKind }: TablePattern, kind: PartKind): readonly number[] {
  const parts: number[] = []
  partKind.forEach((code, part) => {
    if (partKindNames[code] === kind) parts.push(part)
  })
  return parts
}

/** Of these parts those furthest down (−1) or up (1) the slope, along the table. */
function alongSide({ xM, yM }: TablePattern, parts: readonly number[], side: -1 | 1): readonly number[] {
  const outermost = Math.max(...parts.map((part) => side * yM[part]))
  return parts.filter((part) => side * yM[part] === outermost).toSorted((a, b) => xM[a] - xM[b])
}

function placesAmong(
  { xM }: TablePattern,
  parts: readonly number[],
  places: PointsPerTable,
): readonly number[] {
  const [first, last] = [parts[0], parts[parts.length - 1]]
  if (places === 'ends') return first === last ? [first] : [first, last]
  const middleM = (xM[first] + xM[last]) / 2
  return [parts.toSorted((a, b) => Math.abs(xM[a] - middleM) - Math.abs(xM[b] - middleM) || a - b)[0]]
}

function nearestAlong({ xM }: TablePattern, parts: readonly number[], to: number): number | null {
  let nearest: number | null = null
  for (const part of parts) {
    if (nearest === null || Math.abs(xM[part] - xM[to]) < Math.abs(xM[nearest] - xM[to])) nearest = part
  }
  return nearest
}
