import { assert } from '../base/assert.ts'
import { inPortions, portion, portionSteps } from '../base/portion.ts'
import { eliminationTree, inverseOf } from './eliminationTree.ts'
import type { Adjacency, Graph } from './graph.ts'

/**
 * Which entries of the factor are not zero. Everything is in positions (places in the elimination order)
 * unless it says node or edge. Column j holds the rows row[start[j]] … row[start[j + 1] − 1], ascending, all
 * > j.
 */
export interface FactorPattern {
  readonly nodeCount: number
  /** position → node */
  readonly order: Int32Array
  /** node → position */
  readonly position: Int32Array
  /** Elimination tree; −1 at the last position of each island, its reference. */
  readonly parent: Int32Array
  /** Last position of the island of each position. */
  readonly root: Int32Array
  /** At a root: first position of its island. Elsewhere no meaning. */
  readonly islandStart: Int32Array
  readonly start: Int32Array
  readonly row: Int32Array
  /** Entry that each edge's conductance goes to; parallel edges share one. */
  readonly slot: Int32Array
}

/** The largest number of entries that 32-bit indices can address. */
const INDEX_LIMIT = 2 ** 31 - 1

/**
 * Exact pattern of the factor for a given elimination order. Row i of the factor is the part of the
 * elimination tree that the neighbours of i before i span with i (Liu 1986); walking it twice, first to count
 * and then to write, gives columns with ascending rows and no sort. O(entries) time, 4 (entries + edges + 8
 * nodes) bytes. Throws when the factor would have more than 2³¹ − 1 entries.
 */
export function* analysePattern(
  graph: Graph,
  adjacency: Adjacency,
  order: Int32Array,
): Generator<number, FactorPattern> {
  const n = graph.nodeCount
  assert(order.length === n, 'the elimination order must name every node once')
  const position = inverseOf(order)
  yield 0.02
  const parent = yield* portion(eliminationTree(adjacency, order, position), 0.02, 0.18)
  const walk: RowWalk = { adjacency, order, position, parent, seen: new Int32Array(n).fill(-1) }

  const count = new Int32Array(n)
  for (let i = 0; i < n;) {
    i = countRows(walk, i, count)
    yield 0.2 + (0.3 * i) / n
  }
  const start = columnStarts(count)
  yield 0.5
  const row = new Int32Array(start[n])
  const next = start.slice(0, n)
  walk.seen.fill(-1)
  for (let i = 0; i < n;) {
    i = writeRows(walk, i, next, row)
    yield 0.5 + (0.3 * i) / n
  }
  const slot = new Int32Array(graph.from.length)
  const place = walk.seen
  for (let j = 0; j < n;) {
    j = findSlots(adjacency, order, position, start, row, j, place, slot)
    yield 0.8 + (0.18 * j) / n
  }
  yield 0.98
  const islands = { root: new Int32Array(n), islandStart: new Int32Array(n) }
  const find = (first: number, end: number) => findRoots(parent, islands, n - 1 - first, n - 1 - end)
  yield* portion(inPortions(n, find), 0.98, 0.02)
  return { nodeCount: n, order, position, parent, ...islands, start, row, slot }
}

function columnStarts(count: Int32Array): Int32Array {
  const start = new Int32Array(count.length + 1)
  let entries = 0
  for (let j = 0; j < count.length; j++) {
    entries += count[j]
    if (entries > INDEX_LIMIT) assert(false, `the factor needs more than ${INDEX_LIMIT} entries`)
    start[j + 1] = entries
  }
  return start
}

interface RowWalk {
  readonly adjacency: Adjacency
  readonly order: Int32Array
  readonly position: Int32Array
  readonly parent: Int32Array
  /** seen[k] = i once column k is known to have row i. */
  readonly seen: Int32Array
}

function countRows(
  { adjacency, order, position, parent, seen }: RowWalk,
  i: number,
  count: Int32Array,
): number {
  const { start, neighbour } = adjacency
  let operations = 0
  for (; i < order.length && operations < portionSteps; i++) {
    seen[i] = i
    const end = start[order[i] + 1]
    for (let s = start[order[i]]; s < end; s++) {
      operations++
      for (let k = position[neighbour[s]]; k < i && seen[k] !== i; k = parent[k]) {
        seen[k] = i
        count[k]++
        operations++
      }
    }
  }
  return i
}

function writeRows(
  { adjacency, order, position, parent, seen }: RowWalk,
  i: number,
  next: Int32Array,
  row: Int32Array,
): number {
  const { start, neighbour } = adjacency
  let operations = 0
  for (; i < order.length && operations < portionSteps; i++) {
    seen[i] = i
    const end = start[order[i] + 1]
    for (let s = start[order[i]]; s < end; s++) {
      operations++
      for (let k = position[neighbour[s]]; k < i && seen[k] !== i; k = parent[k]) {
        seen[k] = i
        row[next[k]++] = i
        operations++
      }
    }
  }
  return i
}

function findSlots(
  adjacency: Adjacency,
  order: Int32Array,
  position: Int32Array,
  start: Int32Array,
  row: Int32Array,
  j: number,
  place: Int32Array,
  slot: Int32Array,
): number {
  let operations = 0
  for (; j < order.length && operations < portionSteps; j++) {
    for (let s = start[j]; s < start[j + 1]; s++) place[row[s]] = s
    const node = order[j]
    const end = adjacency.start[node + 1]
    for (let s = adjacency.start[node]; s < end; s++) {
      const i = position[adjacency.neighbour[s]]
      if (i > j) slot[adjacency.edge[s]] = place[i]
    }
    operations += start[j + 1] - start[j] + end - adjacency.start[node] + 1
  }
  return j
}

function findRoots(
  parent: Int32Array,
  { root, islandStart }: Pick<FactorPattern, 'root' | 'islandStart'>,
  from: number,
  downTo: number,
): void {
  for (let j = from; j > downTo; j--) {
    root[j] = parent[j] < 0 ? j : root[parent[j]]
    islandStart[root[j]] = j
  }
}
