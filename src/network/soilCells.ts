import type { BuriedPieces } from './buriedPieces.ts'
import { clusterPieces } from './soilClusters.ts'
import type { SoilCluster } from './soilClusters.ts'
import { below, cellAt, cellKey, cellOhm } from './soilGrid.ts'

/** Pieces by the cells they stand in, and the clusters that lead into the grid. */
export interface SoilCells {
  readonly cellM: number
  /** Surface cells with their pieces. */
  readonly pieces: ReadonlyMap<number, readonly number[]>
  readonly clusters: readonly PlacedCluster[]
  /** Cells that clusters lead into, by layer. */
  readonly wanted: readonly ReadonlySet<number>[]
}

export interface PlacedCluster {
  readonly layer: number
  readonly key: number
  readonly cluster: SoilCluster
}

/** Pieces a surface cell shall hold on average: more, and two rows fall into one; fewer, and the grid grows. */
const piecesInCell = 1.25
/** Least width of a cell in lengths of the median piece; in a narrower one pieces are no points any more. */
const leastInLengths = 1.1
/** A piece leads into a cell that has at most this share of what the piece reads alone. */
const mostOfSelf = 0.7
/** A cluster leads into a cell that has at most this many times the cluster's own mean. */
const mostOfMean = 1.6

/** A piece goes to the cell of one nearer to it than this share of a cell's width. */
const nearInCells = 0.5

export function soilCells(pieces: BuriedPieces): SoilCells {
  const { xM, selfPerM } = pieces
  const cellM = chooseCell(pieces)
  const cellOf = surfaceCells(pieces, cellM)
  moveToNear(pieces, cellM, cellOf)
  const inCell = new Map<number, number[]>()
  const byAttachment = new Map<string, number[]>()
  for (let p = 0; p < xM.length; p++) {
    append(inCell, cellOf[p], p)
    const layer = layerFor(mostOfSelf * selfPerM[p], cellM)
    append(byAttachment, `${layer} ${ancestor(cellOf[p], layer)}`, p)
  }
  const clusters: PlacedCluster[] = []
  const wanted: Set<number>[] = [new Set()]
  for (const [at, members] of byAttachment) {
    const [layer, key] = at.split(' ').map(Number)
    const cluster = clusterPieces(pieces, members)
    const least =
      cluster.is === 'pair' ? Math.max(layer, layerFor(mostOfMean * cluster.meanPerM, cellM)) : layer
    const placed = { layer: least, key: ancestor(key, least - layer), cluster }
    clusters.push(placed)
    while (wanted.length <= least) wanted.push(new Set())
    wanted[least].add(placed.key)
  }
  return { cellM, pieces: inCell, clusters, wanted }
}

/** Half a cell lies south and west of the outermost pieces, so that rows stand in the middle of their cells. */
function surfaceCells({ xM, yM }: BuriedPieces, cellM: number): Float64Array {
  const west = least(xM) - cellM / 2
  const south = least(yM) - cellM / 2
  return Float64Array.from(xM, (x, p) =>
    cellKey(Math.floor((x - west) / cellM), Math.floor((yM[p] - south) / cellM)),
  )
}

/** Near pieces on the two sides of a cell's edge come into one cell, for what they have in common is more than cells have. */
function moveToNear({ xM, yM }: BuriedPieces, cellM: number, cellOf: Float64Array): void {
  const inCell = new Map<number, number[]>()
  cellOf.forEach((key, p) => append(inCell, key, p))
  const isMoved = new Uint8Array(xM.length)
  const own = cellOf.slice()
  for (let p = 0; p < xM.length; p++) {
    const [i, j] = cellAt(own[p])
    let nearest = nearInCells * cellM
    let to = -1
    for (let k = 0; k < 9; k++) {
      for (const q of inCell.get(cellKey(i + (k % 3) - 1, j + Math.floor(k / 3) - 1)) ?? []) {
        if (q === p) continue
        const d = Math.hypot(xM[p] - xM[q], yM[p] - yM[q])
        if (d >= nearest) continue
        nearest = d
        to = q
      }
    }
    if (to < 0 || isMoved[to] === 1 || cellOf[to] === cellOf[p]) continue
    isMoved[p] = 1
    cellOf[p] = cellOf[to]
  }
}

/** The uppermost layer whose cells have at most so many ohms (in soil of 1 Ω·m). */
function layerFor(mostPerM: number, cellM: number): number {
  return Math.max(0, Math.ceil(Math.log2(cellOhm / (mostPerM * cellM)) - 1e-9))
}

export function ancestor(key: number, layers: number): number {
  for (let k = 0; k < layers; k++) {
    const [i, j] = cellAt(key)
    key = below(i, j)
  }
  return key
}

function append<K>(lists: Map<K, number[]>, key: K, piece: number): void {
  const list = lists.get(key)
  if (list) list.push(piece)
  else lists.set(key, [piece])
}

/**
 * The widest of a row of widths, each 1.19 times the one before, whose cells hold few enough pieces; then less or more,
 * so that rows are a whole number of cells apart. On a large site as much wider as keeps the cells few.
 */
function chooseCell(pieces: BuriedPieces): number {
  const { xM, yM, lengthM, rowPitchM } = pieces
  const extentM = Math.max(extentOf(xM), extentOf(yM))
  const median = [...lengthM].sort((a, b) => a - b)[lengthM.length >> 1]
  const leastM = Math.max(leastInLengths * median, extentM / 2 ** 20)
  let cellM = leastM
  for (;;) {
    const wider = cellM * 2 ** 0.25
    if (wider > extentM || xM.length > piecesInCell * countCells(pieces, wider)) break
    cellM = wider
  }
  if (rowPitchM !== null && rowPitchM >= leastM) {
    cellM = rowPitchM / Math.min(Math.ceil(rowPitchM / cellM), Math.floor(rowPitchM / leastM))
  }
  const unitM = rowPitchM !== null && rowPitchM >= leastM ? rowPitchM : cellM
  for (let times = 1; countCells(pieces, cellM) > mostCells; times++) cellM = Math.max(cellM, times * unitM)
  return cellM
}

/**
 * Surface cells that an electrical network of a million joints still solves as fast as without: their layers are as wide a
 * grid, and its elimination grows with the third power of its width.
 */
const mostCells = 1200

function countCells(pieces: BuriedPieces, cellM: number): number {
  return new Set(surfaceCells(pieces, cellM)).size
}

function extentOf(place: Float64Array): number {
  return -least(place.map((at) => -at)) - least(place)
}

function least(place: Float64Array): number {
  let low = Infinity
  for (const at of place) low = Math.min(low, at)
  return low
}
