import {
  select,
  zoom,
  zoomIdentity,
  type D3ZoomEvent,
  type Selection,
  type ZoomBehavior,
  type ZoomTransform,
} from 'd3'
import { grown, type RectM, type View } from './mapTypes.ts'

/** Sides of the view that something else covers, in CSS pixels. */
export interface Inset {
  readonly top: number
  readonly right: number
  readonly bottom: number
  readonly left: number
}

export const noInset: Inset = { top: 0, right: 0, bottom: 0, left: 0 }

export interface CameraOptions {
  /** The view has changed, by a gesture or by command. */
  readonly onchange: () => void
  /** Whether a gesture that begins with this event may move the view. */
  readonly mayMove: (event: MouseEvent | WheelEvent | TouchEvent) => boolean
}

const mostPxPerM = 500
/** The site may be seen this much smaller than it fits. */
const smallestShareOfFit = 0.5
const fitMargins: Inset = { top: 28, right: 28, bottom: 28, left: 28 }
/** So much of the site always stays in view. */
const keptInViewPx = 80
const glideMs = 260
/** A module seen from so near is enough when the view goes to one thing. */
const nearestFocusPxPerM = 90
const focusMargins: Inset = { top: 60, right: 60, bottom: 60, left: 60 }
/** Margins leave at least so much of a small map to what is shown. */
const mostMarginShare = 0.2

/**
 * Where the map is looked at from. d3-zoom holds the only transform, on the element that takes the gestures;
 * everything else asks for changes of it. Plan metres run north, the transform's y runs down.
 */
export class Camera {
  readonly #element: HTMLElement
  readonly #selection: Selection<HTMLElement, unknown, null, undefined>
  readonly #zoom: ZoomBehavior<HTMLElement, unknown>
  #bounds: RectM = { minX: -1, minY: -1, maxX: 1, maxY: 1 }
  #inset: Inset = noInset
  #margins: Inset = fitMargins
  #roamM = 0
  #widthPx = 0
  #heightPx = 0
  #dpr = 1
  #isFitted = true

