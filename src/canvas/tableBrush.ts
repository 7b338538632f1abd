import type { MapGeometry } from './geometry.ts'
import { fillBox, fillDot, fillRect, fillWhole, repeatRow } from './rasteriser.ts'
import type { Sight } from './sight.ts'

const alignedWithin = 1e-6

/**
 * Draws in the metres of one table: x along it, y up its slope. Sizes called px are device pixels. Tables that
 * stand along an axis are laid on whole pixels where `isCrisp`; turned ones get smoothed edges.
 */
export class TableBrush {
  readonly #sight: Sight
  isCrisp = false
  #isAligned = true
  #cornerX = 0
  #cornerY = 0
  #alongX = 1
  #alongY = 0

  constructor(sight: Sight) {
    this.#sight = sight
  }

  /** Takes the next table: its run, and its place in it. */
  moveTo({ runs }: MapGeometry, run: number, place: number): void {
    const { x0, y0, k } = this.#sight
    this.#alongX = runs.alongX[run]
    this.#alongY = -runs.alongY[run]
    const alongM = place * runs.stepM[run]
    this.#cornerX = x0 + k * (runs.cornerX[run] + alongM * runs.alongX[run])
    this.#cornerY = y0 - k * (runs.cornerY[run] + alongM * runs.alongY[run])
    this.#isAligned = Math.abs(this.#alongX) < alignedWithin || Math.abs(this.#alongY) < alignedWithin
  }

  /** The table stands along an axis of the screen. */
  get isAligned(): boolean {
    return this.#isAligned
  }

  /** Moves what is drawn next by device pixels, for a shadow. */
  shift(columns: number, rows: number): void {
    this.#cornerX += columns
    this.#cornerY += rows
  }

  /** Column, and below row, of a place in the table: up, seen on a screen whose rows go down, is (alongY, −alongX). */
  column(x: number, y: number): number {
    return this.#cornerX + this.#sight.k * (x * this.#alongX + y * this.#alongY)
  }

  row(x: number, y: number): number {
    return this.#cornerY + this.#sight.k * (x * this.#alongY - y * this.#alongX)
  }

