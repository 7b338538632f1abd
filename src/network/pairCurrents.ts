import { assert } from '../base/assert.ts'
import { bridgeCurrent } from './currents.ts'
import type { Factor } from './factor.ts'
import type { Adjacency } from './graph.ts'
import { sendAlongPaths } from './solve.ts'
import type { Through } from './through.ts'

/** A factored network and what bounds the currents in its parts. */
export interface CurrentSource {
  readonly factor: Factor
  readonly adjacency: Adjacency
  readonly conductanceS: Float64Array
  readonly isBridge: Uint8Array
  readonly through: Through
}

/** Edges and the squares of their currents: the first `count` of each array, which grow when they are full. */
export interface EdgeSquares {
  count: number
  edge: Int32Array
  squared: Float64Array
}

export function emptyEdgeSquares(room = 1024): EdgeSquares {
  return { count: 0, edge: new Int32Array(room), squared: new Float64Array(room) }
}

/**
 * The squared currents of one ampere from node `a` to node `b`, in every edge where they matter: where an edge
 * that opens would move the pair's resistance by `leastOhm` or more, or belongs to a part of the network that
 * holds as much of it. Exactly those of a full solve, bit for bit, in an order that depends on the pair alone.
 *
 * Back substitution from the top of the elimination tree downwards. A subtree that holds neither end is left out,
 * with all its edges, once with `Through`'s bound I on the current that passes through it
 *
 *   I² / least c < leastOhm      (no joint in it that opens is felt: the rise is i² / c and no i is above I)
 *   Σ W_ik (x_i − x_k)² < leastOhm      (the ohms of the pair that lie in it: Σ i² r over its edges)
 *
 * so that a large network is read only where the current of the pair goes. Time: entries and edges of the columns
 * that are visited. The two nodes must lie on one island, and not be the same.
 */
export function currentsOfPair(
  source: CurrentSource,
  a: number,
  b: number,
  leastOhm: number,
  out: EdgeSquares,
): EdgeSquares {
  const { factor, through } = source
  const { subtreeStart, betweenS, toReferenceS, leastLoopS } = through
  const { pattern, pivotS, share, scratch } = factor
  const { position, root, islandStart, start, row } = pattern
  const last = root[position[a]]
  assert(a !== b && root[position[b]] === last, `no path joins nodes ${a} and ${b}, or they are one`)
  const first = islandStart[last]
  const low = Math.min(position[a], position[b])
  const high = Math.max(position[a], position[b])
  out.count = 0
  sendAlongPaths(factor, a, b)
  scratch[last] = 0
  for (let j = last - 1; j >= first; j--) {
    const end = start[j + 1]
    const below = subtreeStart[j]
    if (!(below <= low && low <= j) && !(below <= high && high <= j)) {
      let most = -Infinity
      let fewest = Infinity
      for (let s = start[j]; s < end; s++) {
        if (row[s] === last) continue
        const x = scratch[row[s]]
        if (x > most) most = x
        if (x < fewest) fewest = x
      }
      // a part that touches the rest at its reference alone gets nothing
      const apart = most < fewest ? 0 : most - fewest
      const above = most < fewest ? 0 : Math.max(most, -fewest)
      const between = betweenS[j] * apart
      const toReference = toReferenceS[j] * above
      const passesA = between + toReference
      if (between * apart + toReference * above < leastOhm && passesA * passesA < leastOhm * leastLoopS[j]) {
        j = below
        continue
      }
    }
    let x = scratch[j] / pivotS[j]
    for (let s = start[j]; s < end; s++) x += share[s] * scratch[row[s]]
    scratch[j] = x
    writeColumn(source, j, out)
  }
  scratch.fill(0, first, last + 1)
  return out
}

/** Edges from the node at position j to nodes after it. */
function writeColumn(source: CurrentSource, j: number, out: EdgeSquares): void {
  const { factor, adjacency, conductanceS, isBridge } = source
  const { pattern, scratch } = factor
  const { order, position } = pattern
  const { start, neighbour, edge } = adjacency
  const node = order[j]
  for (let s = start[node]; s < start[node + 1]; s++) {
    const other = position[neighbour[s]]
    if (other < j) continue
    const e = edge[s]
    const i = conductanceS[e] * (scratch[j] - scratch[other])
    const squared = isBridge[e] === 1 ? Math.abs(bridgeCurrent(i)) : i * i
    if (squared === 0) continue
    if (out.count === out.edge.length) grow(out)
    out.edge[out.count] = e
    out.squared[out.count++] = squared
  }
}

function grow(out: EdgeSquares): void {
  const edge = new Int32Array(2 * out.edge.length)
  edge.set(out.edge)
  const squared = new Float64Array(2 * out.squared.length)
  squared.set(out.squared)
  out.edge = edge
  out.squared = squared
}
