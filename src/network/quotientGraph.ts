import { inPortions, portion, portionSteps } from '../base/portion.ts'

/**
 * The store of the minimum degree order (`minimumDegree.ts`): lists of the quotient graph in one array that
 * is compacted when full, and the queues of variables by degree.
 */
export interface QuotientGraph {
  readonly count: number
  /** All lists: of a variable first its elements, then its variables; of an element its variables. */
  readonly lists: Int32Array
  free: number
  /**
   * Eight numbers of each node, variable or element, from 8 i on, called START … PREVIOUS below: what is asked
   * together lies together, for the processor waits longest for memory here.
   */
  readonly records: Int32Array
  clock: number
  /** First and last of the queue of each degree, counted from 1; 0 = none. */
  readonly head: Int32Array
  readonly tail: Int32Array
  leastDegree: number
  readonly bucket: Int32Array
  readonly pivots: Int32Array
  pivotCount: number
  eliminated: number
  largestClique: number
  operations: number
}

/** Node i has the record from i << RECORD on. */
export const RECORD = 3
/** Where its list starts. */
export const START = 0
export const LENGTH = 1
/** How many entries at the front of a variable's list are elements; −1 when it is gone. */
export const ELEMENTS = 2
/** Variables merged into this one, itself included; 0 = gone; negative while in the newest element. */
export const SIZE = 3
/** Of a variable: bound of its degree. Of an element: weight of its clique. */
export const DEGREE = 4
/** 0 = swallowed element; otherwise a time stamp, see `measureOverlaps`. */
export const STAMP = 5
/** Neighbours in the queue of its degree, −1 = none. */
export const NEXT = 6
export const PREVIOUS = 7
/** Of a variable that is gone: the equal variable that it went into, or the pivot that took it along. */
export const GONE_WITH = START
/** Of a pivot: how many were eliminated before it. */
export const RANK = NEXT
/** While in the newest element, and so in no queue: the next in its bucket, and the number of that. */
export const BUCKET_NEXT = NEXT
export const BUCKET = PREVIOUS

/** A power of two: few variables are in one element, and the buckets stay in the nearest memory. */
const BUCKETS = 4096

/**
 * Degrees up to this one count as equal. Strict minimum degree eats an array up from the ends of its rows: on
 * 100,000 nodes in rows the elimination tree was 800 high with 2.0 entries a node; it is 24 high with 3.2
 * this way, and a pair's resistance, which climbs the tree, is had ten times faster. Meshes do not notice.
 */
const EQUAL_DEGREE = 4

/** Nodes whose lists are worked on together in the first round. */
const BLOCK = 4096
const blocksPerPortion = portionSteps / BLOCK

/** Room that the lists of `count` nodes with `entries` neighbours together need; they come first in it. */
export function roomForLists(entries: number, count: number): Int32Array {
  // a new element is never longer than the lists that it replaces: twice the entries always suffice
  return new Int32Array(2 * entries + count + 1)
}

/**
 * Every node a variable joined to its neighbours, no element yet; arguments as in `minimumDegreeOrder`. Yields the
 * fraction done.
 */
export function* quotientGraphOf(start: Int32Array, lists: Int32Array): Generator<number, QuotientGraph> {
  const count = start.length - 1
  const q: QuotientGraph = {
    count,
    lists,
    free: start[count],
    records: new Int32Array(count << RECORD),
    clock: 2,
    head: new Int32Array(count + EQUAL_DEGREE + 1),
    tail: new Int32Array(count + EQUAL_DEGREE + 1),
    leastDegree: 0,
    bucket: new Int32Array(BUCKETS).fill(-1),
    pivots: new Int32Array(count),
    pivotCount: 0,
    eliminated: 0,
    largestClique: 0,
    operations: 0,
  }
  yield* enterAll(q, start)
  return q
}

/**
 * The queue of variables of (bounded) degree d; the lowest degrees share one. First in, first out: chains,
 * trees and ladders are then contracted in rounds of nodes far from each other, instead of being eaten up
 * from their ends.
 */
function queueOf(d: number): number {
  return d < EQUAL_DEGREE ? EQUAL_DEGREE : d
}