  /** A rectangle between two places, grown on all sides by `growPx`. */
  rect(x0: number, y0: number, x1: number, y1: number, growPx: number, colour: number, opacity = 1): void {
    const { raster, k } = this.#sight
    const column0 = this.column(x0, y0)
    const row0 = this.row(x0, y0)
    const column1 = this.column(x1, y1)
    const row1 = this.row(x1, y1)
    if (!this.#isAligned) {
      const halfX = ((x1 - x0) * k) / 2 + growPx
      const halfY = ((y1 - y0) * k) / 2 + growPx
      const [cx, cy] = [(column0 + column1) / 2, (row0 + row1) / 2]
      fillBox(raster, cx, cy, this.#alongX, this.#alongY, halfX, halfY, colour, opacity)
      return
    }
    const left = Math.min(column0, column1) - growPx
    const top = Math.min(row0, row1) - growPx
    const right = Math.max(column0, column1) + growPx
    const bottom = Math.max(row0, row1) + growPx
    if (!this.isCrisp) fillRect(raster, left, top, right, bottom, colour, opacity)
    else if (opacity === 1)
      fillWhole(raster, Math.round(left), Math.round(top), Math.round(right), Math.round(bottom), colour)
    else
      fillRect(
        raster,
        Math.round(left),
        Math.round(top),
        Math.round(right),
        Math.round(bottom),
        colour,
        opacity,
      )
  }

  /** A line along the table at height y. */
  lineAlong(x0: number, x1: number, y: number, widthPx: number, colour: number, opacity = 1): void {
    this.#line(x0, y, x1, y, widthPx, colour, opacity)
  }

  /** A line up the table at x. */
  lineUp(x: number, y0: number, y1: number, widthPx: number, colour: number, opacity = 1): void {
    this.#line(x, y0, x, y1, widthPx, colour, opacity)
  }

  #line(
    x0: number,
    y0: number,
    x1: number,
    y1: number,
    widthPx: number,
    colour: number,
    opacity: number,
  ): void {
    const { raster, k } = this.#sight
    const column0 = this.column(x0, y0)
    const row0 = this.row(x0, y0)
    const column1 = this.column(x1, y1)
    const row1 = this.row(x1, y1)
    if (!this.#isAligned) {
      const half = (Math.abs(x1 - x0) + Math.abs(y1 - y0)) * k * 0.5
      const isAlong = y0 === y1
      const [ux, uy] = isAlong ? [this.#alongX, this.#alongY] : [this.#alongY, -this.#alongX]
      const [cx, cy] = [(column0 + column1) / 2, (row0 + row1) / 2]
      fillBox(raster, cx, cy, ux, uy, half, widthPx / 2, colour, opacity)
      return
    }
    const isLevel = Math.abs(row1 - row0) < Math.abs(column1 - column0)
    const width = this.isCrisp ? Math.max(Math.round(widthPx), 1) : widthPx
    const middle = (isLevel ? row0 + row1 : column0 + column1) / 2 - width / 2
    const from = this.isCrisp ? Math.round(middle) : middle
    const low = isLevel ? Math.min(column0, column1) : Math.min(row0, row1)
    const high = isLevel ? Math.max(column0, column1) : Math.max(row0, row1)
    const start = this.isCrisp ? Math.round(low) : low
    const end = this.isCrisp ? Math.round(high) : high
    if (isLevel) fillRect(raster, start, from, end, from + width, colour, opacity)
    else fillRect(raster, from, start, from + width, end, colour, opacity)
  }

  /**
   * `count` lines up the whole table, the first at x and each a pitch on, over what is even from its foot to its top. In
   * a table that lies level every row of pixels but the first and the last is the same: it is drawn once and copied.
   */
  linesUp(
    x: number,
    pitchM: number,
    count: number,
    y1: number,
    widthPx: number,
    colour: number,
    opacity: number,
  ): void {
    const { raster } = this.#sight
    const rows = [this.row(0, 0), this.row(0, y1)]
    const place = (row: number) => (this.isCrisp ? Math.round(row) : row)
    const top = Math.max(place(Math.min(...rows)), 0)
    const bottom = Math.min(place(Math.max(...rows)), raster.height)
    const first = Math.ceil(top)
    const last = Math.floor(bottom)
    if (raster.shapes || Math.abs(this.#alongY) >= alignedWithin || last - first < 3) {
      for (let i = 0; i < count; i++) this.lineUp(x + i * pitchM, 0, y1, widthPx, colour, opacity)
      return
    }
    const width = this.isCrisp ? Math.max(Math.round(widthPx), 1) : widthPx
    let [left, right] = [raster.width, 0]
    for (let i = 0; i < count; i++) {
      const middle = this.column(x + i * pitchM, 0) - width / 2
      const from = this.isCrisp ? Math.round(middle) : middle
      if (from + width <= 0 || from >= raster.width) continue
      fillRect(raster, from, top, from + width, first + 1, colour, opacity)
      fillRect(raster, from, last, from + width, bottom, colour, opacity)
      left = Math.min(left, Math.max(Math.floor(from), 0))
      right = Math.max(right, Math.min(Math.ceil(from + width), raster.width))
    }
    if (left < right) repeatRow(raster, first, left, right, first + 1, last)
  }

  dot(x: number, y: number, radiusPx: number, colour: number): void {
    fillDot(this.#sight.raster, this.column(x, y), this.row(x, y), radiusPx, colour)
  }

  /** A square that turns with the table. */
  square(x: number, y: number, halfPx: number, colour: number): void {
    const { raster } = this.#sight
    const cx = this.column(x, y)
    const cy = this.row(x, y)
    fillBox(raster, cx, cy, this.#alongX, this.#alongY, halfPx, halfPx, colour)
  }
}
