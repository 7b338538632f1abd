import { assert } from '../base/assert.ts'
import type { MapGeometry } from './geometry.ts'
import type { BasePaint } from './basePaint.ts'
import type { View } from './mapTypes.ts'
import { Picture } from './picture.ts'

/** The canvas under everything else: own pixels, kept from draw to draw and put in one piece. */
export class BaseLayer {
  readonly #canvas: HTMLCanvasElement
  readonly #context: CanvasRenderingContext2D
  readonly #picture = new Picture()
  #image: ImageData | null = null

  constructor(canvas: HTMLCanvasElement) {
    const context = canvas.getContext('2d', { alpha: false })
    assert(context !== null, 'the canvas of the map gives no drawing context')
    this.#canvas = canvas
    this.#context = context
  }

  /**
   * Sizes the canvas to the view's device pixels and paints it. The caller sets its size on the page. What is
   * drawn over the picture, in CSS pixels, lasts until the next draw.
   */
  draw(
    geometry: MapGeometry,
    view: View,
    paint: BasePaint,
    drawOver: ((context: CanvasRenderingContext2D) => void) | null = null,
  ): void {
    const width = Math.round(view.widthPx * view.dpr)
    const height = Math.round(view.heightPx * view.dpr)
    if (width < 1 || height < 1) return
    const image = this.#imageOf(width, height)
    this.#picture.show(geometry, view, paint)
    this.#context.putImageData(image, 0, 0)
    if (!drawOver) return
    this.#context.setTransform(view.dpr, 0, 0, view.dpr, 0, 0)
    drawOver(this.#context)
    this.#context.setTransform(1, 0, 0, 1, 0, 0)
  }

  #imageOf(width: number, height: number): ImageData {
    if (this.#canvas.width !== width) this.#canvas.width = width
    if (this.#canvas.height !== height) this.#canvas.height = height
    if (this.#image?.width === width && this.#image.height === height) return this.#image
    const image = new ImageData(width, height)
    this.#image = image
    this.#picture.useRaster({ width, height, pixels: new Uint32Array(image.data.buffer) })
    return image
  }
}
