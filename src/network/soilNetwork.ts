import { portion } from '../base/portion.ts'
import { assertPieces, mutualPerM } from './buriedPieces.ts'
import type { BuriedPieces } from './buriedPieces.ts'
import type { Factor } from './factor.ts'
import { edgeResistance } from './leverage.ts'
import { pairResistance } from './pairResistance.ts'
import { soilCells } from './soilCells.ts'
import type { PlacedCluster, SoilCells } from './soilCells.ts'
import { mostCommon } from './soilClusters.ts'
import type { SoilCluster } from './soilClusters.ts'
import { soilGrid } from './soilGrid.ts'
import { soilMesh } from './soilMesh.ts'
import { lumpPieces, potentialOfOthers } from './soilScale.ts'
import { addBranch, solverOf } from './soilSketch.ts'
import type { SoilSketch } from './soilSketch.ts'
import { solveInPlace } from './solve.ts'

/**
 * Soil between electrodes as a network of positive resistances in soil of 1 Ω·m. Nodes 0 … nodeCount − 1 are places
 * in soil; −1 is remote earth. Electrode k stands in soil through `ownPerM[k]`, which leads to node `at[k]`.
 */
export interface SoilNetwork {
  readonly nodeCount: number
  readonly from: Int32Array
  readonly to: Int32Array
  readonly perM: Float64Array
  readonly at: Int32Array
  readonly ownPerM: Float64Array
}

/** Up to so many pieces every pair has a branch of its own. */
export const mostInMesh = 64
/** Least share of what an electrode reads alone that stays its own. */
const leastOwn = 0.02
/** Share of a strip piece's own resistance that lies between the strip and the soil; the rest is the whole strip's. */
const stripShare = 0.5

/**
 * The soil that electrodes share. Whatever is in it, electrode k alone reads `alonePerM[k]` to remote earth; what two have in
 * common comes from their mutual resistances (`mutualPerM`): pair by pair up to 64 pieces (`soilMesh`), in a grid of cells
 * above that (`soilGrid`). All branches are positive. O(pieces · log pieces) time. Yields the fraction done.
 */
export function* coupleElectrodes(pieces: BuriedPieces): Generator<number, SoilNetwork> {
  assertPieces(pieces)
  const n = pieces.xM.length
  const mesh = n <= mostInMesh ? soilMesh(pieces) : null
  const sketch = mesh ?? (yield* portion(soilInCells(pieces), 0, 0.8))
  const at = new Int32Array(pieces.count)
  const ownPerM = new Float64Array(pieces.count)
  const strips: number[] = []
  for (let k = 0; k < pieces.count; k++) {
    const first = pieces.pieceStart[k]
    if (pieces.pieceStart[k + 1] - first > 1) {
      strips.push(k)
      at[k] = addStrip(pieces, sketch, k)
    } else {
      at[k] = sketch.pieceAt[first]
      ownPerM[k] = ownOf(pieces.alonePerM[k], sketch.pieceAtPerM[first])
    }
  }
  if (strips.length > 0) {
    const { factor } = yield* portion(solverOf(sketch), 0.8, 0.2)
    for (const k of strips) {
      const atPerM = pairResistance(factor, at[k], sketch.nodeCount)
      ownPerM[k] = ownOf(pieces.alonePerM[k], atPerM)
    }
  }
  return {
    nodeCount: sketch.nodeCount,
    from: Int32Array.from(sketch.from),
    to: Int32Array.from(sketch.to),
    perM: Float64Array.from(sketch.perM),
    at,
    ownPerM,
  }
}

function ownOf(alonePerM: number, sharedPerM: number): number {
  return Math.max(alonePerM - sharedPerM, leastOwn * alonePerM)
}

/** A node for the metal of a strip, with a branch to the soil at each of its pieces. */
function addStrip(pieces: BuriedPieces, sketch: SoilSketch, k: number): number {
  const node = sketch.nodeCount++
  for (let p = pieces.pieceStart[k]; p < pieces.pieceStart[k + 1]; p++) {
    const own = ownOf(pieces.selfPerM[p], sketch.pieceAtPerM[p])
    addBranch(sketch, node, sketch.pieceAt[p], stripShare * own)
  }
  return node
}

function* soilInCells(pieces: BuriedPieces): Generator<number, SoilSketch> {
  const cells = soilCells(pieces)
  yield 0.2
  const grid = soilGrid(cells.cellM, cells.wanted, apartInCells(pieces, cells))
  yield 0.3
  const sketch: SoilSketch = {
    nodeCount: grid.nodeCount,
    from: grid.from,
    to: grid.to,
    perM: grid.siemens.map((s) => 1 / s),
    pieceAt: new Int32Array(pieces.xM.length),
    pieceAtPerM: new Float64Array(pieces.xM.length),
  }
  const { factor, nodePerM } = yield* portion(readGrid(sketch), 0.3, 0.5)
  const nodeOf = ({ layer, key }: PlacedCluster) => grid.layers[layer].get(key)!
  const scale = scaleOf(pieces, cells, factor, nodePerM, nodeOf)
  for (let e = 0; e < sketch.perM.length; e++) sketch.perM[e] *= scale
  yield 0.8
  for (const placed of cells.clusters) {
    const node = nodeOf(placed)
    addCluster(sketch, placed.cluster, node, scale * nodePerM[node])
  }
  return sketch
}

