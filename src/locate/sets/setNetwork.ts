import { assert, present } from '../../base/assert.ts'
import { portion } from '../../base/portion.ts'
import { randomStream } from '../../base/random.ts'
import { cutLabels, type CutLabels } from '../../network/cutLabels.ts'
import type { Factor } from '../../network/factor.ts'
import { adjacencyOf, type Adjacency, type Graph } from '../../network/graph.ts'
import { islandsInPortions, type Islands } from '../../network/islands.ts'
import { jointSetKernel, type JointSet } from '../../network/jointSet.ts'
import { potentialsAt, reachOf } from './potentialsAt.ts'

/** A pair of nodes that was read; `around` the edge between them, where a loop clamp was closed around it. */
export interface NodePair {
  readonly a: number
  readonly b: number
  /** −1 or absent: read across. */
  readonly around?: number
}

/** A network at one soil level: factor, conductance of every edge, and c = g (1 − h) of every edge. */
export interface FactoredLevel {
  readonly factor: Factor
  readonly conductanceS: Float64Array
  readonly loopS: Float64Array
}

/** One soil level as seen from candidates and readings alone. */
export interface SetLevel {
  readonly factor: Factor
  /** Per edge of the small graph. */
  readonly conductanceS: Float64Array
  /** 1 − h per edge; exactly 0 for a bridge. */
  readonly slack: Float64Array
  /** Per edge that was asked for: potentials of all ends for an ampere through it. */
  readonly potentialV: (Float64Array | undefined)[]
}

/**
 * All that sets of candidates need to know of a network, however large that is. `graph` has the ends of readings and
 * candidates as its nodes; its edges are the candidates, by their number, and after them the joints that a loop clamp was
 * closed around and that are none. Nothing else of the network is in it.
 *
 * The cuts among these edges are those of the network with every other edge contracted: what hangs together
 * without them counts as one node. `labels` are the labels of that small graph, written over the ends.
 */
export interface SetNetwork {
  readonly graph: Graph
  readonly labels: CutLabels
  readonly levels: readonly SetLevel[]
  /** Numbers in the large network. */
  readonly nodes: Int32Array
  readonly edges: Int32Array
  /** Ends of the readings, and what a clamp was closed around, as nodes and edges of `graph`. */
  readonly pairs: readonly NodePair[]
  /** Positions of the factor on the paths from all these ends to the roots, the last first. */
  readonly reach: Int32Array
}

/** The labels have no other use than to be unlike each other. */
const labelSeed = 20_110_701

/** `candidates` are distinct edges of `graph`. O(nodes + edges) once, yields the fraction done. */
export function* setNetworkOf(
  graph: Graph,
  adjacency: Adjacency,
  levels: readonly FactoredLevel[],
  candidates: Int32Array,
  pairs: readonly NodePair[],
): Generator<number, SetNetwork> {
  const edgeIn = new Uint8Array(graph.from.length).fill(1)
  for (const e of candidates) {
    assert(edgeIn[e] === 1, `candidate ${e} is named twice`)
    edgeIn[e] = 0
  }
  const others: number[] = []
  for (const { around = -1 } of pairs) {
    if (around < 0 || edgeIn[around] === 0) continue
    edgeIn[around] = 0
    others.push(around)
  }
  const edges = others.length === 0 ? candidates : Int32Array.from([...candidates, ...others])
  const islands = yield* portion(islandsInPortions(graph, adjacency, edgeIn), 0, 0.9)
  const place = new Map<number, number>()
  const nodes: number[] = []
  const placeOf = (node: number): number => {
    const known = place.get(node)
    if (known !== undefined) return known
    place.set(node, nodes.length)
    return nodes.push(node) - 1
  }
  const small: Graph = {
    from: Int32Array.from(edges, (e) => placeOf(graph.from[e])),
    to: Int32Array.from(edges, (e) => placeOf(graph.to[e])),
    nodeCount: 0,
  }
  const smallPairs = pairs.map(({ a, b, around = -1 }) => ({
    a: placeOf(a),
    b: placeOf(b),
    around: around < 0 ? -1 : edges.indexOf(around),
  }))
  const smallGraph: Graph = { ...small, nodeCount: nodes.length }
  const reach = reachOf(levels[0].factor.pattern, nodes)
  yield 0.95
  return {
    graph: smallGraph,
    labels: labelsOver(smallGraph, nodes, islands),
    levels: levels.map(({ factor, conductanceS, loopS }) => ({
      factor,
      conductanceS: Float64Array.from(edges, (e) => conductanceS[e]),
      slack: Float64Array.from(edges, (e) => loopS[e] / conductanceS[e]),
      potentialV: Array.from(edges, () => undefined),
    })),
    nodes: Int32Array.from(nodes),
    edges,
    pairs: smallPairs,
    reach,
  }
}

/** Labels of the contracted graph, carried back to the ends. A candidate inside one piece is in no cut. */
function labelsOver(graph: Graph, nodes: readonly number[], islands: Islands): CutLabels {
  const pieceOf = new Map<number, number>()
  const piece = Int32Array.from(nodes, (node) => {
    const island = islands.of[node]
    const known = pieceOf.get(island) ?? pieceOf.size
    pieceOf.set(island, known)
    return known
  })
  const between = Array.from(graph.from, (_, e) => e).filter(
    (e) => piece[graph.from[e]] !== piece[graph.to[e]],
  )
  const contracted: Graph = {
    nodeCount: pieceOf.size,
    from: Int32Array.from(between, (e) => piece[graph.from[e]]),
    to: Int32Array.from(between, (e) => piece[graph.to[e]]),
  }
  const random = randomStream(labelSeed)
  const own = cutLabels(contracted, adjacencyOf(contracted), random)
  const edgeCount = graph.from.length
  const high = Uint32Array.from({ length: edgeCount }, () => random.bits())
  const low = Uint32Array.from({ length: edgeCount }, () => random.bits())
  const lower = new Int32Array(edgeCount).fill(-1)
  between.forEach((e, k) => {
    high[e] = own.high[k]
    low[e] = own.low[k]
    if (own.lower[k] < 0) return
    lower[e] = piece[graph.from[e]] === own.lower[k] ? graph.from[e] : graph.to[e]
  })
  return {
    high,
    low,
    lower,
    position: piece.map((p) => own.position[p]),
    size: piece.map((p) => own.size[p]),
  }
}

/** Potentials of all ends for an ampere through a candidate, solved when it is first asked for. */
export function potentialsOf(
  { graph, nodes, reach, levels }: SetNetwork,
  level: number,
  k: number,
): Float64Array {
  const at = levels[level]
  at.potentialV[k] ??= potentialsAt(at.factor, reach, nodes, nodes[graph.from[k]], nodes[graph.to[k]])
  return present(at.potentialV[k], 'it was just solved')
}

/** The kernel of a set of candidates at one soil level. O(members² + new solves). */
export function kernelOf(network: SetNetwork, level: number, members: ArrayLike<number>): JointSet {
  const { graph, labels, levels } = network
  const { conductanceS, slack } = levels[level]
  const ascending = Int32Array.from(members)
  return jointSetKernel(
    graph,
    labels,
    conductanceS,
    slack,
    ascending,
    Array.from(ascending, (k) => potentialsOf(network, level, k)),
  )
}
