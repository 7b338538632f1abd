import { present } from '../../../src/base/assert.ts'
import { firstPartOf, partAddressAt, partKindAt, patternOfRun } from '../../../src/layout/partIndex.ts'
import { partKindNames } from '../../../src/layout/partKinds.ts'
import { indexSite, type SiteIndex } from '../../../src/layout/siteIndex.ts'
import { writePartAddress } from '../../../src/model/address.ts'
import type { PlanPairInput } from '../../../src/model/planning.ts'
import type { Drawing } from '../../../src/model/schema/drawing.ts'
import { pointsInOrder, reachableKinds, type Stretch } from '../../../src/plan/patterns/pointOrder.ts'
import { straightM } from '../../../src/walk/reach.ts'

export function indexOf(drawing: Drawing): SiteIndex {
  const indexed = indexSite(drawing)
  return present(indexed.ok ? indexed.value : null, 'the site can be indexed')
}

export function named(index: SiteIndex, from: number, to: number): PlanPairInput {
  const name = (part: number) => writePartAddress(partAddressAt(index, part))
  return { from: name(from), to: name(to) }
}

/** All parts that a clip reaches. */
export function reachedParts(index: SiteIndex): readonly number[] {
  const reachable = reachableKinds(index.drawing)
  return Array.from({ length: index.partCount }, (_, part) => part).filter((part) => {
    const kind = partKindNames[partKindAt(index, part)]
    return kind !== 'remoteEarth' && reachable.has(kind)
  })
}

/** All of them in the order of a walk: rows as a starting pattern walks them, along each row from part to part. */
export function partsInOrder(index: SiteIndex): readonly Stretch[] {
  const isReached = new Set(reachedParts(index))
  return pointsInOrder(index, reachableKinds(index.drawing), 'ends').map((stretch) => {
    if (stretch.row === null) return stretch
    const parts = partsOfRow(index, stretch.row).filter((part) => isReached.has(part))
    const first = stretch.rungs[0].low
    const isFromEnd = straightM(index, first, parts[0]) > straightM(index, first, parts[parts.length - 1])
    const walked = isFromEnd ? parts.toReversed() : parts
    return { row: stretch.row, rungs: walked.map((low) => ({ low, high: null })) }
  })
}

function partsOfRow(index: SiteIndex, row: number): readonly number[] {
  const { runStart, runs } = index.rows
  const parts: number[] = []
  for (let run = runStart[row]; run < runStart[row + 1]; run++) {
    const { xM, yM, partCount } = patternOfRun(index, run)
    const order = Array.from({ length: partCount }, (_, k) => k).sort(
      (a, b) => xM[a] - xM[b] || yM[a] - yM[b],
    )
    for (let place = 0; place < runs.count[run]; place++) {
      const start = firstPartOf(index, { run, place })
      for (const local of order) parts.push(start + local)
    }
  }
  return parts
}

/** So many of the points of a walk, evenly spread over it. */
export function thinned(stretches: readonly Stretch[], count: number): readonly Stretch[] {
  const total = stretches.reduce((sum, { rungs }) => sum + rungs.length, 0)
  if (count >= total) return stretches
  const kept = new Set(
    Array.from({ length: count }, (_, k) => Math.round((k * (total - 1)) / Math.max(1, count - 1))),
  )
  let at = 0
  return stretches.flatMap((stretch) => {
    const rungs = stretch.rungs.filter(() => kept.has(at++))
    return rungs.length > 0 ? [{ ...stretch, rungs }] : []
  })
}

/** Every pair of parts that a clip reaches and the lead spans. */
export function allReachablePairs(index: SiteIndex, reachM: number): readonly PlanPairInput[] {
  const parts = reachedParts(index)
  const pairs: PlanPairInput[] = []
  parts.forEach((from, k) => {
    for (const to of parts.slice(k + 1)) {
      if (straightM(index, from, to) <= reachM) pairs.push(named(index, from, to))
    }
  })
  return pairs
}
