import type { Adjacency } from './graph.ts'

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
  for (let i = 0; i < n;) {
    const end = Math.min(n, i + 8192)
    for (; i < end; i++) climbRow(adjacency, order[i], i, position, parent, ancestor)
    yield i / n
  }
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
 * Positions in an order where every subtree is contiguous and ends with its root; children stay ascending.
 */
export function postorder(parent: Int32Array): Int32Array {
  const n = parent.length
  const firstChild = new Int32Array(n).fill(-1)
  const sibling = new Int32Array(n).fill(-1)
  for (let k = n - 1; k >= 0; k--) {
    if (parent[k] < 0) continue
    sibling[k] = firstChild[parent[k]]
    firstChild[parent[k]] = k
  }
  const result = new Int32Array(n)
  const stack = new Int32Array(n)
  let count = 0
  for (let root = 0; root < n; root++) {
    if (parent[root] >= 0) continue
    let top = 0
    stack[0] = root
    while (top >= 0) {
      const k = stack[top]
      const child = firstChild[k]
      if (child >= 0) {
        firstChild[k] = sibling[child]
        stack[++top] = child
      } else {
        result[count++] = k
        top--
      }
    }
  }
  return result
}

/** The inverse of a permutation. */
export function inverseOf(permutation: Int32Array): Int32Array {
  const inverse = new Int32Array(permutation.length)
  for (let i = 0; i < permutation.length; i++) inverse[permutation[i]] = i
  return inverse
}
