import { assert } from '../base/assert.ts'
import { portionSteps } from '../base/portion.ts'
import { bridgeCurrent } from './currents.ts'
import type { Factor } from './factor.ts'
import { bridgeFlag, earthFlag, type LaterEdges } from './laterEdges.ts'
import { sendAlongPaths } from './solve.ts'
import type { Through } from './through.ts'

/** A factored network and what bounds the currents in its parts. */
export interface CurrentSource {
  readonly factor: Factor
  readonly later: LaterEdges
  /** At the stated soil, whatever the level of this one: `conductanceAt`. */
  readonly conductanceS: Float64Array
  readonly isEarthPath: Uint8Array
  /** What the soil's resistivity is in terms of the stated one. */
  readonly soilFactor: number
  readonly through: Through
}

/** Conductance of an edge at the source's soil level. */
export function conductanceAt(
  { conductanceS, isEarthPath, soilFactor }: CurrentSource,
  edge: number,
): number {
  return isEarthPath[edge] === 1 ? conductanceS[edge] / soilFactor : conductanceS[edge]
}

/** Edges and the squares of their currents: the first `count` of each array, which grow when they are full. */
export interface EdgeSquares {
  count: number
  edge: Int32Array
  squared: Float64Array
  /** Positions that were visited: the first `visitedCount`. */
  visitedCount: number
  visited: Int32Array
}

export function emptyEdgeSquares(room = 1024): EdgeSquares {
  return {
    count: 0,
    edge: new Int32Array(room),
    squared: new Float64Array(room),
    visitedCount: 0,
    visited: new Int32Array(room),
  }
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
 * that are visited. The two nodes must lie on one island, and not be the same. Yields the fraction done; `potentialV`, all
 * zero, a place for each node, is nobody else's meanwhile, and all zero again at the end.
 */
export function* currentsOfPair(
  source: CurrentSource,
  a: number,
  b: number,
  leastOhm: number,
  out: EdgeSquares,
  potentialV: Float64Array,
): Generator<number, EdgeSquares> {
  const { position, root, islandStart } = source.factor.pattern
  const last = root[position[a]]
  assert(a !== b && root[position[b]] === last, `no path joins nodes ${a} and ${b}, or they are one`)
  const first = islandStart[last]
  const low = Math.min(position[a], position[b])
  const high = Math.max(position[a], position[b])
  out.count = out.visitedCount = 0
  sendAlongPaths({ ...source.factor, scratch: potentialV }, a, b)
  potentialV[last] = 0
  for (let j = last - 1; j >= first;) {
    j = visitColumns(source, { first, last, low, high, leastOhm }, j, potentialV, out)
    yield (last - j) / (last - first + 1)
  }
  for (let k = 0; k < out.visitedCount; k++) potentialV[out.visited[k]] = 0
  return out
}

/** Positions of an island, of the two ends, and what is left out. */
interface PairSpan {
  readonly first: number
  readonly last: number
  readonly low: number
  readonly high: number
  readonly leastOhm: number
}

/** Goes down from position j for a portion of steps; returns the position that is next. */
function visitColumns(
  { factor, through, later, soilFactor }: CurrentSource,
  { first, last, low, high, leastOhm }: PairSpan,
  j: number,
  scratch: Float64Array,
  out: EdgeSquares,
): number {
  const { subtreeStart, betweenS, toReferenceS, leastLoopS } = through
  const { pattern, pivotS, share } = factor
  const { start, row } = pattern
  let steps = 0
  for (; j >= first && steps < portionSteps; j--) {
    const end = start[j + 1]
    steps += end - start[j] + 2
    const below = subtreeStart[j]
    let x = 0
    if ((below <= low && low <= j) || (below <= high && high <= j)) {
      x = scratch[j] / pivotS[j]
      for (let s = start[j]; s < end; s++) x += share[s] * scratch[row[s]]
    } else {
      // nothing was sent in here: scratch[j] is 0
      let most = -Infinity
      let fewest = Infinity
      for (let s = start[j]; s < end; s++) {
        const at = scratch[row[s]]
        x += share[s] * at
        if (row[s] === last) continue
        if (at > most) most = at
        if (at < fewest) fewest = at
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
    scratch[j] = x
    if (out.visitedCount === out.visited.length) growVisited(out)
    out.visited[out.visitedCount++] = j
    writeColumn(later, soilFactor, j, scratch, out)
    steps += end - start[j] + 4 * (later.start[j + 1] - later.start[j])
  }
  return j
}

/** Edges from the node at position j to nodes after it. */
function writeColumn(
  { start, row, edge, conductanceS, flags }: LaterEdges,
  soilFactor: number,
  j: number,
  scratch: Float64Array,
  out: EdgeSquares,
): void {
  const x = scratch[j]
  for (let s = start[j]; s < start[j + 1]; s++) {
    const apartV = x - scratch[row[s]]
    if (apartV === 0) continue
    const isEarth = (flags[s] & earthFlag) !== 0
    const i = (isEarth ? conductanceS[s] / soilFactor : conductanceS[s]) * apartV
    const squared = (flags[s] & bridgeFlag) === 0 ? i * i : Math.abs(bridgeCurrent(i))
    if (squared === 0) continue
    if (out.count === out.edge.length) grow(out)
    out.edge[out.count] = edge[s]
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

function growVisited(out: EdgeSquares): void {
  const visited = new Int32Array(2 * out.visited.length)
  visited.set(out.visited)
  out.visited = visited
}