/**
 * First round: nodes of low degree in strides of the golden section, so that even in a row numbered end to
 * end neighbours do not follow each other, first over blocks and then inside each, so that the working memory
 * stays small; then the others as they are numbered, which suits meshes.
 */
function* enterAll(q: QuotientGraph, start: Int32Array): Generator<number, void> {
  const { count, records } = q
  const blocks = Math.ceil(count / BLOCK)
  const blockStride = goldenStride(blocks)
  const stride = goldenStride(BLOCK)
  for (let k = 0, block = 0; k < blocks; k++, block = (block + blockStride) % blocks) {
    fillRecords(start, block * BLOCK, Math.min(count, (block + 1) * BLOCK), records)
    enterBlock(q, block * BLOCK, stride)
    if (k % blocksPerPortion === blocksPerPortion - 1) yield (0.8 * k) / blocks
  }
  const enterOthers = (first: number, end: number) => {
    for (let i = first; i < end; i++) if (start[i + 1] - start[i] >= EQUAL_DEGREE) enterDegree(q, i)
  }
  yield* portion(inPortions(count, enterOthers), 0.8, 0.2)
}

function fillRecords(start: Int32Array, first: number, end: number, records: Int32Array): void {
  for (let i = first; i < end; i++) {
    const r = i << RECORD
    const length = start[i + 1] - start[i]
    records[r + START] = start[i]
    records[r + LENGTH] = length
    records[r + SIZE] = 1
    records[r + DEGREE] = length
    records[r + STAMP] = 1
  }
}

function enterBlock(q: QuotientGraph, first: number, stride: number): void {
  const { count, records } = q
  for (let l = 0, at = 0; l < BLOCK; l++, at = (at + stride) % BLOCK) {
    const i = first + at
    if (i < count && records[(i << RECORD) + DEGREE] < EQUAL_DEGREE) enterDegree(q, i)
  }
}

/** About 0.618 count, without a common divisor with it: its multiples visit every place once. */
function goldenStride(count: number): number {
  let stride = Math.max(1, Math.round(count * 0.618034))
  while (commonDivisor(stride, count) > 1) stride++
  return stride
}

function commonDivisor(a: number, b: number): number {
  while (b > 0) [a, b] = [b, a % b]
  return a
}

/** Appends a variable to the queue of its degree. */
export function enterDegree(q: QuotientGraph, i: number): void {
  const { records, head, tail } = q
  const r = i << RECORD
  const d = queueOf(records[r + DEGREE])
  const last = tail[d] - 1
  records[r + NEXT] = -1
  records[r + PREVIOUS] = last
  if (last >= 0) records[(last << RECORD) + NEXT] = i
  else head[d] = i + 1
  tail[d] = i + 1
  if (d < q.leastDegree) q.leastDegree = d
}

/** Takes a variable out of the queue of its degree, which must be what it was on entering. */
export function leaveDegree(q: QuotientGraph, i: number): void {
  const { records } = q
  const r = i << RECORD
  const after = records[r + NEXT]
  const before = records[r + PREVIOUS]
  if (after >= 0) records[(after << RECORD) + PREVIOUS] = before
  else q.tail[queueOf(records[r + DEGREE])] = before + 1
  if (before >= 0) records[(before << RECORD) + NEXT] = after
  else q.head[queueOf(records[r + DEGREE])] = after + 1
}

/** Moves all living lists to the front of the store, in the order in which they lie there. */
export function compactLists(q: QuotientGraph): void {
  const { lists, records } = q
  // the first entry of each living list changes place with the name of its owner
  for (let r = 0; r < records.length; r += 1 << RECORD) {
    if (records[r + LENGTH] === 0 || records[r + STAMP] === 0) continue
    const s = records[r + START]
    records[r + START] = lists[s]
    lists[s] = -1 - r
  }
  let write = 0
  for (let read = 0; read < q.free;) {
    const owner = -1 - lists[read]
    if (owner < 0) {
      read++
      continue
    }
    const n = records[owner + LENGTH]
    lists[write] = records[owner + START]
    records[owner + START] = write
    for (let l = 1; l < n; l++) lists[write + l] = lists[read + l]
    write += n
    read += n
  }
  q.operations += q.free
  q.free = write
}
