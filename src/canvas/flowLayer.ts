import { assert } from '../base/assert.ts'
import type { FaultMarks, MapMarks } from '../state/mapMarks.ts'
import { currentPieces, leastFaultShare, widestCurrentPx, type CurrentPieces } from './drawMarks.ts'
import { flowDashes, mostDashes } from './flowDashes.ts'
import { levelOf } from './lod.ts'
import type { MapGeometry } from './geometry.ts'
import type { View } from './mapTypes.ts'
import type { Palette } from './palette.ts'

interface FlowScene {
  readonly geometry: MapGeometry
  readonly marks: MapMarks
  readonly palette: Palette
}

/**
 * Dashes that move with a fault's current, on a canvas of their own: a frame of it draws nothing else. It asks for frames
 * only while something flows, the page is seen, nobody paused it, and the reader has not asked for less motion: then the
 * arrowheads of the overlay tell the direction alone.
 */
export class FlowLayer {
  readonly #canvas: HTMLCanvasElement
  readonly #context: CanvasRenderingContext2D
  readonly #view: () => View
  readonly #listening = new AbortController()
  readonly #still = window.matchMedia('(prefers-reduced-motion: reduce)')
  readonly #values = new Float32Array(6 * mostDashes)
  #scene: FlowScene | null = null
  #pieces: CurrentPieces | null = null
  #forwards = new Uint8Array(0)
  #frame = 0
  #isEmpty = true

  constructor(canvas: HTMLCanvasElement, view: () => View) {
    const context = canvas.getContext('2d')
    assert(context !== null, 'the canvas of the current gives no drawing context')
    this.#canvas = canvas
    this.#context = context
    this.#view = view
    const { signal } = this.#listening
    document.addEventListener('visibilitychange', () => this.#goOn(), { signal })
    this.#still.addEventListener('change', () => this.#goOn(), { signal })
  }

  update(next: FlowScene): void {
    const previous = this.#scene
    this.#scene = next
    const { geometry, marks } = next
    const fault = marks.fault ?? null
    const before = previous?.marks.fault ?? null
    if (
      previous?.geometry !== geometry ||
      before?.currentA !== fault?.currentA ||
      before?.mostA !== fault?.mostA
    )
      this.#take(geometry, fault)
    this.#goOn()
  }

  /** Frames are on their way. */
  get isMoving(): boolean {
    return this.#frame !== 0
  }

  destroy(): void {
    cancelAnimationFrame(this.#frame)
    this.#frame = 0
    this.#listening.abort()
  }

  #take(geometry: MapGeometry, fault: FaultMarks | null): void {
    this.#pieces = null
    if (!fault?.currentA || !(fault.mostA > 0)) return
    const { currentA, mostA } = fault
    const signed = Float32Array.from(currentA, (ampere) => ampere / mostA)
    const pieces = currentPieces(geometry, signed)
    this.#forwards = Uint8Array.from(pieces.joints, (joint) => (signed[joint] > 0 ? 1 : 0))
    if (pieces.perAmpere.length > 0) this.#pieces = pieces
  }

  get #mayMove(): boolean {
    const isPaused = this.#scene?.marks.fault?.isPaused ?? true
    return this.#pieces !== null && !isPaused && !document.hidden && !this.#still.matches
  }

  #goOn(): void {
    if (this.#mayMove) {
      if (this.#frame === 0) this.#frame = requestAnimationFrame((ms) => this.#draw(ms))
      return
    }
    cancelAnimationFrame(this.#frame)
    this.#frame = 0
    if (!this.#isEmpty) this.#clear()
  }

  #clear(): void {
    this.#context.setTransform(1, 0, 0, 1, 0, 0)
    this.#context.clearRect(0, 0, this.#canvas.width, this.#canvas.height)
    this.#isEmpty = true
  }

  #draw(ms: number): void {
    this.#frame = 0
    if (!this.#mayMove || !this.#pieces || !this.#scene) return this.#goOn()
    const view = this.#view()
    const width = Math.round(view.widthPx * view.dpr)
    const height = Math.round(view.heightPx * view.dpr)
    if (this.#canvas.width !== width) this.#canvas.width = width
    if (this.#canvas.height !== height) this.#canvas.height = height
    this.#clear()
    const { geometry } = this.#scene
    const { count, values } = flowDashes(
      this.#pieces,
      this.#forwards,
      view,
      ms / 1000,
      leastFaultShare(levelOf(view.k, geometry)),
      widestCurrentPx(view.k, geometry),
      this.#values,
    )
    const context = this.#context
    context.fillStyle = this.#scene.palette.halo
    for (let d = 0; d < count; d++) {
      const [x, y, ux, uy, length, thick] = values.subarray(6 * d, 6 * d + 6)
      const { dpr } = view
      context.setTransform(dpr * ux, dpr * uy, -dpr * uy, dpr * ux, dpr * x, dpr * y)
      context.fillRect(-length / 2, -thick / 2, length, thick)
    }
    this.#isEmpty = count === 0
    this.#frame = requestAnimationFrame((next) => this.#draw(next))
  }
}