/** Siemens that join every node to remote earth besides, so that what it reads there is among the edges' resistances. */
const leastSiemens = 1e-15

/** The factor of the grid, and what each of its nodes reads to remote earth. */
function* readGrid(sketch: SoilSketch): Generator<number, { factor: Factor; nodePerM: Float64Array }> {
  const { nodeCount, from, to, perM } = sketch
  const nodes = Array.from({ length: nodeCount }, (_, node) => node)
  const joined = {
    ...sketch,
    from: [...from, ...nodes],
    to: [...to, ...nodes.map(() => -1)],
    perM: [...perM, ...nodes.map(() => 1 / leastSiemens)],
  }
  const { factor, graph } = yield* portion(solverOf(joined), 0, 0.6)
  const edgePerM = yield* portion(edgeResistance(factor, graph), 0.6, 0.4)
  return { factor, nodePerM: edgePerM.slice(from.length) }
}

/** How many cell widths lie between the middles of what is buried in two cells. */
function apartInCells({ xM, yM }: BuriedPieces, { pieces, cellM }: SoilCells) {
  const middle = (place: Float64Array, key: number) => {
    const members = pieces.get(key)
    return members ? members.reduce((sum, p) => sum + place[p], 0) / members.length : NaN
  }
  return (a: number, b: number) => {
    const d = Math.hypot(middle(xM, a) - middle(xM, b), middle(yM, a) - middle(yM, b)) / cellM
    return Number.isFinite(d) ? Math.min(2, Math.max(0.5, d)) : 1
  }
}

/** A node for the common part of every pair of halves, as far as it is more than what lies below. */
function addCluster(sketch: SoilSketch, cluster: SoilCluster, node: number, perM: number): void {
  if (cluster.is === 'piece') {
    sketch.pieceAt[cluster.piece] = node
    sketch.pieceAtPerM[cluster.piece] = perM
    return
  }
  const common = Math.min(cluster.meanPerM, mostCommon * cluster.leastSelfPerM)
  let at = node
  let atPerM = perM
  if (common - perM > 1e-3 * common) {
    at = sketch.nodeCount++
    atPerM = common
    addBranch(sketch, at, node, common - perM)
  }
  addCluster(sketch, cluster.first, at, atPerM)
  addCluster(sketch, cluster.second, at, atPerM)
}

const mostSamples = 256
const leastScale = 0.6
const mostScale = 1.6

/**
 * The factor for the grid's resistances with which the mean over pieces of what all others raise there is that of their mutual
 * resistances, every piece giving off current as it does alone. Taken at 256 pieces, evenly spread.
 */
function scaleOf(
  pieces: BuriedPieces,
  cells: SoilCells,
  factor: Factor,
  nodePerM: Float64Array,
  nodeOf: (placed: PlacedCluster) => number,
): number {
  const n = pieces.xM.length
  const weightA = pieces.selfPerM.map((self) => 1 / self)
  const injected = new Float64Array(nodePerM.length + 1)
  const clusterOf = new Int32Array(n)
  const members = cells.clusters.map(({ cluster }) => membersOf(cluster))
  const ofCluster = new Float64Array(members.length)
  members.forEach((list, c) => {
    for (const p of list) {
      clusterOf[p] = c
      ofCluster[c] += weightA[p]
    }
    injected[nodeOf(cells.clusters[c])] += ofCluster[c]
  })
  const volts = solveInPlace(factor, injected)
  const lumps = lumpPieces(pieces, cells.pieces, weightA)
  const step = Math.max(1, Math.floor(n / mostSamples))
  let wanted = 0
  let throughGrid = 0
  const within: { ohm: number; mean: number; weight: number }[] = []
  for (let p = 0; p < n; p += step) {
    const c = clusterOf[p]
    const node = nodeOf(cells.clusters[c])
    const others = ofCluster[c] - weightA[p]
    let beside = 0
    for (const j of members[c]) if (j !== p) beside += weightA[j] * mutualPerM(pieces, p, j)
    wanted += weightA[p] * potentialOfOthers(pieces, cells.pieces, lumps, cells.cellM, weightA, p)
    throughGrid += weightA[p] * (volts[node] - ofCluster[c] * nodePerM[node])
    if (others > 0) within.push({ ohm: nodePerM[node], mean: beside / others, weight: weightA[p] * others })
  }
  const excess = (scale: number) => {
    let sum = scale * throughGrid - wanted
    for (const { ohm, mean, weight } of within) sum += weight * Math.max(mean, scale * ohm)
    return sum
  }
  return crossing(excess, leastScale, mostScale)
}

/** Where a rising function passes zero, within bounds. */
function crossing(rising: (x: number) => number, low: number, high: number): number {
  if (!(rising(high) > 0)) return high
  if (rising(low) > 0) return low
  for (let k = 0; k < 30; k++) {
    const middle = (low + high) / 2
    if (rising(middle) > 0) high = middle
    else low = middle
  }
  return (low + high) / 2
}

function membersOf(cluster: SoilCluster): number[] {
  return cluster.is === 'piece'
    ? [cluster.piece]
    : [...membersOf(cluster.first), ...membersOf(cluster.second)]
}
