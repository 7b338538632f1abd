import { inPortions, portion, portionSteps } from '../base/portion.ts'
import { sumUp } from './graph.ts'
import {
  BUCKET,
  BUCKET_NEXT,
  DEGREE,
  ELEMENTS,
  GONE_WITH,
  LENGTH,
  RANK,
  RECORD,
  SIZE,
  STAMP,
  START,
} from './quotientGraph.ts'
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
 * Near-linear time on sparse planar-like graphs; 4 (2 · entries + 14 nodes) bytes.
 *
 * Elimination order of the graph whose node i has the neighbours
 * `lists[start[i]] … lists[start[i + 1] − 1]`: no self, no duplicates, symmetric. `lists` comes from
 * `roomForLists` and is worked in: its content is lost. Returns position → node.
 */
export function* minimumDegreeOrder(start: Int32Array, lists: Int32Array): Generator<number, Int32Array> {
  const q = yield* portion(quotientGraphOf(start, lists), 0, 0.05)
  while (q.eliminated < q.count) {
    q.operations = 0
    while (q.eliminated < q.count && q.operations < portionSteps) eliminateNext(q)
    yield 0.05 + (0.9 * q.eliminated) / q.count
  }
  return yield* portion(expandPivots(q), 0.95, 0.05)
}

function eliminateNext(q: QuotientGraph): void {
  const { head, records } = q
  while (head[q.leastDegree] === 0) q.leastDegree++
  const pivot = head[q.leastDegree] - 1
  leaveDegree(q, pivot)
  const p = pivot << RECORD
  const weight = records[p + SIZE]
  q.eliminated += weight
  records[p + RANK] = q.pivotCount
  q.pivots[q.pivotCount++] = pivot
  // negative: neither its own neighbour nor outside of its clique
  records[p + SIZE] = -weight
  gatherElement(q, p)
  measureOverlaps(q, p)
  shrinkLists(q, pivot)
  mergeEqualVariables(q, p)
  settleElement(q, p)
}

/**
 * L_p = (A_p ∪ ∪ L_e) ∖ p, marked by negative size, taken off the degree lists; its elements are swallowed.
 */
function gatherElement(q: QuotientGraph, p: number): void {
  const { lists, records } = q
  let bound = records[p + LENGTH]
  const s = records[p + START]
  const elements = records[p + ELEMENTS]
  for (let k = s; k < s + elements; k++) bound += records[(lists[k] << RECORD) + LENGTH]
  if (q.free + bound > lists.length) compactLists(q)
  const from = records[p + START]
  const elementEnd = from + elements
  const begin = q.free
  q.operations += bound + 8
  let clique = 0
  for (let k = from; k < elementEnd; k++) {
    const e = lists[k] << RECORD
    const start = records[e + START]
    clique += takeVariables(q, start, start + records[e + LENGTH])
    records[e + STAMP] = 0
  }
  clique += takeVariables(q, elementEnd, from + records[p + LENGTH])
  records[p + START] = begin
  records[p + LENGTH] = q.free - begin
  records[p + ELEMENTS] = 0
  records[p + DEGREE] = clique
  records[p + STAMP] = 1
}

function takeVariables(q: QuotientGraph, from: number, end: number): number {
  const { lists, records } = q
  let clique = 0
  let free = q.free
  for (let k = from; k < end; k++) {
    const i = lists[k]
    const r = i << RECORD
    const weight = records[r + SIZE]
    if (weight <= 0) continue
    clique += weight
    records[r + SIZE] = -weight
    lists[free++] = i
    leaveDegree(q, i)
  }
  q.free = free
  return clique
}

