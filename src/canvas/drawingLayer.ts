import { assert } from '../base/assert.ts'
import type { SiteIndex } from '../layout/siteIndex.ts'
import { drawTag } from './drawTag.ts'
import type { PointPx, View } from './mapTypes.ts'
import { drawDrawing, type DrawingShown } from './overlayDrawing.ts'
import type { Palette } from './palette.ts'

/** Where the pointer is while something is drawn. */
export interface PointerAt {
  readonly at: PointPx
  readonly isTouch: boolean
}

/**
 * A canvas of its own for what the tool in hand would do: while something is dragged it alone is drawn anew, and neither the
 * mass below nor the readings and names between.
 */
export class DrawingLayer {
  readonly #canvas: HTMLCanvasElement
  readonly #context: CanvasRenderingContext2D
  #isEmpty = true

  constructor(canvas: HTMLCanvasElement) {
    const context = canvas.getContext('2d')
    assert(context !== null, 'the canvas of the drawing gives no drawing context')
    this.#canvas = canvas
    this.#context = context
  }

  draw(
    index: SiteIndex,
    shown: DrawingShown | null,
    view: View,
    palette: Palette,
    pointer: PointerAt | null,
  ): void {
    if (shown === null && this.#isEmpty) return
    const width = Math.round(view.widthPx * view.dpr)
    const height = Math.round(view.heightPx * view.dpr)
    if (this.#canvas.width !== width) this.#canvas.width = width
    if (this.#canvas.height !== height) this.#canvas.height = height
    this.#context.setTransform(view.dpr, 0, 0, view.dpr, 0, 0)
    this.#context.clearRect(0, 0, view.widthPx, view.heightPx)
    this.#isEmpty = shown === null
    if (shown === null) return
    drawDrawing(this.#context, index, shown, view, palette)
    if (shown.told !== null && pointer) {
      drawTag(this.#context, { text: shown.told, ...pointer }, view, palette)
    }
  }
}
