import { assert } from '../base/assert.ts'
import type { CurrentPieces } from './drawMarks.ts'
import type { MapGeometry } from './geometry.ts'
import type { BasePaint, View } from './mapTypes.ts'
import { paintBase, piecesOf } from './paintBase.ts'
import type { Raster } from './rasteriser.ts'

/** The canvas under everything else: own pixels, kept from draw to draw and put in one piece. */
export class BaseLayer {
  readonly #canvas: HTMLCanvasElement
  readonly #context: CanvasRenderingContext2D
  #image: ImageData | null = null
  #raster: Raster = { width: 0, height: 0, pixels: new Uint32Array(0) }
  #pieces: CurrentPieces | null = null
  #piecesOf: { readonly geometry: MapGeometry; readonly perAmpere: Float32Array | null } | null = null

  constructor(canvas: HTMLCanvasElement) {
    const context = canvas.getContext('2d', { alpha: false })
    assert(context !== null, 'the canvas of the map gives no drawing context')
    this.#canvas = canvas
    this.#context = context
  }

  /** Sizes the canvas to the view's device pixels and paints it. The caller sets its size on the page. */
  draw(geometry: MapGeometry, view: View, paint: BasePaint): void {
    const width = Math.round(view.widthPx * view.dpr)
    const height = Math.round(view.heightPx * view.dpr)
    if (width < 1 || height < 1) return
    const image = this.#imageOf(width, height)
    paintBase(this.#raster, geometry, view, paint, this.#piecesFor(geometry, paint.marks.currentPerAmpere))
    this.#context.putImageData(image, 0, 0)
  }

  #imageOf(width: number, height: number): ImageData {
    if (this.#canvas.width !== width) this.#canvas.width = width
    if (this.#canvas.height !== height) this.#canvas.height = height
    if (this.#image?.width === width && this.#image.height === height) return this.#image
    const image = new ImageData(width, height)
    this.#image = image
    this.#raster = { width, height, pixels: new Uint32Array(image.data.buffer) }
    return image
  }

  #piecesFor(geometry: MapGeometry, perAmpere: Float32Array | null): CurrentPieces | null {
    if (this.#piecesOf?.geometry !== geometry || this.#piecesOf.perAmpere !== perAmpere) {
      this.#pieces = piecesOf(geometry, perAmpere)
      this.#piecesOf = { geometry, perAmpere }
    }
    return this.#pieces
  }
}
