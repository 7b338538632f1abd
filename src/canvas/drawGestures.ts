import type { PointPx } from './mapTypes.ts'
import { reachOf } from './mapGestures.ts'

/** How a pointer was held. */
export interface PointerHold {
  readonly at: PointPx
  readonly reachPx: number
  readonly isShift: boolean
  readonly isAlt: boolean
  readonly isTouch: boolean
}

/** What drawing gestures need to know, and whom they tell. */
export interface DrawGestureTarget {
  readonly isDrawing: () => boolean
  /** Whether a drag from here belongs to the tool; else it moves the map. */
  readonly owns: (hold: PointerHold) => boolean
  readonly onhover: (hold: PointerHold | null) => void
  readonly ontap: (hold: PointerHold) => void
  readonly ondoubletap: (hold: PointerHold) => void
  readonly ondrag: (from: PointerHold, at: PointerHold) => void
  readonly ondrop: (from: PointerHold, at: PointerHold) => void
  /** A drag has been broken off: a second finger came, or the pointer was taken away. */
  readonly onbreak: () => void
  /** A drag has been given up: by Escape, or because nothing is drawn any more. */
  readonly ongiveup: () => void
}

const doubleTapMs = 350
const doubleTapPx = 14

interface Press {
  readonly id: number
  readonly hold: PointerHold
  readonly slopPx: number
  readonly isOwned: boolean
  hasMoved: boolean
}

/**
 * Presses while a drawing tool is at work, heard in the capture phase and before d3-zoom, which `mayMove` keeps away from
 * drags of the tool. Two fingers, the wheel, the middle button and the space bar held down always move the map.
 */
export class DrawGestures {
  readonly #element: HTMLElement
  readonly #target: DrawGestureTarget
  readonly #listening = new AbortController()
  readonly #down = new Set<number>()
  #press: Press | null = null
  #isSpaceDown = false
  #lastTap: { readonly at: PointPx; readonly ms: number } | null = null

  constructor(element: HTMLElement, target: DrawGestureTarget) {
    this.#element = element
    this.#target = target
    const { signal } = this.#listening
    const capture = { capture: true, signal }
    element.addEventListener('pointerdown', (event) => this.#onDown(event), capture)
    element.addEventListener('pointermove', (event) => this.#onMove(event), capture)
    element.addEventListener('pointerup', (event) => this.#onUp(event), capture)
    element.addEventListener('pointercancel', (event) => this.#onCancel(event), capture)
    element.addEventListener('pointerleave', () => this.#leave(), { signal })
    element.addEventListener('touchmove', (event) => this.#onTouchMove(event), { ...capture, passive: false })
    const page = element.ownerDocument
    page.addEventListener('keydown', (event) => this.#onEscape(event), capture)
    page.addEventListener('keydown', (event) => this.#onSpace(event, true), capture)
    page.addEventListener('keyup', (event) => this.#onSpace(event, false), capture)
    page.addEventListener('pointerup', (event) => this.#down.delete(event.pointerId), { signal })
    page.addEventListener('pointercancel', (event) => this.#down.delete(event.pointerId), { signal })
  }

  /** Whether the view may follow an event: not while a drag belongs to the tool. */
  readonly mayMove = (event: { readonly type: string }): boolean =>
    event.type === 'wheel' || this.#press === null || !this.#press.isOwned

  /** Gives up a drag that is under way; false where there was none. */
  cancel(): boolean {
    if (!this.#letGo()) return false
    this.#target.ongiveup()
    return true
  }

  destroy(): void {
    this.#listening.abort()
  }

  /** Forgets the press; true where it was dragging for the tool. */
  #letGo(): boolean {
    const { isOwned, hasMoved } = this.#press ?? { isOwned: false, hasMoved: false }
    this.#press = null
    return isOwned && hasMoved
  }

  #breakOff(): void {
    if (this.#letGo()) this.#target.onbreak()
  }

  #onDown(event: PointerEvent): void {
    if (!this.#target.isDrawing()) return
    if (event.target instanceof Element && event.target.closest('button')) return
    this.#down.add(event.pointerId)
    if (this.#down.size > 1) {
      this.#breakOff()
      return
    }
    if (event.button !== 0) return
    const hold = this.#holdOf(event)
    const isOwned = !this.#isSpaceDown && this.#target.owns(hold)
    const slopPx = event.pointerType === 'mouse' ? 4 : 10
    this.#press = { id: event.pointerId, hold, slopPx, isOwned, hasMoved: false }
    if (!isOwned) return
    try {
      this.#element.setPointerCapture(event.pointerId)
    } catch {
      // a pointer made by a script cannot be captured: then a release outside is not heard
    }
  }

  #onMove(event: PointerEvent): void {
    if (!this.#target.isDrawing()) return
    const hold = this.#holdOf(event)
    const press = this.#press
    if (!press) {
      if (event.pointerType === 'mouse' && event.buttons === 0) this.#target.onhover(hold)
      return
    }
    if (event.pointerId !== press.id) return
    const { at } = press.hold
    if (Math.hypot(hold.at.x - at.x, hold.at.y - at.y) > press.slopPx) press.hasMoved = true
    if (press.isOwned && press.hasMoved) this.#target.ondrag(press.hold, hold)
  }

  #onUp(event: PointerEvent): void {
    this.#down.delete(event.pointerId)
    const press = this.#press
    if (!press || event.pointerId !== press.id) return
    this.#press = null
    if (!this.#target.isDrawing()) return
    const hold = this.#holdOf(event)
    if (press.hasMoved) {
      if (press.isOwned) this.#target.ondrop(press.hold, hold)
      return
    }
    const last = this.#lastTap
    const { at } = press.hold
    const isSecond =
      last !== null &&
      event.timeStamp - last.ms < doubleTapMs &&
      Math.hypot(at.x - last.at.x, at.y - last.at.y) < doubleTapPx
    this.#lastTap = isSecond ? null : { at, ms: event.timeStamp }
    if (isSecond) this.#target.ondoubletap(press.hold)
    else this.#target.ontap(press.hold)
  }

  #onCancel(event: PointerEvent): void {
    this.#down.delete(event.pointerId)
    if (this.#press?.id === event.pointerId) this.#breakOff()
  }

  #leave(): void {
    if (this.#target.isDrawing() && !this.#press) this.#target.onhover(null)
  }

  #onTouchMove(event: TouchEvent): void {
    if (!this.#press?.isOwned) return
    event.stopImmediatePropagation()
    if (event.cancelable) event.preventDefault()
  }

  /** The keyboard may be anywhere while the pointer drags: the key is then the drag's alone. */
  #onEscape(event: KeyboardEvent): void {
    if (event.key === 'Escape' && this.cancel()) event.preventDefault()
  }

  #onSpace(event: KeyboardEvent, isDown: boolean): void {
    if (event.key !== ' ') return
    const isHere = event.target instanceof Node && this.#element.contains(event.target)
    this.#isSpaceDown = isDown && isHere && this.#target.isDrawing()
  }

  #holdOf(event: PointerEvent): PointerHold {
    const { left, top } = this.#element.getBoundingClientRect()
    return {
      at: { x: event.clientX - left, y: event.clientY - top },
      reachPx: reachOf(event.pointerType),
      isShift: event.shiftKey,
      isAlt: event.altKey,
      isTouch: event.pointerType === 'touch',
    }
  }
}
