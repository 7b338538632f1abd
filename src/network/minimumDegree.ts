import { inPortions, portion, portionSteps } from '../base/portion.ts'
import { sumUp } from './graph.ts'
import { compactLists, enterDegree, leaveDegree, quotientGraphOf } from './quotientGraph.ts'
import type { QuotientGraph } from './quotientGraph.ts'

/**
 * Approximate minimum degree on a quotient graph.
 *
 * The partly eliminated graph is held without its fill: every uneliminated *variable* i keeps a list of the
 * *elements* (eliminated pivots) whose cliques it belongs to and of the variables it is still joined to
 * directly; every element keeps the variables of its clique. Eliminating a pivot merges the cliques of its
 * elements and its direct neighbours into one new element and swallows the old ones, so the lists never grow.
 *
 * The degree of i, |A_i| + |∪ L_e|, is bounded from above by |A_i| + |L_p ∖ i| + Σ_e |L_e ∖ L_p|
 * with p the newest element; all |L_e ∖ L_p| come from one pass over the variables of L_p. Variables
 * with equal lists are merged (they stay equal until eliminated), elements inside L_p are swallowed, and a
 * variable that belongs to p alone is eliminated with it.
 *
 * Method: Amestoy, Davis, Duff 1996, "An approximate minimum degree ordering algorithm".
 * Near-linear time on sparse planar-like graphs; 4 (2 · entries + 16 nodes) bytes.
 *
 * Elimination order of the graph whose node i has the neighbours
 * `neighbour[start[i]] … neighbour[start[i + 1] − 1]`: no self, no duplicates, symmetric.
 * Returns position → node.
 */
export function* minimumDegreeOrder(start: Int32Array, neighbour: Int32Array): Generator<number, Int32Array> {
  const q = yield* portion(quotientGraphOf(start, neighbour), 0, 0.05)
  while (q.eliminated < q.count) {
    q.operations = 0
    while (q.eliminated < q.count && q.operations < portionSteps) eliminateNext(q)
    yield 0.05 + (0.9 * q.eliminated) / q.count
  }
  return yield* portion(expandPivots(q), 0.95, 0.05)
}

function eliminateNext(q: QuotientGraph): void {
  const { head, size } = q
  while (head[q.leastDegree] < 0) q.leastDegree++
  const pivot = head[q.leastDegree]
  leaveDegree(q, pivot)
  q.eliminated += size[pivot]
  q.pivots[q.pivotCount++] = pivot
  // negative: neither its own neighbour nor outside of its clique
  size[pivot] = -size[pivot]
  gatherElement(q, pivot)
  measureOverlaps(q, pivot)
  shrinkLists(q, pivot)
  mergeEqualVariables(q, pivot)
  settleElement(q, pivot)
}

/**
 * L_p = (A_p ∪ ∪ L_e) ∖ p, marked by negative size, taken off the degree lists; its elements are swallowed.
 */
function gatherElement(q: QuotientGraph, pivot: number): void {
  const { lists, start, length, elements, stamp } = q
  let bound = length[pivot]
  const s = start[pivot]
  for (let k = s; k < s + elements[pivot]; k++) bound += length[lists[k]]
  if (q.free + bound > lists.length) compactLists(q)
  const from = start[pivot]
  const elementEnd = from + elements[pivot]
  const begin = q.free
  q.operations += bound + 8
  let clique = 0
  for (let k = from; k < elementEnd; k++) {
    const e = lists[k]
    clique += takeVariables(q, start[e], start[e] + length[e])
    stamp[e] = 0
  }
  clique += takeVariables(q, elementEnd, from + length[pivot])
  start[pivot] = begin
  length[pivot] = q.free - begin
  elements[pivot] = 0
  q.degree[pivot] = clique
  stamp[pivot] = 1
}

