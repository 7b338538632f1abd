import { mutualPerM } from './buriedPieces.ts'
import type { BuriedPieces } from './buriedPieces.ts'
import { cellAt, cellKey, below } from './soilGrid.ts'

interface Lump {
  weight: number
  xM: number
  yM: number
}

/** Layers of lumps over the surface cells, the coarsest last. */
type Lumps = readonly Map<number, Lump>[]

/** A lump counts as one point from so many of its widths away. */
const farInWidths = 2

/**
 * What the current of all other pieces, `weightA[j]` amperes each, raises at piece i in soil of 1 Ω·m: volts by the mutual
 * resistances of pairs, with pieces far away taken in lumps (Barnes and Hut 1986). No distance is cut off.
 */
export function potentialOfOthers(
  pieces: BuriedPieces,
  inCell: ReadonlyMap<number, readonly number[]>,
  lumps: Lumps,
  cellM: number,
  weightA: Float64Array,
  piece: number,
): number {
  const { xM, yM } = pieces
  let volts = 0
  const visit = (layer: number, key: number) => {
    const lump = lumps[layer].get(key)
    if (!lump) return
    const d = Math.hypot(lump.xM - xM[piece], lump.yM - yM[piece])
    if (d > farInWidths * cellM * 2 ** layer) volts += lump.weight / (2 * Math.PI * d)
    else if (layer === 0) {
      for (const j of inCell.get(key)!) if (j !== piece) volts += weightA[j] * mutualPerM(pieces, piece, j)
    } else {
      const [i, j] = cellAt(key)
      for (let k = 0; k < 4; k++) visit(layer - 1, cellKey(2 * i + (k & 1), 2 * j + (k >> 1)))
    }
  }
  for (const key of lumps[lumps.length - 1].keys()) visit(lumps.length - 1, key)
  return volts
}

export function lumpPieces(
  { xM, yM }: BuriedPieces,
  inCell: ReadonlyMap<number, readonly number[]>,
  weightA: Float64Array,
): Lumps {
  let layer = new Map<number, Lump>()
  for (const [key, members] of inCell) {
    for (const p of members) add(layer, key, { weight: weightA[p], xM: xM[p], yM: yM[p] })
  }
  const lumps = [layer]
  while (layer.size > 4) {
    const next = new Map<number, Lump>()
    for (const [key, lump] of layer) {
      const [i, j] = cellAt(key)
      add(next, below(i, j), lump)
    }
    lumps.push(next)
    if (next.size === layer.size && lumps.length > 24) break
    layer = next
  }
  return lumps
}

function add(layer: Map<number, Lump>, key: number, more: Lump): void {
  const lump = layer.get(key)
  if (!lump) {
    layer.set(key, { ...more })
    return
  }
  const weight = lump.weight + more.weight
  lump.xM += ((more.xM - lump.xM) * more.weight) / weight
  lump.yM += ((more.yM - lump.yM) * more.weight) / weight
  lump.weight = weight
}
