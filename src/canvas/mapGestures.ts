import type { PointM } from '../model/schema/primitives.ts'
import { idleLink, linkStep, type LinkDone, type LinkEvent, type LinkState } from '../tools/link.ts'
import type { PointPx } from './mapTypes.ts'

/** What gestures need to know of the map, and whom they tell. */
export interface GestureTarget {
  /** Presses belong to a drawing tool. */
  readonly isDrawing: () => boolean
  readonly isLinking: () => boolean
  /** First end of a pair chosen by an earlier tap; −1 where none was. */
  readonly waitingPart: () => number
  readonly partAt: (at: PointPx, reachPx: number) => number
  readonly toPlan: (at: PointPx) => PointM
  readonly ontap: (at: PointPx, reachPx: number) => void
  readonly ondoubletap: (at: PointPx) => void
  /** The pointer rests or moves over the map with no button down; null when it has left. */
  readonly onhover: (at: PointPx | null) => void
  readonly onlinkmove: (state: LinkState, isTouch: boolean) => void
  readonly onlinkdone: (done: LinkDone) => void
}

/** How far from a thing a pointer still means it, in CSS pixels. */
export function reachOf(pointerType: string): number {
  return pointerType === 'mouse' ? 6 : 12
}

const longPressMs = 450
const doubleTapMs = 350
const doubleTapPx = 14

interface Press {
  readonly id: number
  readonly at: PointPx
  readonly reachPx: number
  readonly slopPx: number
  readonly part: number
  hasMoved: boolean
}

/**
 * Decides whose a gesture is: it hears every pointer first, in the capture phase and before d3-zoom, which is
 * told by `mayMove` to leave alone what belongs to a link. Everything that is not a link pans or is a tap.
 */
export class MapGestures {
  readonly #element: HTMLElement
  readonly #target: GestureTarget
  readonly #listening = new AbortController()
  readonly #down = new Set<number>()
  #press: Press | null = null
  #link: LinkState = idleLink
  #ownsPointer = false
  #isTouch = false
  #longPress: ReturnType<typeof setTimeout> | undefined
  #lastTap: { readonly at: PointPx; readonly ms: number } | null = null