function takeVariables(q: QuotientGraph, from: number, end: number): number {
  const { lists, size } = q
  let clique = 0
  let free = q.free
  for (let k = from; k < end; k++) {
    const i = lists[k]
    const weight = size[i]
    if (weight <= 0) continue
    clique += weight
    size[i] = -weight
    lists[free++] = i
    leaveDegree(q, i)
  }
  q.free = free
  return clique
}

/** After it, stamp(e) − clock = |L_e ∖ L_p| for every element e next to the pivot's clique. */
function measureOverlaps(q: QuotientGraph, pivot: number): void {
  const { lists, start, length, elements, stamp, size, degree } = q
  if (q.clock + q.count > 0x3fffffff) restartClock(q)
  const clock = q.clock
  const end = start[pivot] + length[pivot]
  for (let k = start[pivot]; k < end; k++) {
    const i = lists[k]
    const weight = -size[i]
    const from = start[i]
    const to = from + elements[i]
    q.operations += elements[i] + 2
    for (let l = from; l < to; l++) {
      const e = lists[l]
      const mark = stamp[e]
      if (mark >= clock) stamp[e] = mark - weight
      else if (mark !== 0) stamp[e] = degree[e] + clock - weight
    }
  }
}

/**
 * Drops what the new element covers from the lists of its variables and bounds what remains outside of it.
 */
function shrinkLists(q: QuotientGraph, pivot: number): void {
  const { lists, start, length, elements, stamp, size, degree, clock, bucket, bucketNext, hash } = q
  const end = start[pivot] + length[pivot]
  for (let k = start[pivot]; k < end; k++) {
    const i = lists[k]
    const from = start[i]
    const elementEnd = from + elements[i]
    const to = from + length[i]
    let write = from
    let outside = 0
    let sum = pivot
    q.operations += length[i]
    for (let l = from; l < elementEnd; l++) {
      const e = lists[l]
      const extent = stamp[e] - clock
      if (extent > 0) {
        outside += extent
        sum = (sum + e) | 0
        lists[write++] = e
      } else if (extent === 0) {
        stamp[e] = 0
      }
    }
    const kept = write - from
    for (let l = elementEnd; l < to; l++) {
      const j = lists[l]
      const weight = size[j]
      if (weight <= 0) continue
      outside += weight
      sum = (sum + j) | 0
      lists[write++] = j
    }
    if (write === from) {
      eliminateAlong(q, i, pivot)
      continue
    }
    // the slot of the pivot, or of an element that the pivot swallowed, is free: the list has room for one
    // more
    lists[write] = lists[from + kept]
    lists[from + kept] = pivot
    elements[i] = kept + 1
    length[i] = write + 1 - from
    if (outside < degree[i]) degree[i] = outside
    const h = (sum >>> 0) % q.count
    hash[i] = h
    bucketNext[i] = bucket[h]
    bucket[h] = i
  }
  q.largestClique = Math.max(q.largestClique, degree[pivot])
  q.clock += q.largestClique + 1
}

/** Nothing of i lies outside of the pivot's clique: it follows the pivot without further fill. */
function eliminateAlong(q: QuotientGraph, i: number, pivot: number): void {
  const weight = -q.size[i]
  q.degree[pivot] -= weight
  q.eliminated += weight
  q.size[i] = 0
  q.length[i] = 0
  q.elements[i] = 0
  q.mergedInto[i] = pivot
}

function mergeEqualVariables(q: QuotientGraph, pivot: number): void {
  const { lists, start, length, size, bucket, bucketNext, hash } = q
  const end = start[pivot] + length[pivot]
  for (let k = start[pivot]; k < end; k++) {
    if (size[lists[k]] === 0) continue
    const h = hash[lists[k]]
    let i = bucket[h]
    bucket[h] = -1
    for (; i >= 0 && bucketNext[i] >= 0; i = bucketNext[i]) mergeInto(q, i)
  }
}

