import { assert } from '../base/assert.ts'
import { inPortions, portion, portionSteps } from '../base/portion.ts'
import type { EliminationOrder } from './eliminationTree.ts'
import type { Adjacency, Graph } from './graph.ts'

/**
 * Which entries of the factor are not zero. Everything is in positions (places in the elimination order)
 * unless it says node or edge. Column j holds the rows row[start[j]] … row[start[j + 1] − 1], ascending, all
 * > j.
 */
export interface FactorPattern extends EliminationOrder {
  readonly nodeCount: number
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
 * Exact pattern of the factor for a given elimination order and its tree. Row i of the factor is the part of
 * the tree that the neighbours of i before i span with i (Liu 1986); walking it twice, first to count and then
 * to write, gives columns with ascending rows and no sort. O(entries) time, 4 (entries + 3 edges + 4 nodes)
 * bytes. Throws when the factor would have more than 2³¹ − 1 entries.
 */
export function* analysePattern(
  graph: Graph,
  adjacency: Adjacency,
  { order, position, parent }: EliminationOrder,
): Generator<number, FactorPattern> {
  const n = graph.nodeCount
  const edgeCount = graph.from.length
  assert(order.length === n, 'the elimination order must name every node once')
  const root = new Int32Array(n)
  const islandStart = new Int32Array(n).fill(-1)
  const walk: RowWalk = {
    parent,
    // until the roots are found, these two have room for something else
    seen: islandStart,
    next: root,
    belowStart: new Int32Array(n + 1),
    below: new Int32Array(edgeCount),
    belowEdge: new Int32Array(edgeCount),
  }
  yield 0.02
  const start = new Int32Array(n + 1)
  for (let i = 0; i < n;) {
    i = countRows(walk, adjacency, order, position, i, start)
    yield 0.02 + (0.48 * i) / n
  }
  sumUpColumns(start)
  yield 0.51
  const row = new Int32Array(start[n])
  const slot = new Int32Array(edgeCount)
  walk.next.set(start.subarray(0, n))
  walk.seen.fill(-1)
  yield 0.52
  for (let i = 0; i < n;) {
    i = writeRows(walk, i, row, slot)
    yield 0.52 + (0.43 * i) / n
  }
  const find = (first: number, end: number) =>
    findRoots(parent, root, islandStart, n - 1 - first, n - 1 - end)
  yield* portion(inPortions(n, find), 0.95, 0.05)
  return { nodeCount: n, order, position, parent, root, islandStart, start, row, slot }
}

/** From the length of column j at j + 1 to where it ends. */
function sumUpColumns(start: Int32Array): void {
  let entries = 0
  for (let j = 1; j < start.length; j++) {
    entries += start[j]
    if (entries > INDEX_LIMIT) assert(false, `the factor needs more than ${INDEX_LIMIT} entries`)
    start[j] = entries
  }
}

interface RowWalk {
  readonly parent: Int32Array
  /** seen[k] = i once column k is known to have row i. */
  readonly seen: Int32Array
  /** Where the next entry of each column goes. */
  readonly next: Int32Array
  /**
   * The neighbours of i before i are below[belowStart[i]] … below[belowStart[i + 1] − 1], and belowEdge the
   * edges to them: what the first walk looks up by node, for the second to read in one go.
   */
  readonly belowStart: Int32Array
  readonly below: Int32Array
  readonly belowEdge: Int32Array
}

function countRows(
  { parent, seen, belowStart, below, belowEdge }: RowWalk,
  adjacency: Adjacency,
  order: Int32Array,
  position: Int32Array,
  i: number,
  start: Int32Array,
): number {
  let operations = 0
  let write = belowStart[i]
  const { neighbour, edge } = adjacency
  for (; i < order.length && operations < portionSteps; i++) {
    seen[i] = i
    const end = adjacency.start[order[i] + 1]
    for (let s = adjacency.start[order[i]]; s < end; s++) {
      operations++
      let k = position[neighbour[s]]
      if (k > i) continue
      below[write] = k
      belowEdge[write++] = edge[s]
      for (; seen[k] !== i; k = parent[k]) {
        seen[k] = i
        start[k + 1]++
        operations++
      }
    }
    belowStart[i + 1] = write
  }
  return i
}

function writeRows(
  { parent, seen, next, belowStart, below, belowEdge }: RowWalk,
  i: number,
  row: Int32Array,
  slot: Int32Array,
): number {
  let operations = 0
  for (; i < parent.length && operations < portionSteps; i++) {
    seen[i] = i
    const end = belowStart[i + 1]
    for (let b = belowStart[i]; b < end; b++) {
      operations++
      for (let k = below[b]; seen[k] !== i; k = parent[k]) {
        seen[k] = i
        row[next[k]++] = i
        operations++
      }
      // row i is the last that the column has so far
      slot[belowEdge[b]] = next[below[b]] - 1
    }
  }
  return i
}

function findRoots(
  parent: Int32Array,
  root: Int32Array,
  islandStart: Int32Array,
  from: number,
  downTo: number,
): void {
  for (let j = from; j > downTo; j--) {
    root[j] = parent[j] < 0 ? j : root[parent[j]]
    islandStart[root[j]] = j
  }
}
