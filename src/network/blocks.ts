import type { Adjacency, Graph } from './graph.ts'

/**
 * Blocks are the largest sets of edges any two of which lie on a common cycle; a bridge is a block of one
 * edge. `blockOf[e]` is −1 for an edge outside the mask; blocks are numbered by their lowest edge.
 * `isCut[v]` marks the nodes whose removal parts their island.
 */
export interface Blocks {
  readonly isBridge: Uint8Array
  readonly blockOf: Int32Array
  readonly blockCount: number
  readonly isCut: Uint8Array
}

/**
 * Bridges, cut nodes and biconnected blocks in one depth-first walk with low-links (Hopcroft and Tarjan
 * 1973, "Efficient algorithms for graph manipulation"). With d the order of discovery,
 *
 *   low(v) = the least d that a path down the tree from v and then one more edge can reach;
 *   when the walk returns from v to its parent p and low(v) ≥ d(p), the edges gathered since p → v
 *   are a block.
 *
 * The walk turns back over a parallel edge but not over the edge it came by, so parallel edges are no
 * bridges. The stack is an array: a path of a million nodes is no deeper than any other graph.
 * O(nodes + edges). With `edgeIn` only the edges e with edgeIn[e] = 1 are seen.
 */
export function findBlocks(graph: Graph, adjacency: Adjacency, edgeIn?: Uint8Array): Blocks {
  const { nodeCount } = graph
  const { start, neighbour, edge } = adjacency
  const edgeCount = graph.from.length
  const isBridge = new Uint8Array(edgeCount)
  const blockOf = new Int32Array(edgeCount).fill(-1)
  const isCut = new Uint8Array(nodeCount)
  const discovered = new Int32Array(nodeCount)
  const low = new Int32Array(nodeCount)
  const cameBy = new Int32Array(nodeCount).fill(-1)
  const slotOf = start.slice(0, nodeCount)
  const nodeStack = new Int32Array(nodeCount)
  const edgeStack = new Int32Array(edgeCount)
  let clock = 0
  let edgeTop = 0
  let blockCount = 0

  const closeBlock = (lastEdge: number) => {
    const top = edgeTop
    let e: number
    do {
      e = edgeStack[--edgeTop]
      blockOf[e] = blockCount
    } while (e !== lastEdge)
    if (top - edgeTop === 1) isBridge[e] = 1
    blockCount++
  }

  for (let root = 0; root < nodeCount; root++) {
    if (discovered[root] !== 0) continue
    let nodeTop = 0
    let blocksAtRoot = 0
    discovered[root] = low[root] = ++clock
    nodeStack[nodeTop++] = root
    while (nodeTop > 0) {
      const v = nodeStack[nodeTop - 1]
      if (slotOf[v] < start[v + 1]) {
        const slot = slotOf[v]++
        const e = edge[slot]
        if (e === cameBy[v] || (edgeIn !== undefined && edgeIn[e] === 0)) continue
        const w = neighbour[slot]
        if (discovered[w] === 0) {
          discovered[w] = low[w] = ++clock
          cameBy[w] = e
          edgeStack[edgeTop++] = e
          nodeStack[nodeTop++] = w
        } else if (discovered[w] < discovered[v]) {
          edgeStack[edgeTop++] = e
          if (discovered[w] < low[v]) low[v] = discovered[w]
        }
        continue
      }
      nodeTop--
      if (nodeTop === 0) break
      const p = nodeStack[nodeTop - 1]
      if (low[v] < low[p]) low[p] = low[v]
      if (low[v] < discovered[p]) continue
      closeBlock(cameBy[v])
      if (p === root) blocksAtRoot++
      else isCut[p] = 1
    }
    if (blocksAtRoot > 1) isCut[root] = 1
  }
  numberByLowestEdge(blockOf, blockCount)
  return { isBridge, blockOf, blockCount, isCut }
}

function numberByLowestEdge(blockOf: Int32Array, blockCount: number): void {
  const newNumber = new Int32Array(blockCount).fill(-1)
  let next = 0
  for (let e = 0; e < blockOf.length; e++) {
    const block = blockOf[e]
    if (block < 0) continue
    if (newNumber[block] < 0) newNumber[block] = next++
    blockOf[e] = newNumber[block]
  }
}