/** After it, stamp(e) − clock = |L_e ∖ L_p| for every element e next to the pivot's clique. */
function measureOverlaps(q: QuotientGraph, p: number): void {
  const { lists, records } = q
  if (q.clock + q.count > 0x3fffffff) restartClock(q)
  const clock = q.clock
  const begin = records[p + START]
  const end = begin + records[p + LENGTH]
  let operations = 0
  for (let k = begin; k < end; k++) {
    const r = lists[k] << RECORD
    const weight = -records[r + SIZE]
    const from = records[r + START]
    const elements = records[r + ELEMENTS]
    operations += elements + 2
    for (let l = from; l < from + elements; l++) {
      const e = lists[l] << RECORD
      const mark = records[e + STAMP]
      if (mark >= clock) records[e + STAMP] = mark - weight
      else if (mark !== 0) records[e + STAMP] = records[e + DEGREE] + clock - weight
    }
  }
  q.operations += operations
}

/**
 * Drops what the new element covers from the lists of its variables and bounds what remains outside of it.
 */
function shrinkLists(q: QuotientGraph, pivot: number): void {
  const { lists, records, clock, bucket } = q
  const p = pivot << RECORD
  const begin = records[p + START]
  const end = begin + records[p + LENGTH]
  const mask = bucket.length - 1
  let operations = 0
  for (let k = begin; k < end; k++) {
    const i = lists[k]
    const r = i << RECORD
    const from = records[r + START]
    const elementEnd = from + records[r + ELEMENTS]
    const to = from + records[r + LENGTH]
    let write = from
    let outside = 0
    let sum = pivot
    operations += to - from
    for (let l = from; l < elementEnd; l++) {
      const e = lists[l]
      const extent = records[(e << RECORD) + STAMP] - clock
      if (extent > 0) {
        outside += extent
        sum = (sum + e) | 0
        lists[write++] = e
      } else if (extent === 0) {
        records[(e << RECORD) + STAMP] = 0
      }
    }
    const kept = write - from
    for (let l = elementEnd; l < to; l++) {
      const j = lists[l]
      const weight = records[(j << RECORD) + SIZE]
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
    records[r + ELEMENTS] = kept + 1
    records[r + LENGTH] = write + 1 - from
    if (outside < records[r + DEGREE]) records[r + DEGREE] = outside
    const h = sum & mask
    records[r + BUCKET] = h
    records[r + BUCKET_NEXT] = bucket[h]
    bucket[h] = i
  }
  q.operations += operations
  q.largestClique = Math.max(q.largestClique, records[p + DEGREE])
  q.clock += q.largestClique + 1
}

/** Nothing of i lies outside of the pivot's clique: it follows the pivot without further fill. */
function eliminateAlong(q: QuotientGraph, i: number, pivot: number): void {
  const { records } = q
  const r = i << RECORD
  const weight = -records[r + SIZE]
  records[(pivot << RECORD) + DEGREE] -= weight
  q.eliminated += weight
  sendWith(q, r, pivot)
}

/** Variable of record r is gone for good. */
function sendWith({ records }: QuotientGraph, r: number, other: number): void {
  records[r + SIZE] = 0
  records[r + LENGTH] = 0
  records[r + ELEMENTS] = -1
  records[r + GONE_WITH] = other
}

function mergeEqualVariables(q: QuotientGraph, p: number): void {
  const { lists, records, bucket } = q
  const begin = records[p + START]
  const end = begin + records[p + LENGTH]
  for (let k = begin; k < end; k++) {
    const r = lists[k] << RECORD
    if (records[r + SIZE] === 0) continue
    const h = records[r + BUCKET]
    let i = bucket[h]
    if (i < 0) continue
    bucket[h] = -1
    for (; i >= 0 && records[(i << RECORD) + BUCKET_NEXT] >= 0; i = records[(i << RECORD) + BUCKET_NEXT]) {
      mergeInto(q, i)
    }
  }
}

/** Merges the variables after i in its hash bucket that have the same list as i. */
function mergeInto(q: QuotientGraph, i: number): void {
  const { lists, records } = q
  const clock = q.clock++
  const r = i << RECORD
  const n = records[r + LENGTH]
  const from = records[r + START]
  q.operations += n
  for (let l = from; l < from + n; l++) records[(lists[l] << RECORD) + STAMP] = clock
  let before = r
  for (let j = records[r + BUCKET_NEXT]; j >= 0; j = records[(j << RECORD) + BUCKET_NEXT]) {
    const t = j << RECORD
    let same = records[t + LENGTH] === n && records[t + ELEMENTS] === records[r + ELEMENTS]
    if (same) {
      const to = records[t + START] + n
      for (let l = to - n; l < to; l++) {
        if (records[(lists[l] << RECORD) + STAMP] !== clock) {
          same = false
          break
        }
      }
      q.operations += n
    }
    if (!same) {
      before = t
      continue
    }
    records[r + SIZE] += records[t + SIZE]
    sendWith(q, t, i)
    records[before + BUCKET_NEXT] = records[t + BUCKET_NEXT]
  }
}

/** Puts the variables of the new element back into the degree lists with their new bounds. */
function settleElement(q: QuotientGraph, p: number): void {
  const { lists, records } = q
  const from = records[p + START]
  const end = from + records[p + LENGTH]
  const clique = records[p + DEGREE]
  const remaining = q.count - q.eliminated
  let write = from
  for (let k = from; k < end; k++) {
    const i = lists[k]
    const r = i << RECORD
    const weight = -records[r + SIZE]
    if (weight === 0) continue
    records[r + SIZE] = weight
    records[r + DEGREE] = Math.min(records[r + DEGREE] + clique - weight, remaining - weight)
    enterDegree(q, i)
    lists[write++] = i
  }
  records[p + LENGTH] = write - from
  q.free = write
  // an element without variables leaves no trace
  if (write === from) records[p + STAMP] = 0
  // from here on the pivot is an element: a size of 0 keeps it out of every list of variables
  records[p + SIZE] = 0
}

function restartClock(q: QuotientGraph): void {
  const { records } = q
  for (let r = STAMP; r < records.length; r += 1 << RECORD) if (records[r] !== 0) records[r] = 1
  q.clock = 2
}

/** Position → node: every pivot after the variables that were eliminated with it. Yields the fraction done. */
function* expandPivots({ count, records, pivots, pivotCount }: QuotientGraph): Generator<number, Int32Array> {
  const next = new Int32Array(pivotCount + 1)
  const countThem = (first: number, end: number) => countGone(records, next, first, end)
  yield* portion(inPortions(count, countThem), 0, 0.5)
  sumUp(next)
  const order = new Int32Array(count)
  putPivots(pivots, next, order)
  yield 0.6
  const put = (first: number, end: number) => putGone(records, next, order, first, end)
  yield* portion(inPortions(count, put), 0.6, 0.4)
  return order
}

function putPivots(pivots: Int32Array, next: Int32Array, order: Int32Array): void {
  for (let p = 0; p + 1 < next.length; p++) order[next[p + 1] - 1] = pivots[p]
}

function putGone(records: Int32Array, next: Int32Array, order: Int32Array, first: number, end: number): void {
  for (let i = first; i < end; i++) {
    const r = i << RECORD
    if (records[r + ELEMENTS] < 0) order[next[records[(records[r + GONE_WITH] << RECORD) + RANK]]++] = i
  }
}

/** Points each variable straight at the pivot that it went with, and counts those of each pivot. */
function countGone(records: Int32Array, next: Int32Array, first: number, end: number): void {
  for (let i = first; i < end; i++) {
    let top = i << RECORD
    while (records[top + ELEMENTS] < 0) top = records[top + GONE_WITH] << RECORD
    for (let k = i << RECORD; k !== top;) {
      const up = records[k + GONE_WITH] << RECORD
      records[k + GONE_WITH] = top >> RECORD
      k = up
    }
    next[records[top + RANK] + 1]++
  }
}
