import { inPortions, portion } from '../base/portion.ts'
import type { Adjacency } from './graph.ts'

/** In which order the nodes are eliminated, and what that makes depend on what. */
export interface EliminationOrder {
  /** position → node */
  readonly order: Int32Array
  /** node → position */
  readonly position: Int32Array
  /** Elimination tree over positions; −1 at the last position of each island. */
  readonly parent: Int32Array
}

/**
 * Elimination tree over positions: parent(k) = the first position i > k whose column k entry of the factor
 * is not zero, −1 for the last position of an island. Built row by row with path compression
 * (Liu, 1986, "A compact row storage scheme for Cholesky factors using elimination trees").
 * O(edges · α) time, 8 bytes a node. `order` maps position to node, `position` node to position.
 */
export function* eliminationTree(
  adjacency: Adjacency,
  order: Int32Array,
  position: Int32Array,
): Generator<number, Int32Array> {
  const n = order.length
  const parent = new Int32Array(n).fill(-1)
  const ancestor = new Int32Array(n).fill(-1)
  const climb = (first: number, end: number) => {
    for (let i = first; i < end; i++) climbRow(adjacency, order[i], i, position, parent, ancestor)
  }
  yield* inPortions(n, climb)
  return parent
}

function climbRow(
  adjacency: Adjacency,
  node: number,
  i: number,
  position: Int32Array,
  parent: Int32Array,
  ancestor: Int32Array,
): void {
  const { start, neighbour } = adjacency
  for (let s = start[node]; s < start[node + 1]; s++) {
    let k = position[neighbour[s]]
    while (k < i && k !== -1) {
      const next = ancestor[k]
      if (next === i) break
      ancestor[k] = i
      if (next === -1) parent[k] = i
      k = next
    }
  }
}

/**
 * The place of each position in an order where every subtree is contiguous and ends with its root; children stay
 * ascending, and so do roots. A node is the last of its subtree, which fills the last places that its parent has
 * left when children come in descending order. O(nodes) time, 4 bytes a node beside the result. Yields the
 * fraction done.
 */
export function* postorder(parent: Int32Array): Generator<number, Int32Array> {
  const n = parent.length
  const size = new Int32Array(n).fill(1)
  yield* portion(
    inPortions(n, (first, end) => measureSubtrees(parent, size, first, end)),
    0,
    0.5,
  )
  const place = new Int32Array(n)
  let rootPlace = n - 1
  const put = (first: number, end: number) => {
    rootPlace = placeSubtrees(parent, size, place, rootPlace, n - 1 - first, n - 1 - end)
  }
  yield* portion(inPortions(n, put), 0.5, 0.5)
  return place
}

/** Adds the nodes of each subtree to the 1 that each has to begin with. */
function measureSubtrees(parent: Int32Array, size: Int32Array, first: number, end: number): void {
  for (let k = first; k < end; k++) if (parent[k] >= 0) size[parent[k]] += size[k]
}

/** Once a node has its place, `size` holds the last place that is left for its children. */
function placeSubtrees(
  parent: Int32Array,
  size: Int32Array,
  place: Int32Array,
  rootPlace: number,
  from: number,
  downTo: number,
): number {
  for (let k = from; k > downTo; k--) {
    const up = parent[k]
    const last = up < 0 ? rootPlace : size[up]
    if (up < 0) rootPlace -= size[k]
    else size[up] -= size[k]
    place[k] = last
    size[k] = last - 1
  }
  return rootPlace
}

/** The inverse of a permutation. */
export function inverseOf(permutation: Int32Array): Int32Array {
  const inverse = new Int32Array(permutation.length)
  for (let i = 0; i < permutation.length; i++) inverse[permutation[i]] = i
  return inverse
}
