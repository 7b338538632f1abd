import type { PointM } from '../model/schema/primitives.ts'
import type { DrawEvent, DrawHandle, DrawPoint } from '../tools/draw/drawTool.ts'
import { DrawGestures, type PointerHold } from './drawGestures.ts'
import { drawnAt, landingAt } from './drawnHit.ts'
import type { MapGeometry } from './geometry.ts'
import type { HitIndex } from './hitIndex.ts'
import { toScreen, toWorld, type PointPx, type View } from './mapTypes.ts'

/** What the drawing mode needs of the map it works on. */
export interface DrawModeTarget {
  readonly isDrawing: () => boolean
  readonly view: () => View
  readonly geometry: () => MapGeometry
  readonly hits: () => HitIndex
  /** The handle under a place of the screen. */
  readonly handleAt: (at: PointPx, reachPx: number) => DrawHandle | null
  readonly owns: (at: DrawPoint) => boolean
  readonly onevent: (event: DrawEvent) => void
  /** Where the pointer is; null when it has left. For what is told beside it. */
  readonly onpointer: (at: PointPx | null, isTouch: boolean) => void
}

/** A landing is looked for at least so near, in CSS pixels, however fine the pointer. */
const landingPx = 9
const keyReachPx = 8

/**
 * Turns what a pointer does on the map, or what the arrow keys do with the cross, into events of the drawing tool in
 * metres. Drags and hovers come once a frame at most: what came in between is older than what is shown.
 */
export class DrawMode {
  readonly #target: DrawModeTarget
  readonly #gestures: DrawGestures
  #frame = 0
  #waiting: (() => void) | null = null
  #crossM: PointM | null = null

  constructor(element: HTMLElement, target: DrawModeTarget) {
    this.#target = target
    this.#gestures = new DrawGestures(element, {
      isDrawing: target.isDrawing,
      owns: (hold) => target.owns(this.#pointOf(hold)),
      onhover: (hold) => this.#soon(() => this.#hover(hold)),
      ontap: (hold) => this.#tap('tap', hold),
      ondoubletap: (hold) => this.#tap('finish', hold),
      ondrag: (from, at) => this.#soon(() => this.#drag('drag', from, at)),
      ondrop: (from, at) => this.#drag('drop', from, at),
      onbreak: () => this.#now(() => target.onevent({ kind: 'leave' })),
      ongiveup: () => this.#now(() => target.onevent({ kind: 'cancel' })),
    })
  }

  get mayMove(): DrawGestures['mayMove'] {
    return this.#gestures.mayMove
  }

  /** Where the keyboard's cross stands; null while the keyboard does not draw. */
  get crossM(): PointM | null {
    return this.#crossM
  }

  /**
   * Moves the keyboard's cross by lines of a grid; it begins in the middle of the view. The tool follows it as it does a
   * pointer.
   */
  moveCross(byLines: PointM, gridM: number): PointM {
    const from = this.#crossM ?? this.#middle(this.#target.view())
    const by = this.#crossM === null ? { x: 0, y: 0 } : byLines
    const onGrid = (valueM: number, lines: number) => (Math.round(valueM / gridM) + lines) * gridM
    this.#crossM = { x: onGrid(from.x, by.x), y: onGrid(from.y, by.y) }
    this.#target.onevent({ kind: 'hover', at: this.#pointAt(this.#crossM, false) })
    return this.#crossM
  }

  /** A tap where the cross stands. */
  tapCross(isShift: boolean): boolean {
    if (!this.#crossM) return false
    this.#target.onevent({ kind: 'tap', at: this.#pointAt(this.#crossM, isShift) })
    return true
  }

  dropCross(): void {
    this.#crossM = null
  }

  cancel(): boolean {
    return this.#gestures.cancel()
  }

  destroy(): void {
    cancelAnimationFrame(this.#frame)
    this.#gestures.destroy()
  }

  #middle({ widthPx, heightPx, ...view }: View): PointM {
    return toWorld({ widthPx, heightPx, ...view }, { x: widthPx / 2, y: heightPx / 2 })
  }

  #hover(hold: PointerHold | null): void {
    this.#target.onpointer(hold?.at ?? null, false)
    this.#target.onevent(hold ? { kind: 'hover', at: this.#pointOf(hold) } : { kind: 'leave' })
  }

  #tap(kind: 'tap' | 'finish', hold: PointerHold): void {
    this.#now(() => {
      this.#crossM = null
      this.#target.onpointer(hold.at, hold.isTouch)
      if (kind === 'tap') this.#target.onevent({ kind, at: this.#pointOf(hold) })
      else this.#target.onevent({ kind })
    })
  }

  #drag(kind: 'drag' | 'drop', from: PointerHold, at: PointerHold): void {
    const tell = () => {
      this.#crossM = null
      this.#target.onpointer(at.at, at.isTouch)
      this.#target.onevent({ kind, from: this.#pointOf(from), at: this.#pointOf(at) })
    }
    if (kind === 'drop') this.#now(tell)
    else tell()
  }

  #soon(tell: () => void): void {
    this.#waiting = tell
    if (this.#frame !== 0) return
    this.#frame = requestAnimationFrame(() => {
      this.#frame = 0
      const waiting = this.#waiting
      this.#waiting = null
      waiting?.()
    })
  }

  /** What still waits is told first, so that events come in their order. */
  #now(tell: () => void): void {
    cancelAnimationFrame(this.#frame)
    this.#frame = 0
    const waiting = this.#waiting
    this.#waiting = null
    waiting?.()
    tell()
  }

  #pointOf({ at, reachPx, isShift, isAlt }: PointerHold): DrawPoint {
    const view = this.#target.view()
    return this.#point(toWorld(view, at), at, reachPx, view.k, isShift, isAlt)
  }

  #pointAt(atM: PointM, isShift: boolean): DrawPoint {
    const view = this.#target.view()
    return this.#point(atM, toScreen(view, atM), keyReachPx, view.k, isShift, false)
  }

  #point(
    atM: PointM,
    at: PointPx,
    reachPx: number,
    pxPerM: number,
    isAdding: boolean,
    isFree: boolean,
  ): DrawPoint {
    const geometry = this.#target.geometry()
    const hits = this.#target.hits()
    const reachM = reachPx / pxPerM
    return {
      atM,
      reachM,
      item: drawnAt(geometry, hits, atM, reachM),
      part: isFree ? null : landingAt(geometry, hits, atM, Math.max(reachPx, landingPx) / pxPerM),
      isAdding,
      isFree,
      handle: this.#target.handleAt(at, reachPx),
    }
  }
}
