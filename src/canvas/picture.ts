import type { CurrentPieces } from './drawMarks.ts'
import type { MapGeometry } from './geometry.ts'
import type { BasePaint } from './basePaint.ts'
import type { View } from './mapTypes.ts'
import { paintBase, piecesOf } from './paintBase.ts'
import type { Raster } from './rasteriser.ts'
import { sightTints, type SightTints } from './sightTints.ts'
import { voltTints, type VoltTints } from './voltTints.ts'

/** A corner of the raster and a size, in device pixels. */
interface Region {
  readonly left: number
  readonly top: number
  readonly width: number
  readonly height: number
}

interface Painted {
  readonly geometry: MapGeometry
  readonly view: View
  readonly paint: BasePaint
  readonly x0: number
  readonly y0: number
}

/** What had to be painted for a view. */
export type PaintedShare = 'nothing' | 'strips' | 'all'

/** Strips of more than this share of the picture cost as much as all of it. */
const mostStripShare = 0.6

/**
 * The base layer's pixels, kept from view to view. The origin of a view is a whole device pixel, so a pan moves the
 * picture by whole pixels: what stays in view is moved in memory, and only what comes into view is painted.
 * The result is the same as painting all of it.
 */
export class Picture {
  #raster: Raster = { width: 0, height: 0, pixels: new Uint32Array(0) }
  #painted: Painted | null = null
  #scratch = new Uint32Array(0)
  #pieces: CurrentPieces | null = null
  #tints: SightTints | null = null
  #tintsOf: { readonly geometry: MapGeometry; readonly sights: Uint8Array | null } | null = null
  #volts: VoltTints | null = null
  #voltsOf: { readonly geometry: MapGeometry; readonly shown: Float32Array | null } | null = null
  #piecesOf: { readonly geometry: MapGeometry; readonly perAmpere: Float32Array | null } | null = null

  get raster(): Raster {
    return this.#raster
  }

  /** Takes other pixels to paint into; what was painted before is forgotten. */
  useRaster(raster: Raster): void {
    this.#raster = raster
    this.#painted = null
  }

  /** Paints a view whose device pixels the raster has. O(what comes into view), after a zoom O(all that is seen). */
  show(geometry: MapGeometry, view: View, paint: BasePaint): PaintedShare {
    const next: Painted = {
      geometry,
      view,
      paint,
      x0: Math.round(view.x * view.dpr),
      y0: Math.round(view.y * view.dpr),
    }
    const previous = this.#painted
    this.#painted = next
    const { width, height } = this.#raster
    if (!previous || !isSamePicture(previous, next)) {
      this.#paint({ left: 0, top: 0, width, height }, next)
      return 'all'
    }
    const dx = next.x0 - previous.x0
    const dy = next.y0 - previous.y0
    if (dx === 0 && dy === 0) return 'nothing'
    const kept = Math.max(width - Math.abs(dx), 0) * Math.max(height - Math.abs(dy), 0)
    if (kept < (1 - mostStripShare) * width * height) {
      this.#paint({ left: 0, top: 0, width, height }, next)
      return 'all'
    }
    this.#shift(dx, dy)
    for (const region of comingIntoView(dx, dy, width, height)) this.#paint(region, next)
    return 'strips'
  }

  /** Rows lie one after the other, so that one move of memory does it; what wraps around is painted over. */
  #shift(dx: number, dy: number): void {
    const { width, pixels } = this.#raster
    const by = dy * width + dx
    if (by > 0) pixels.copyWithin(by, 0, pixels.length - by)
    else pixels.copyWithin(0, -by)
  }

  #paint(region: Region, { geometry, view, paint, x0, y0 }: Painted): void {
    const { width, pixels } = this.#raster
    const size = region.width * region.height
    if (size === 0) return
    const isWide = region.width === width
    if (!isWide && this.#scratch.length < size) this.#scratch = new Uint32Array(size)
    const from = region.top * width
    const target: Raster = {
      width: region.width,
      height: region.height,
      pixels: isWide ? pixels.subarray(from, from + size) : this.#scratch.subarray(0, size),
    }
    const partView: View = {
      ...view,
      x: (x0 - region.left) / view.dpr,
      y: (y0 - region.top) / view.dpr,
      widthPx: region.width / view.dpr,
      heightPx: region.height / view.dpr,
    }
    paintBase(
      target,
      geometry,
      partView,
      paint,
      this.#piecesFor(geometry, paint),
      this.#tintsFor(geometry, paint),
      this.#voltsFor(geometry, paint),
    )
    if (isWide) return
    for (let row = 0; row < region.height; row++) {
      const line = target.pixels.subarray(row * region.width, (row + 1) * region.width)
      pixels.set(line, (region.top + row) * width + region.left)
    }
  }

  #piecesFor(geometry: MapGeometry, { marks }: BasePaint): CurrentPieces | null {
    const perAmpere = marks.currentPerAmpere
    if (this.#piecesOf?.geometry !== geometry || this.#piecesOf.perAmpere !== perAmpere) {
      this.#pieces = piecesOf(geometry, perAmpere)
      this.#piecesOf = { geometry, perAmpere }
    }
    return this.#pieces
  }

  #tintsFor(geometry: MapGeometry, { marks }: BasePaint): SightTints | null {
    const sights = marks.sights ?? null
    if (this.#tintsOf?.geometry !== geometry || this.#tintsOf.sights !== sights) {
      this.#tints = sightTints(geometry, sights)
      this.#tintsOf = { geometry, sights }
    }
    return this.#tints
  }

  #voltsFor(geometry: MapGeometry, { marks }: BasePaint): VoltTints | null {
    const shown = voltsShown(marks)
    if (this.#voltsOf?.geometry !== geometry || this.#voltsOf.shown !== shown) {
      this.#volts = voltTints(geometry, marks.fault)
      this.#voltsOf = { geometry, shown }
    }
    return this.#volts
  }
}

function isSamePicture(a: Painted, b: Painted): boolean {
  return (
    a.geometry === b.geometry &&
    a.view.k === b.view.k &&
    a.view.dpr === b.view.dpr &&
    !a.paint.isSwift &&
    a.paint.palette === b.paint.palette &&
    a.paint.marks.suspects === b.paint.marks.suspects &&
    a.paint.marks.currentPerAmpere === b.paint.marks.currentPerAmpere &&
    (a.paint.marks.sights ?? null) === (b.paint.marks.sights ?? null) &&
    voltsShown(a.paint.marks) === voltsShown(b.paint.marks) &&
    groundShown(a.paint.marks) === groundShown(b.paint.marks) &&
    a.paint.readings === b.paint.readings
  )
}

/** What a move by whole pixels brings into view: a strip of all columns, and one of the rows that are left. */
function comingIntoView(dx: number, dy: number, width: number, height: number): readonly Region[] {
  const rows = Math.abs(dy)
  const columns = Math.abs(dx)
  return [
    { left: 0, top: dy > 0 ? 0 : height - rows, width, height: rows },
    { left: dx > 0 ? 0 : width - columns, top: dy > 0 ? rows : 0, width: columns, height: height - rows },
  ]
}

function groundShown({ fault }: BasePaint['marks']): Float32Array | null {
  return fault?.ground?.picture?.volt ?? null
}

function voltsShown({ fault }: BasePaint['marks']): Float32Array | null {
  return fault?.partV ?? fault?.lossV ?? null
}
