import { inPortions, portion, portionSteps, wholly } from '../base/portion.ts'
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

/** As `blocksInPortions`, in one go. */
export function findBlocks(graph: Graph, adjacency: Adjacency, edgeIn?: Uint8Array): Blocks {
  return wholly(blocksInPortions(graph, adjacency, edgeIn))
}

/** The walk where it stands. */
interface Walk {
  readonly adjacency: Adjacency
  readonly edgeIn: Uint8Array | undefined
  readonly isBridge: Uint8Array
  readonly blockOf: Int32Array
  readonly isCut: Uint8Array
  readonly discovered: Int32Array
  readonly low: Int32Array
  readonly cameBy: Int32Array
  readonly slotOf: Int32Array
  readonly nodeStack: Int32Array
  readonly edgeStack: Int32Array
  clock: number
  nodeTop: number
  edgeTop: number
  blockCount: number
  /** The node that the walk began at, and how many blocks were closed there. */
  root: number
  blocksAtRoot: number
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
 * O(nodes + edges). With `edgeIn` only the edges e with edgeIn[e] = 1 are seen. Yields the fraction done.
 */
export function* blocksInPortions(
  graph: Graph,
  adjacency: Adjacency,
  edgeIn?: Uint8Array,
): Generator<number, Blocks> {
  const { nodeCount } = graph
  const edgeCount = graph.from.length
  const walk: Walk = {
    adjacency,
    edgeIn,
    isBridge: new Uint8Array(edgeCount),
    blockOf: new Int32Array(edgeCount).fill(-1),
    isCut: new Uint8Array(nodeCount),
    discovered: new Int32Array(nodeCount),
    low: new Int32Array(nodeCount),
    cameBy: new Int32Array(nodeCount).fill(-1),
    slotOf: adjacency.start.slice(0, nodeCount),
    nodeStack: new Int32Array(nodeCount),
    edgeStack: new Int32Array(edgeCount),
    clock: 0,
    nodeTop: 0,
    edgeTop: 0,
    blockCount: 0,
    root: -1,
    blocksAtRoot: 0,
  }
  yield 0
  while (walkOn(walk)) yield (0.9 * walk.clock) / nodeCount
  const { isBridge, blockOf, blockCount, isCut } = walk
  const newNumber = new Int32Array(blockCount).fill(-1)
  let next = 0
  const renumber = (first: number, end: number) => {
    next = numberByLowestEdge(blockOf, first, end, newNumber, next)
  }
  yield* portion(inPortions(edgeCount, renumber), 0.9, 0.1)
  return { isBridge, blockOf, blockCount, isCut }
}

/** Walks for one portion; false once every node has been left. */
function walkOn(walk: Walk): boolean {
  const { edgeIn, discovered, low, cameBy, slotOf, nodeStack, edgeStack } = walk
  const { start, neighbour, edge } = walk.adjacency
  let { clock, nodeTop, edgeTop } = walk
  let steps = 0
  for (; steps < portionSteps; steps++) {
    if (nodeTop === 0) {
      const root = nextRoot(walk)
      if (root < 0) break
      discovered[root] = low[root] = ++clock
      nodeStack[nodeTop++] = root
    }
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
    if (nodeTop === 0) continue
    const p = nodeStack[nodeTop - 1]
    if (low[v] < low[p]) low[p] = low[v]
    if (low[v] < discovered[p]) continue
    edgeTop = closeBlock(walk, edgeTop, cameBy[v])
    if (p === walk.root) walk.blocksAtRoot++
    else walk.isCut[p] = 1
  }
  walk.clock = clock
  walk.nodeTop = nodeTop
  walk.edgeTop = edgeTop
  return steps === portionSteps
}

/** Where the walk begins next, −1 where every node has been met; what it leaves is a cut if it has several blocks. */
function nextRoot(walk: Walk): number {
  const { discovered, isCut } = walk
  if (walk.blocksAtRoot > 1) isCut[walk.root] = 1
  walk.blocksAtRoot = 0
  do walk.root++
  while (walk.root < discovered.length && discovered[walk.root] !== 0)
  return walk.root < discovered.length ? walk.root : -1
}

/** Takes the block that ends with `lastEdge` off the edge stack; returns what is left on it. */
function closeBlock(walk: Walk, edgeTop: number, lastEdge: number): number {
  const { edgeStack, blockOf, isBridge, blockCount } = walk
  let top = edgeTop
  let e: number
  do {
    e = edgeStack[--top]
    blockOf[e] = blockCount
  } while (e !== lastEdge)
  if (edgeTop - top === 1) isBridge[e] = 1
  walk.blockCount++
  return top
}

function numberByLowestEdge(
  blockOf: Int32Array,
  first: number,
  end: number,
  newNumber: Int32Array,
  next: number,
): number {
  for (let e = first; e < end; e++) {
    const block = blockOf[e]
    if (block < 0) continue
    if (newNumber[block] < 0) newNumber[block] = next++
    blockOf[e] = newNumber[block]
  }
  return next
}
