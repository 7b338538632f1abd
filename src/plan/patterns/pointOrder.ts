import { firstPartOf, partKindAt, patternOfRun } from '../../layout/partIndex.ts'
import { partKindNames } from '../../layout/partKinds.ts'
import type { SiteIndex } from '../../layout/siteIndex.ts'
import type { Drawing } from '../../model/schema/drawing.ts'
import type { PartKind } from '../../model/schema/planning.ts'
import { straightM } from '../../walk/reach.ts'
import { tableRungs, type LocalRung, type PointsPerTable } from './tableRungs.ts'

/** A place at which there is something to clip on: a part, and where there are two sides the one across from it. */
export interface Rung {
  readonly low: number
  readonly high: number | null
}

/** Points that are walked in one go: those of a row, in line, or some bars and enclosures between rows. */
export interface Stretch {
  readonly row: number | null
  readonly rungs: readonly Rung[]
}

/** Kinds of parts that a clip reaches, as the site says. */
export function reachableKinds({ access }: Drawing): ReadonlySet<PartKind> {
  return new Set(access.flatMap(({ part, reachable }) => (reachable ? [part] : [])))
}

/**
 * The points of a site in the order of a walk: from the first earth bar to whatever is nearest, bars, enclosures and
 * electrodes one by one, rows from the nearer end to the other one. O(rows² + tables).
 */
export function pointsInOrder(
  index: SiteIndex,
  reachable: ReadonlySet<PartKind>,
  places: PointsPerTable,
): readonly Stretch[] {
  const left: Stretch[] = [...itemStretches(index, reachable), ...rowStretches(index, reachable, places)]
  const ordered: Stretch[] = []
  let standing = left[0]?.rungs[0].low
  while (left.length > 0) {
    const { at, isFromEnd } = nearestStretch(index, left, standing)
    const [next] = left.splice(at, 1)
    const stretch = isFromEnd ? { ...next, rungs: next.rungs.toReversed() } : next
    standing = stretch.rungs[stretch.rungs.length - 1].low
    const before = ordered[ordered.length - 1]
    if (stretch.row === null && before?.row === null)
      ordered[ordered.length - 1] = { row: null, rungs: [...before.rungs, ...stretch.rungs] }
    else ordered.push(stretch)
  }
  return ordered
}

function nearestStretch(index: SiteIndex, left: readonly Stretch[], standing: number) {
  let best = { at: 0, isFromEnd: false, wayM: Infinity }
  left.forEach(({ rungs }, at) => {
    const toFirstM = straightM(index, standing, rungs[0].low)
    const toLastM = straightM(index, standing, rungs[rungs.length - 1].low)
    if (toFirstM < best.wayM) best = { at, isFromEnd: false, wayM: toFirstM }
    if (toLastM < best.wayM) best = { at, isFromEnd: true, wayM: toLastM }
  })
  return best
}

/** Earth bars first, so that the walk begins at one. Conductor ends are lugs on something that is a point itself. */
function itemStretches(index: SiteIndex, reachable: ReadonlySet<PartKind>): readonly Stretch[] {
  const stretches: Stretch[] = []
  const stretchesOf = (first: number, end: number) => {
    for (let part = first; part < end; part++) {
      const kind = partKindNames[partKindAt(index, part)]
      if (kind !== 'remoteEarth' && reachable.has(kind)) {
        stretches.push({ row: null, rungs: [{ low: part, high: null }] })
      }
    }
  }
  stretchesOf(index.earthBarStart, index.electrodeStart)
  stretchesOf(index.enclosureStart, index.earthBarStart)
  stretchesOf(index.electrodeStart, index.conductorStart)
  return stretches
}

function rowStretches(
  index: SiteIndex,
  reachable: ReadonlySet<PartKind>,
  places: PointsPerTable,
): readonly Stretch[] {
  const { runStart, runs } = index.rows
  const ofType = index.patterns.map((pattern) => (pattern ? tableRungs(pattern, reachable, places) : []))
  return index.drawing.rows.flatMap((_, row): Stretch[] => {
    const rungs: Rung[] = []
    for (let run = runStart[row]; run < runStart[row + 1]; run++) {
      for (let place = 0; place < runs.count[run]; place++) {
        const first = firstPartOf(index, { run, place })
        rungs.push(...ofType[runs.type[run]].map((local) => placed(local, first)))
      }
    }
    return rungs.length > 0 ? [{ row, rungs }] : []
  })
}

function placed({ low, high }: LocalRung, first: number): Rung {
  return { low: first + low, high: high === null ? null : first + high }
}

/** How many tables of a site have no part that a clip reaches. O(runs). */
export function tablesOutOfAccess(index: SiteIndex, reachable: ReadonlySet<PartKind>): number {
  const { runs } = index.rows
  let tables = 0
  for (let run = 0; run < runs.count.length; run++) {
    if (tableRungs(patternOfRun(index, run), reachable, 'middle').length === 0) tables += runs.count[run]
  }
  return tables
}