  constructor(element: HTMLElement, target: GestureTarget) {
    this.#element = element
    this.#target = target
    const { signal } = this.#listening
    const capture = { capture: true, signal }
    element.addEventListener('pointerdown', (event) => this.#onDown(event), capture)
    element.addEventListener('pointermove', (event) => this.#onMove(event), capture)
    element.addEventListener('pointerup', (event) => this.#onUp(event), capture)
    element.addEventListener('pointercancel', (event) => this.#onCancel(event), capture)
    element.addEventListener('pointerleave', () => this.#press ?? target.onhover(null), { signal })
    // A link that a long press began takes the finger from a pan that had already begun.
    element.addEventListener('touchmove', (event) => this.#onTouchMove(event), { ...capture, passive: false })
    element.addEventListener('contextmenu', (event) => this.#onMenu(event), { signal })
    // While a line is drawn the keyboard may be anywhere on the page.
    element.ownerDocument.addEventListener('keydown', (event) => this.#onKey(event), capture)
    // A finger lifted outside is not heard here unless it was captured.
    element.ownerDocument.addEventListener('pointerup', (event) => this.#forget(event.pointerId), { signal })
    element.ownerDocument.addEventListener('pointercancel', (event) => this.#forget(event.pointerId), {
      signal,
    })
  }

  /** Whether the view may follow an event: not while its pointer draws a link. */
  readonly mayMove = (event: { readonly type: string }): boolean =>
    event.type === 'wheel' || !this.#ownsPointer

  /** Gives up a link that is being drawn; false where there was none. */
  cancel(): boolean {
    clearTimeout(this.#longPress)
    this.#press = null
    if (!this.#ownsPointer) return false
    this.#ownsPointer = false
    this.#step({ kind: 'cancel' })
    return true
  }

  destroy(): void {
    clearTimeout(this.#longPress)
    this.#listening.abort()
  }

  #onDown(event: PointerEvent): void {
    if (this.#target.isDrawing()) return
    // a button on the map is pressed for itself: what lies below it is not meant
    if (event.target instanceof Element && event.target.closest('button')) return
    this.#down.add(event.pointerId)
    if (this.#down.size > 1) {
      this.cancel()
      return
    }
    if (event.button !== 0) return
    const at = this.#placeOf(event)
    const reachPx = reachOf(event.pointerType)
    this.#isTouch = event.pointerType === 'touch'
    const part = this.#target.partAt(at, reachPx)
    const slopPx = event.pointerType === 'mouse' ? 4 : 10
    this.#press = { id: event.pointerId, at, reachPx, slopPx, part, hasMoved: false }
    this.#target.onhover(null)
    if (part < 0) return
    if (this.#target.isLinking() || event.altKey) this.#take(event)
    else if (event.pointerType !== 'mouse') {
      this.#longPress = setTimeout(() => this.#takeLongPress(event), longPressMs)
    }
  }

  #takeLongPress(event: PointerEvent): void {
    if (!this.#press || this.#press.hasMoved || this.#down.size > 1) return
    this.#take(event)
    this.#step({
      kind: 'move',
      at: this.#target.toPlan(this.#press.at),
      part: this.#press.part,
      hasLeft: true,
    })
  }

  #take({ pointerId }: PointerEvent): void {
    const { at, part } = this.#press!
    this.#ownsPointer = true
    // A pointer made by a script, or lifted since, cannot be captured: then a release outside is not heard.
    try {
      this.#element.setPointerCapture(pointerId)
    } catch {
      // nothing to undo
    }
    this.#step({ kind: 'press', at: this.#target.toPlan(at), part })
  }

  #onMove(event: PointerEvent): void {
    if (this.#target.isDrawing()) return
    const at = this.#placeOf(event)
    const press = this.#press
    if (!press) {
      if (event.pointerType === 'mouse' && event.buttons === 0) this.#target.onhover(at)
      return
    }
    if (event.pointerId !== press.id) return
    if (Math.hypot(at.x - press.at.x, at.y - press.at.y) > press.slopPx && !press.hasMoved) {
      press.hasMoved = true
      clearTimeout(this.#longPress)
    }
    if (!this.#ownsPointer) return
    const part = this.#isInside(at) ? this.#target.partAt(at, press.reachPx) : -1
    this.#step({ kind: 'move', at: this.#target.toPlan(at), part, hasLeft: press.hasMoved })
  }

  #onUp(event: PointerEvent): void {
    this.#down.delete(event.pointerId)
    const press = this.#press
    if (!press || event.pointerId !== press.id) return
    clearTimeout(this.#longPress)
    this.#press = null
    const at = this.#placeOf(event)
    if (this.#ownsPointer) {
      this.#ownsPointer = false
      const part = this.#target.partAt(at, press.reachPx)
      const waiting = this.#target.waitingPart()
      this.#step({ kind: 'release', part, isInside: this.#isInside(at), waiting })
    } else if (!press.hasMoved) {
      this.#tap(press, event.timeStamp)
    }
  }

  #tap({ at, reachPx }: Press, ms: number): void {
    const last = this.#lastTap
    if (last && ms - last.ms < doubleTapMs && Math.hypot(at.x - last.at.x, at.y - last.at.y) < doubleTapPx) {
      this.#lastTap = null
      return this.#target.ondoubletap(at)
    }
    this.#lastTap = { at, ms }
    this.#target.ontap(at, reachPx)
  }

  #onCancel(event: PointerEvent): void {
    this.#down.delete(event.pointerId)
    if (this.#press?.id === event.pointerId) this.cancel()
  }

  #forget(id: number): void {
    this.#down.delete(id)
    if (this.#press?.id !== id || this.#ownsPointer) return
    clearTimeout(this.#longPress)
    this.#press = null
  }

  #onKey(event: KeyboardEvent): void {
    if (event.key === 'Escape' && this.cancel()) event.stopPropagation()
  }

  #onTouchMove(event: TouchEvent): void {
    if (!this.#ownsPointer) return
    event.stopImmediatePropagation()
    if (event.cancelable) event.preventDefault()
  }

  #onMenu(event: Event): void {
    if (this.#press && this.#press.reachPx > reachOf('mouse')) event.preventDefault()
  }

  #step(event: LinkEvent): void {
    const { state, done } = linkStep(this.#link, event)
    this.#link = state
    this.#target.onlinkmove(state, this.#isTouch)
    if (done) this.#target.onlinkdone(done)
  }

  #placeOf({ clientX, clientY }: PointerEvent): PointPx {
    const { left, top } = this.#element.getBoundingClientRect()
    return { x: clientX - left, y: clientY - top }
  }

  #isInside({ x, y }: PointPx): boolean {
    return x >= 0 && y >= 0 && x <= this.#element.clientWidth && y <= this.#element.clientHeight
  }
}
