/**
 * Soil as a grid of cells in layers that grow coarser with depth:
 *
 *     surface   ─┬─┬─┬─┬─┬─┬─┬─   cells of h
 *     layer 1   ──┬───┬───┬────   cells of 2h, each under four
 *     layer 2   ──────┬────────   cells of 4h …
 *
 * A cell of width w leads ALONG·w/ρ to each of its four neighbours and DOWN·w/ρ to the cell below it. Where
 * nothing is buried in a neighbour, the neighbour is not made; the way through it leads to the cell below
 * it. The last layer leads to remote earth. All conductances are positive, and the number of cells is that of
 * the occupied ones times a few, times the logarithm of the extent.
 */
export interface SoilGrid {
  readonly cellM: number
  readonly nodeCount: number
  readonly layers: readonly SoilLayer[]
  /** Branches; `to` is −1 for remote earth. Siemens in soil of 1 Ω·m. */
  readonly from: number[]
  readonly to: number[]
  readonly siemens: number[]
}

type Branches = Pick<SoilGrid, 'from' | 'to' | 'siemens'>

/** Cells of one layer by their key, and the node of each. */
export type SoilLayer = ReadonlyMap<number, number>

/**
 * Chosen so that two cells d apart have 1/(2πd) of mutual resistance, over fields of 20 to 64 cells a side, full ones and
 * such with every other line empty: from one cell to 64 cells apart the mean over all places lies within 10 % of it, and
 * single pairs scatter by 10 % (neighbours on the two sides of a coarse cell's edge) falling to 3 %.
 */
const ALONG = 0.66
const DOWN = 0.921
/** How much better than one missing neighbour the soil beyond the outermost cells leads. */
const BEYOND = 3.17
const BEYOND_AT_SURFACE = 1.52

/** Conductance of the last layer to remote earth over its cells' width: it is small against the soil above it. */
const LAST = 3 * Math.PI
/** Layers that are added when the field has shrunk to a few cells, and what counts as that. */
const layersBelow = 3
const fewCells = 3

/** What one cell of the grid reads to remote earth, times its width; within 6 % for cells inside a field. */
export const cellOhm = 0.43

const side = 1 << 22

export function cellKey(i: number, j: number): number {
  return (i + 8) * side + (j + 8)
}

/** Column and line of a cell, each counted from where all cells of the layer are above −8. */
export function cellAt(key: number): readonly [i: number, j: number] {
  const i = Math.floor(key / side)
  return [i - 8, key - i * side - 8]
}

/** The cell below a cell. */
export function below(i: number, j: number): number {
  return cellKey(Math.floor(i / 2), Math.floor(j / 2))
}

/**
 * The grid under cells of `cellM` metres; `surface` lists those in which something is buried, `deeper[k]` further
 * ones of layer k that have to be there. O(cells · log extent).
 */
export function soilGrid(
  cellM: number,
  wanted: readonly ReadonlySet<number>[],
  apartInCells: (a: number, b: number) => number,
): SoilGrid {
  const from: number[] = []
  const to: number[] = []
  const siemens: number[] = []
  const layers: SoilLayer[] = []
  let nodeCount = 0
  let cells = new Set(wanted[0])
  let left = layersBelow
  for (let layer = 0; ; layer++) {
    if (layer > 0) for (const key of wanted[layer] ?? []) cells.add(key)
    const nodes = new Map<number, number>()
    for (const key of cells) nodes.set(key, nodeCount++)
    layers.push(nodes)
    if (layer >= wanted.length - 1 && isSmall(cells)) left--
    const isLast = left < 0
    const widthM = cellM * 2 ** layer
    const next = new Set<number>()
    addAlong(nodes, widthM, layer === 0 ? apartInCells : () => 1, { from, to, siemens })
    if (isLast) {
      for (const node of nodes.values()) enter(from, to, siemens, node, -1, (LAST * widthM) / nodes.size)
      return { cellM, nodeCount, layers, from, to, siemens }
    }
    const beyond = layer === 0 ? BEYOND_AT_SURFACE : BEYOND
    addDown(nodes, widthM, beyond, next, nodeCount, { from, to, siemens })
    cells = next
  }
}

function enter(from: number[], to: number[], siemens: number[], a: number, b: number, s: number): void {
  from.push(a)
  to.push(b)
  siemens.push(s)
}

function isSmall(cells: ReadonlySet<number>): boolean {
  let [west, east, south, north] = [Infinity, -Infinity, Infinity, -Infinity]
  for (const key of cells) {
    const [i, j] = cellAt(key)
    west = Math.min(west, i)
    east = Math.max(east, i)
    south = Math.min(south, j)
    north = Math.max(north, j)
  }
  return east - west <= fewCells && north - south <= fewCells
}

function addAlong(
  nodes: SoilLayer,
  widthM: number,
  apart: (a: number, b: number) => number,
  { from, to, siemens }: Branches,
): void {
  for (const [key, node] of nodes) {
    for (const beside of [key + side, key + 1]) {
      const other = nodes.get(beside)
      if (other !== undefined) enter(from, to, siemens, node, other, (ALONG * widthM) / apart(key, beside))
    }
  }
}

/** Each cell to the one below it, and to those below its missing neighbours; parallel ways are one branch. */
function addDown(
  nodes: SoilLayer,
  widthM: number,
  beyond: number,
  next: Set<number>,
  firstBelow: number,
  { from, to, siemens }: Branches,
): void {
  const number = new Map<number, number>()
  const around = (beyond * (ALONG * DOWN)) / (ALONG + DOWN)
  const ways: { key: number; s: number }[] = []
  for (const [key, node] of nodes) {
    const [i, j] = cellAt(key)
    ways.length = 0
    addWay(ways, below(i, j), DOWN)
    if (!nodes.has(key + side)) addWay(ways, below(i + 1, j), around)
    if (!nodes.has(key + 1)) addWay(ways, below(i, j + 1), around)
    if (!nodes.has(key - side)) addWay(ways, below(i - 1, j), around)
    if (!nodes.has(key - 1)) addWay(ways, below(i, j - 1), around)
    for (const way of ways) {
      let down = number.get(way.key)
      if (down === undefined) {
        down = firstBelow + number.size
        number.set(way.key, down)
        next.add(way.key)
      }
      enter(from, to, siemens, node, down, way.s * widthM)
    }
  }
}

function addWay(ways: { key: number; s: number }[], key: number, s: number): void {
  for (const way of ways) {
    if (way.key !== key) continue
    way.s += s
    return
  }
  ways.push({ key, s })
}
