import type { Adjacency, Graph } from './graph.ts'

/**
 * One breadth-first tree per island. `order` lists the nodes parents first; roots are the lowest nodes of
 * their islands and have `parent` = `parentEdge` = −1. `size[v]` counts the nodes of the subtree at v.
 */
export interface SpanningForest {
  readonly order: Int32Array
  readonly parent: Int32Array
  readonly parentEdge: Int32Array
  readonly size: Int32Array
}

/**
 * Spans the graph, or with `edgeIn` only the edges e with edgeIn[e] = 1. The trees depend on nothing but
 * the numbering of nodes and edges. O(nodes + edges), no recursion.
 */
export function spanningForest(graph: Graph, adjacency: Adjacency, edgeIn?: Uint8Array): SpanningForest {
  const { nodeCount } = graph
  const { start, neighbour, edge } = adjacency
  const order = new Int32Array(nodeCount)
  const parent = new Int32Array(nodeCount).fill(-1)
  const parentEdge = new Int32Array(nodeCount).fill(-1)
  const size = new Int32Array(nodeCount)
  let tail = 0
  let head = 0
  for (let root = 0; root < nodeCount; root++) {
    if (size[root] !== 0) continue
    size[root] = 1
    order[tail++] = root
    while (head < tail) {
      const v = order[head++]
      for (let slot = start[v]; slot < start[v + 1]; slot++) {
        const w = neighbour[slot]
        if (size[w] !== 0 || (edgeIn !== undefined && edgeIn[edge[slot]] === 0)) continue
        size[w] = 1
        parent[w] = v
        parentEdge[w] = edge[slot]
        order[tail++] = w
      }
    }
  }
  for (let k = nodeCount - 1; k >= 0; k--) {
    const v = order[k]
    if (parent[v] >= 0) size[parent[v]] += size[v]
  }
  return { order, parent, parentEdge, size }
}
