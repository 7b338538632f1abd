import { assert } from '../base/assert.ts'
import type { Factor } from './factor.ts'
import { portionSteps } from '../base/portion.ts'
import type { Adjacency, Graph } from './graph.ts'
import type { EdgeLeverage } from './leverage.ts'
import { pairResistance } from './pairResistance.ts'
import { SLACK_TRUST } from './tolerances.ts'

/** One path beside an edge in steps of a portion: 64 of them make one. */
const stepsOfPath = portionSteps / 64

/** What `pathBesideOhm` works with: the factor, its network, and where each row of the factor has entries. */
export interface PathBeside {
  readonly factor: Factor
  readonly graph: Graph
  readonly adjacency: Adjacency
  readonly conductanceS: Float64Array
  readonly rowStart: Int32Array
  readonly rowColumn: Int32Array
  readonly rowEntry: Int32Array
}

/** Lists the entries of the factor by rows. O(entries) time, 8 bytes an entry. */
export function createPathBeside(
  factor: Factor,
  graph: Graph,
  adjacency: Adjacency,
  conductanceS: Float64Array,
): PathBeside {
  const { nodeCount, start, row } = factor.pattern
  const rowStart = new Int32Array(nodeCount + 1)
  for (let s = 0; s < row.length; s++) rowStart[row[s] + 1]++
  for (let i = 0; i < nodeCount; i++) rowStart[i + 1] += rowStart[i]
  const next = rowStart.slice(0, nodeCount)
  const rowColumn = new Int32Array(row.length)
  const rowEntry = new Int32Array(row.length)
  for (let j = 0; j < nodeCount; j++) {
    for (let s = start[j]; s < start[j + 1]; s++) {
      const at = next[row[s]]++
      rowColumn[at] = j
      rowEntry[at] = s
    }
  }
  return { factor, graph, adjacency, conductanceS, rowStart, rowColumn, rowEntry }
}

/**
 * Resistance between the ends of an edge with the edge itself taken away, in ohm: what a reading across the
 * joint becomes when the joint opens. Only the columns on the path from the edge to the root of the
 * elimination tree depend on the edge: they are eliminated anew without it, again as sums of positive terms,
 * the pair is read, and the old columns are put back. Accurate however small the conductance beside the edge.
 * Time: the entries of the columns that meet that path. The edge must not be a bridge (throws).
 */
export function pathBesideOhm(beside: PathBeside, edge: number): number {
  const { factor, graph } = beside
  const { position, parent, start } = factor.pattern
  const { pivotS, share } = factor
  const saved: { j: number; pivot: number; column: Float64Array }[] = []
  const first = Math.min(position[graph.from[edge]], position[graph.to[edge]])
  for (let j = first; parent[j] >= 0; j = parent[j]) {
    saved.push({ j, pivot: pivotS[j], column: share.slice(start[j], start[j + 1]) })
    pivotS[j] = eliminateWithout(beside, j, edge)
  }
  const isOpen = saved.some(({ j }) => pivotS[j] === 0)
  const ohm = isOpen ? Infinity : pairResistance(factor, graph.from[edge], graph.to[edge])
  for (const { j, pivot, column } of saved) {
    pivotS[j] = pivot
    share.set(column, start[j])
  }
  assert(!isOpen, `edge ${edge} is a bridge: there is no path beside it`)
  return ohm
}

/** Column j from its edges other than `without` and from the columns before it; returns its pivot. */
function eliminateWithout(beside: PathBeside, j: number, without: number): number {
  const { factor, adjacency, conductanceS, rowStart, rowColumn, rowEntry } = beside
  const { pattern, pivotS, share, scratch: weight } = factor
  const { order, position, start, row } = pattern
  const node = order[j]
  for (let s = adjacency.start[node]; s < adjacency.start[node + 1]; s++) {
    const i = position[adjacency.neighbour[s]]
    const e = adjacency.edge[s]
    if (i > j && e !== without) weight[i] += conductanceS[e]
  }
  for (let t = rowStart[j]; t < rowStart[j + 1]; t++) {
    const k = rowColumn[t]
    const f = share[rowEntry[t]] * pivotS[k]
    if (f === 0) continue
    for (let s = rowEntry[t] + 1; s < start[k + 1]; s++) weight[row[s]] += f * share[s]
  }
  let pivot = 0
  for (let s = start[j]; s < start[j + 1]; s++) pivot += weight[row[s]]
  for (let s = start[j]; s < start[j + 1]; s++) {
    share[s] = pivot === 0 ? 0 : weight[row[s]] / pivot
    weight[row[s]] = 0
  }
  return pivot
}

/**
 * Replaces, in place, slack and leverage of all edges that are no bridges and whose slack is below
 * `SLACK_TRUST`: with r = 1/g and the path beside the edge R_∥,
 *
 *   1 − h = r / (r + R_∥) = 1 / (1 + g R_∥) ,   h = g R_∥ / (1 + g R_∥)
 *
 * Costs one `pathBesideOhm` for each such edge. Yields the fraction done.
 */
export function* sharpenSlack(
  network: {
    readonly graph: Graph
    readonly adjacency: Adjacency
    readonly conductanceS: Float64Array
    readonly factor: Factor
  },
  { leverage, slack }: EdgeLeverage,
  isBridge: Uint8Array,
): Generator<number, EdgeLeverage> {
  const { graph, adjacency, conductanceS, factor } = network
  const edgeCount = slack.length
  let beside: PathBeside | undefined
  let steps = 0
  for (let first = 0; first < edgeCount;) {
    const end = Math.min(edgeCount, first + portionSteps)
    const e = nextDoubtful(slack, isBridge, first, end)
    first = Math.min(end, e + 1)
    if (e < end) {
      beside ??= createPathBeside(factor, graph, adjacency, conductanceS)
      const ratio = conductanceS[e] * pathBesideOhm(beside, e)
      slack[e] = 1 / (1 + ratio)
      leverage[e] = ratio / (1 + ratio)
      steps += stepsOfPath
    } else steps = portionSteps
    if (steps < portionSteps) continue
    steps = 0
    yield first / edgeCount
  }
  return { leverage, slack }
}

/** The first edge from `first` on whose slack is a difference that cannot be trusted; `end` where there is none. */
function nextDoubtful(slack: Float64Array, isBridge: Uint8Array, first: number, end: number): number {
  for (let e = first; e < end; e++) if (isBridge[e] === 0 && slack[e] < SLACK_TRUST) return e
  return end
}