/** Merges the variables after i in its hash bucket that have the same list as i. */
function mergeInto(q: QuotientGraph, i: number): void {
  const { lists, start, length, elements, stamp, size, bucketNext, mergedInto } = q
  const clock = q.clock++
  const n = length[i]
  q.operations += n
  for (let l = start[i]; l < start[i] + n; l++) stamp[lists[l]] = clock
  let before = i
  for (let j = bucketNext[i]; j >= 0; j = bucketNext[j]) {
    let same = length[j] === n && elements[j] === elements[i]
    if (same) {
      const to = start[j] + n
      for (let l = start[j]; l < to; l++) {
        if (stamp[lists[l]] !== clock) {
          same = false
          break
        }
      }
      q.operations += n
    }
    if (!same) {
      before = j
      continue
    }
    size[i] += size[j]
    size[j] = 0
    length[j] = 0
    elements[j] = 0
    mergedInto[j] = i
    bucketNext[before] = bucketNext[j]
  }
}

/** Puts the variables of the new element back into the degree lists with their new bounds. */
function settleElement(q: QuotientGraph, pivot: number): void {
  const { lists, start, length, size, degree } = q
  const from = start[pivot]
  const end = from + length[pivot]
  const remaining = q.count - q.eliminated
  let write = from
  for (let k = from; k < end; k++) {
    const i = lists[k]
    const weight = -size[i]
    if (weight === 0) continue
    size[i] = weight
    degree[i] = Math.min(degree[i] + degree[pivot] - weight, remaining - weight)
    enterDegree(q, i)
    lists[write++] = i
  }
  length[pivot] = write - from
  q.free = write
  // an element without variables leaves no trace
  if (write === from) q.stamp[pivot] = 0
  // from here on the pivot is an element: a size of 0 keeps it out of every list of variables
  size[pivot] = 0
}

function restartClock(q: QuotientGraph): void {
  for (let e = 0; e < q.count; e++) if (q.stamp[e] !== 0) q.stamp[e] = 1
  q.clock = 2
}

/** Position → node: every pivot after the variables that were eliminated with it. Yields the fraction done. */
function* expandPivots(q: QuotientGraph): Generator<number, Int32Array> {
  const { count, mergedInto, pivots, pivotCount } = q
  const rank = new Int32Array(count).fill(-1)
  rankPivots(q, rank)
  yield 0.1
  const next = new Int32Array(pivotCount + 1)
  const countThem = (first: number, end: number) => countMerged(mergedInto, rank, next, first, end)
  yield* portion(inPortions(count, countThem), 0.1, 0.4)
  sumUp(next)
  const order = new Int32Array(count)
  putPivots(pivots, next, order)
  yield 0.6
  const put = (first: number, end: number) => putMerged(mergedInto, rank, next, order, first, end)
  yield* portion(inPortions(count, put), 0.6, 0.4)
  return order
}

function rankPivots({ pivots, pivotCount }: QuotientGraph, rank: Int32Array): void {
  for (let p = 0; p < pivotCount; p++) rank[pivots[p]] = p
}

function putPivots(pivots: Int32Array, next: Int32Array, order: Int32Array): void {
  for (let p = 0; p + 1 < next.length; p++) order[next[p + 1] - 1] = pivots[p]
}

function putMerged(
  mergedInto: Int32Array,
  rank: Int32Array,
  next: Int32Array,
  order: Int32Array,
  first: number,
  end: number,
): void {
  for (let i = first; i < end; i++) if (rank[i] < 0) order[next[rank[mergedInto[i]]]++] = i
}

/** Points each variable straight at the pivot that it went with, and counts those of each pivot. */
function countMerged(
  mergedInto: Int32Array,
  rank: Int32Array,
  next: Int32Array,
  first: number,
  end: number,
): void {
  for (let i = first; i < end; i++) {
    let top = i
    while (rank[top] < 0) top = mergedInto[top]
    for (let k = i; k !== top;) {
      const up = mergedInto[k]
      mergedInto[k] = top
      k = up
    }
    next[rank[top] + 1]++
  }
}