  constructor(element: HTMLElement, { onchange, mayMove }: CameraOptions) {
    this.#element = element
    this.#selection = select(element)
    this.#zoom = zoom<HTMLElement, unknown>()
      .clickDistance(4)
      // A touch screen may be plugged in later.
      .touchable(true)
      .filter((event: MouseEvent | WheelEvent | TouchEvent) => {
        if (event.type !== 'wheel' && ('button' in event ? event.button > 1 : false)) return false
        return mayMove(event)
      })
      .extent(() => [
        [0, 0],
        [this.#widthPx, this.#heightPx],
      ])
      .constrain((transform) => this.#constrained(transform))
      .on('zoom', (event: D3ZoomEvent<HTMLElement, unknown>) => {
        if (event.sourceEvent) this.#isFitted = false
        onchange()
      })
    this.#selection.call(this.#zoom).on('dblclick.zoom', null)
  }

  get view(): View {
    const { x, y, k } = this.#transform
    return { x, y, k, widthPx: this.#widthPx, heightPx: this.#heightPx, dpr: this.#dpr }
  }

  /**
   * What there is to see, what covers the sides of the view, what stays free around the whole, and how far around
   * it one may go, in metres.
   */
  setBounds(bounds: RectM, inset: Inset = noInset, margins: Inset = fitMargins, roamM = 0): void {
    this.#bounds = bounds
    this.#roamM = roamM
    this.#inset = inset
    this.#margins = margins
    this.#limitScale()
  }

  /** A new size keeps the middle where it is; a view that showed all of the site goes on showing all of it. */
  resize(widthPx: number, heightPx: number, dpr: number): void {
    const dx = (widthPx - this.#widthPx) / 2
    const dy = (heightPx - this.#heightPx) / 2
    this.#widthPx = widthPx
    this.#heightPx = heightPx
    this.#dpr = dpr
    this.#limitScale()
    if (this.#isFitted) return this.#go(this.#fitted(this.#bounds, this.#margins, Infinity), false, true)
    const { x, y, k } = this.#transform
    this.#go(zoomIdentity.translate(x + dx, y + dy).scale(k), false, false)
  }

  fit(isGliding = true): void {
    this.#go(this.#fitted(this.#bounds, this.#margins, Infinity), isGliding, true)
  }

  /** By a factor, about a point of the screen; about the middle of what is not covered where none is given. */
  zoomBy(factor: number, about?: readonly [number, number], isGliding = true): void {
    const { x, y, k } = this.#transform
    const [px, py] = about ?? this.#middle()
    const [least, most] = this.#zoom.scaleExtent()
    const next = Math.min(Math.max(k * factor, least), most)
    const share = next / k
    this.#go(
      zoomIdentity.translate(px + (x - px) * share, py + (y - py) * share).scale(next),
      isGliding,
      false,
    )
  }

  /** Moves what is seen: by so many pixels to the right and down. */
  panBy(dxPx: number, dyPx: number): void {
    const { x, y, k } = this.#transform
    this.#go(zoomIdentity.translate(x + dxPx, y + dyPx).scale(k), false, false)
  }

  /** Brings a rectangle to the middle, as large as it fits, no nearer than needed to tell modules apart. */
  focusOn(rect: RectM, isGliding = true): void {
    const nearest = Math.max(nearestFocusPxPerM, Math.min(this.view.k, 2 * nearestFocusPxPerM))
    this.#go(this.#fitted(rect, focusMargins, nearest), isGliding, false)
  }

  /** Moves no further than needed for a place of the plan to be seen, with some room around it. */
  reveal(xM: number, yM: number, marginPx = 60): void {
    const { x, y, k } = this.#transform
    const room = this.#room(Math.min(marginPx, this.#widthPx / 4, this.#heightPx / 4))
    const px = x + k * xM
    const py = y - k * yM
    const dx = Math.max(room.left - px, 0) + Math.min(room.right - px, 0)
    const dy = Math.max(room.top - py, 0) + Math.min(room.bottom - py, 0)
    if (dx !== 0 || dy !== 0) this.panBy(dx, dy)
  }

  destroy(): void {
    this.#selection.interrupt().on('.zoom', null)
  }

  get #transform(): ZoomTransform {
    return (this.#element as HTMLElement & { readonly __zoom: ZoomTransform }).__zoom
  }

  #go(target: ZoomTransform, isGliding: boolean, isFit: boolean): void {
    if (this.#widthPx < 1 || this.#heightPx < 1) return
    const kept = this.#constrained(target)
    if (isGliding && !matchMedia('(prefers-reduced-motion: reduce)').matches) {
      this.#selection.transition().duration(glideMs).call(this.#zoom.transform, kept)
    } else {
      this.#zoom.transform(this.#selection, kept)
    }
    this.#isFitted = isFit
  }

  #room(marginPx: number): { left: number; top: number; right: number; bottom: number } {
    const { top, right, bottom, left } = this.#inset
    return {
      left: left + marginPx,
      top: top + marginPx,
      right: this.#widthPx - right - marginPx,
      bottom: this.#heightPx - bottom - marginPx,
    }
  }

  #middle(): readonly [number, number] {
    const room = this.#room(0)
    return [(room.left + room.right) / 2, (room.top + room.bottom) / 2]
  }

  #fitted({ minX, minY, maxX, maxY }: RectM, margins: Inset, nearest: number): ZoomTransform {
    const room = this.#room(0)
    const mostX = mostMarginShare * this.#widthPx
    const mostY = mostMarginShare * this.#heightPx
    const left = room.left + Math.min(margins.left, mostX)
    const right = room.right - Math.min(margins.right, mostX)
    const top = room.top + Math.min(margins.top, mostY)
    const bottom = room.bottom - Math.min(margins.bottom, mostY)
    const k = Math.min(
      Math.max(right - left, 40) / Math.max(maxX - minX, 1e-3),
      Math.max(bottom - top, 40) / Math.max(maxY - minY, 1e-3),
      nearest,
      mostPxPerM,
    )
    const [px, py] = [(left + right) / 2, (top + bottom) / 2]
    return zoomIdentity.translate(px - (k * (minX + maxX)) / 2, py + (k * (minY + maxY)) / 2).scale(k)
  }

  #limitScale(): void {
    if (this.#widthPx < 1 || this.#heightPx < 1) return
    const fit = this.#fitted(grown(this.#bounds, this.#roamM), this.#margins, Infinity).k
    this.#zoom.scaleExtent([fit * smallestShareOfFit, Math.max(mostPxPerM, fit)])
  }

  /** The site cannot be pushed out of sight: a strip of it stays in view, whatever the zoom. */
  #constrained(transform: ZoomTransform): ZoomTransform {
    const { x, y, k } = transform
    const { minX, minY, maxX, maxY } = grown(this.#bounds, this.#roamM)
    const room = this.#room(Math.min(keptInViewPx, this.#widthPx / 4, this.#heightPx / 4))
    const dx = Math.min(room.right - (x + k * minX), 0) + Math.max(room.left - (x + k * maxX), 0)
    const dy = Math.min(room.bottom - (y - k * maxY), 0) + Math.max(room.top - (y - k * minY), 0)
    return dx === 0 && dy === 0 ? transform : zoomIdentity.translate(x + dx, y + dy).scale(k)
  }
}
