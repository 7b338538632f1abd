import { itemBoxM } from '../layout/itemBox.ts'
import type { DrawnItem } from '../model/drawnItem.ts'
import type { PointM } from '../model/schema/primitives.ts'
import type { Picked } from '../state/picked.ts'
import type { LinkDone, LinkState } from '../tools/link.ts'
import { pickAt, type PickState } from '../tools/pick.ts'
import type { Tap, Target } from '../tools/tap.ts'
import { BaseLayer } from './baseLayer.ts'
import { DrawingLayer, type PointerAt } from './drawingLayer.ts'
import { DrawMode } from './drawMode.ts'
import { Camera } from './camera.ts'
import { widestCurrentPx } from './drawMarks.ts'
import { buildGeometry, type MapGeometry } from './geometry.ts'
import { FlowLayer } from './flowLayer.ts'
import { HitIndex } from './hitIndex.ts'
import { levelOf, type Level } from './lod.ts'
import { MapGestures, reachOf } from './mapGestures.ts'
import { nextHead, partText, pickedOf } from './mapNames.ts'
import { partTowards, screenDirections, type Direction, type MapCommand } from './mapKeyboard.ts'
import { isOnlyDrawing, type Bundled, type MapElements, type MapEvents, type MapInput } from './mapInput.ts'
import type { MapMoment } from './mapPicture.ts'
import { firstPlace, keyboardPlace } from './mapPlace.ts'
import { fitMargins } from './mapRoom.ts'
import { rowNames } from './placeNames.ts'
import { partUnder, tableRectAt, tapOn, tapUnder } from './mapTap.ts'
import { watchSize, type MapSize } from './mapSize.ts'
import { grown, toScreen, toWorld, visibleRectM, type PointPx, type RectM } from './mapTypes.ts'
import { partPointM } from './markPoints.ts'
import { Overlay, type Aim, type LinkLine } from './overlay.ts'
import { handleNear, handlesOf } from './overlayDrawing.ts'
import { partNumber, rectOfPair, rectOfPicked } from './overlayOutlines.ts'
import { palettes } from './palette.ts'
import type { ReadingPicture } from './readingPicture.ts'

/** Labels come back so long after the last movement. */
const settleMs = 120
const keyPanPx = 80
const keyZoom = 1.5
const leastStepPx = 10
const besideTablePx = 6
/** Something small is shown with this much around it. */
const focusAroundM = 4
/** One may draw at least so far away from what is drawn. */
const leastRoamM = 150

/**
 * Ties the pieces together: input and gestures change what is to be seen, and one draw per frame shows it.
 * It keeps only what no one else needs to know: the view, the hover, the link being drawn, the keyboard's part.
 */
export class MapController {
  readonly #elements: MapElements
  readonly #events: MapEvents
  readonly #base: BaseLayer
  readonly #overlay: Overlay
  readonly #drawing: DrawingLayer
  readonly #flow: FlowLayer
  readonly #drawMode: DrawMode
  readonly #camera: Camera
  readonly #gestures: MapGestures
  readonly #unwatch: () => void
  #input: MapInput
  #geometry: MapGeometry
  #hits: HitIndex
  #frame = 0
  #wordsFrame = 0
  #afterWords: ReturnType<typeof setTimeout> | undefined
  #isBaseStale = true
  #isMoving = false
  #isDrawnOver = false
  #drawnK = 0
  #settling: ReturnType<typeof setTimeout> | undefined
  #hover: { readonly at: PointPx | null } | null = null
  #link: LinkLine | null = null
  #aim: Aim | null = null
  #pick: PickState = null
  #current = -1
  #level: Level | null = null
  #widestPx = 0
  #bundles: Bundled = { readings: 0, arePairs: false, lines: 0 }
  #nextAt: PointPx | null = null
  #pointer: PointerAt | null = null
  #isStale = false
  #isDrawingStale = false
  #restTold = ''

  constructor(elements: MapElements, input: MapInput, events: MapEvents) {
    this.#elements = elements
    this.#events = events
    this.#input = input
    this.#geometry = buildGeometry(input.index)
    this.#hits = new HitIndex(this.#geometry)
    this.#base = new BaseLayer(elements.base)
    this.#overlay = new Overlay(elements.overlay)
    this.#drawing = new DrawingLayer(elements.drawing)
    this.#flow = new FlowLayer(elements.flow, () => this.#camera.view)
    this.#drawMode = new DrawMode(elements.host, {
      isDrawing: () => this.#input.drawing !== null,
      view: () => this.#camera.view,
      geometry: () => this.#geometry,
      hits: () => this.#hits,
      handleAt: (at, reachPx) => this.#handleAt(at, reachPx),
      owns: (at) => this.#events.desk()?.owns(at) ?? false,
      onevent: (event) => this.#events.desk()?.step(event),
      onpointer: (at, isTouch) => {
        this.#pointer = at && { at, isTouch }
        this.#events.onwhere(at && toWorld(this.#camera.view, at))
        this.#requestDrawing()
      },
    })
    this.#gestures = new MapGestures(elements.host, {
      isDrawing: () => this.#input.drawing !== null,
      isLinking: () => this.#input.linking,
      waitingPart: () => (this.#input.linking ? (this.#input.marks.pairFrom ?? -1) : -1),
      partAt: (at, reachPx) => this.#partAt(at, reachPx),
      toPlan: (at) => toWorld(this.#camera.view, at),
      ontap: (at, reachPx) => this.#tap(at, reachPx),
      ondoubletap: (at) => this.#approach(at),
      onhover: (at) => this.#hoverAt(at),
      onlinkmove: (state, isTouch) => this.#showLink(state, isTouch),
      onlinkdone: (done) => this.#endLink(done),
    })
    this.#camera = new Camera(elements.host, {
      onchange: () => this.#onView(),
      mayMove: (event) => this.#gestures.mayMove(event) && this.#drawMode.mayMove(event),
    })
    this.#setBounds(input)
    this.#overlay.update(this.#sceneOf(input))
    this.#flow.update(this.#sceneOf(input))
    this.#unwatch = watchSize(elements.host, (size) => this.#resize(size))
  }

  /** Takes what changed: geometry by the identity of the index, the rest of it is drawn anew. */
  update(next: MapInput): void {
    const previous = this.#input
    if (next === previous) return
    this.#input = next
    if (next.drawing !== previous.drawing) this.#requestDrawing()
    if (isOnlyDrawing(previous, next)) return
    if ((next.drawing === null) !== (previous.drawing === null)) {
      this.#drawMode.cancel()
      this.#drawMode.dropCross()
      this.#setBounds(next)
    }
    if (next.index !== previous.index) this.#takeDrawing(previous, next)
    if (next.inset !== previous.inset) this.#setBounds(next)
    if (next.linking !== previous.linking || next.index !== previous.index) {
      this.#gestures.cancel()
      this.#aim = null
    }
    const { marks } = next
    if (
      next.index !== previous.index ||
      next.themeName !== previous.themeName ||
      marks.suspects !== previous.marks.suspects ||
      marks.readings !== previous.marks.readings ||
      marks.currentPerAmpere !== previous.marks.currentPerAmpere ||
      marks.fault?.ground?.picture !== previous.marks.fault?.ground?.picture
    ) {
      this.#isBaseStale = true
    }
    if (marks.picked !== previous.marks.picked && marks.picked?.kind === 'part') {
      this.#stand(partNumber(this.#geometry, marks.picked.address))
    }
    this.#overlay.update(this.#sceneOf(next))
    this.#flow.update(this.#sceneOf(next))
    if (next.index === previous.index && marks.readings !== previous.marks.readings) this.#drawAfterWords()
    else this.#requestDraw()
  }

  fit(): void {
    this.#camera.fit()
  }

  zoomBy(factor: number): void {
    this.#camera.zoomBy(factor)
  }

  /** Goes to something, with others in view as far as they are on the map; false where it is not. */
  focus(picked: Picked, beside: readonly Picked[] = []): boolean {
    const rect = rectOfPicked(this.#geometry, this.#input.marks, picked, beside)
    if (rect) this.#camera.focusOn(grown(rect, focusAroundM))
    return rect !== null
  }

  /** Goes to a rectangle of the plan. */
  focusRect(rect: RectM): void {
    this.#camera.focusOn(grown(rect, focusAroundM))
  }

  /** Goes to the pair that is to be read next; false where none is on the map. */
  focusNext(): boolean {
    const { next } = this.#input.marks
    const rect = next && rectOfPair(this.#geometry, next)
    if (rect) this.#camera.focusOn(grown(rect, focusAroundM))
    return rect !== null
  }

  /** Carries out what a key asks for. */
  obey(command: MapCommand): void {
    switch (command.order) {
      case 'step':
        return this.#stepTo(command)
      case 'pan': {
        const { x, y } = screenDirections[command.towards]
        return this.#camera.panBy(-keyPanPx * x, -keyPanPx * y)
      }
      case 'zoom':
        return this.#zoomAtPlace(command.isIn ? keyZoom : 1 / keyZoom)
      case 'fit':
        return this.fit()
      case 'suspect':
        return this.#nextSuspect(command.by)
      case 'pick':
        return this.#input.linking ? this.#linkCurrent() : this.#pickCurrent()
      case 'link':
        return this.#linkCurrent()
      case 'clear':
        return this.#clear()
    }
  }

  /** Gives the keyboard a part to stand on when it comes to the map: the one nearest to the middle. */
  enter(): void {
    this.#stand(
      this.#current >= 0 ? this.#current : firstPlace(this.#geometry, this.#hits, this.#camera.view),
    )
  }

  /** Goes to a drawn thing; false where it is not on the map. */
  focusItem(item: DrawnItem): boolean {
    const box = itemBoxM(this.#input.index, item)
    if (box) this.#camera.focusOn(grown(box, focusAroundM))
    return box !== null
  }

  /** Looks into what lies at a place of the plan, as a tap does where nothing is drawn. */
  inspect(atM: PointM, reachM: number): void {
    this.#tap(toScreen(this.#camera.view, atM), reachM * this.#camera.view.k)
  }

  /** Moves the cross with which the keyboard draws, by lines of the grid; it stays in view. */
  moveCross(towards: Direction, lines: number, gridM: number): void {
    const { x, y } = screenDirections[towards]
    const at = this.#drawMode.moveCross({ x: x * lines, y: -y * lines }, gridM)
    this.#camera.reveal(at.x, at.y)
    this.#pointer = { at: toScreen(this.#camera.view, at), isTouch: false }
    this.#events.onwhere(at)
    this.#requestDrawing()
  }

  /** A tap at the cross; false where the keyboard does not draw. */
  tapCross(isShift: boolean): boolean {
    return this.#drawMode.tapCross(isShift)
  }

  /** What is shown now, to be drawn again as a picture. */
  moment(): MapMoment {
    const { view } = this.#camera
    const drawOver = (context: CanvasRenderingContext2D) => this.#overlay.drawOver(context)
    const readings = this.#overlay.readingPicture(view.k)
    const scene = this.#sceneOf(this.#input)
    return { ...scene, view, readings, drawOver }
  }

  destroy(): void {
    cancelAnimationFrame(this.#frame)
    cancelAnimationFrame(this.#wordsFrame)
    clearTimeout(this.#afterWords)
    clearTimeout(this.#settling)
    this.#unwatch()
    this.#gestures.destroy()
    this.#drawMode.destroy()
    this.#flow.destroy()
    this.#camera.destroy()
    this.#overlay.destroy()
  }

  #sceneOf({ marks, themeName }: MapInput) {
    return { geometry: this.#geometry, marks, palette: palettes[themeName] }
  }

  #setBounds({ inset, drawing }: MapInput): void {
    const { boundsM } = this.#geometry
    const roamM = drawing ? Math.max(boundsM.maxX - boundsM.minX, boundsM.maxY - boundsM.minY, leastRoamM) : 0
    this.#camera.setBounds(boundsM, inset, fitMargins(rowNames(this.#geometry)), roamM)
  }

  #takeDrawing(previous: MapInput, next: MapInput): void {
    const { index } = next
    this.#geometry = buildGeometry(index)
    this.#hits = new HitIndex(this.#geometry)
    this.#pick = null
    this.#current = -1
    this.#setBounds(next)
    if (next.siteId !== previous.siteId) this.#camera.fit(false)
  }

  #resize({ widthPx, heightPx, dpr }: MapSize): void {
    this.#isBaseStale = true
    this.#camera.resize(widthPx, heightPx, dpr)
    this.#requestDraw()
  }

  #onView(): void {
    this.#isBaseStale = true
    this.#isMoving = true
    clearTimeout(this.#settling)
    this.#settling = setTimeout(() => {
      this.#isMoving = false
      this.#requestDraw()
    }, settleMs)
    this.#requestDraw()
  }

  #requestDraw(): void {
    this.#isStale = true
    this.#requestFrame()
  }

  /** What is said of a reading comes first: the map, which may take longer, follows once that has been painted. */
  #drawAfterWords(): void {
    cancelAnimationFrame(this.#wordsFrame)
    this.#wordsFrame = requestAnimationFrame(() => {
      clearTimeout(this.#afterWords)
      this.#afterWords = setTimeout(() => this.#requestDraw())
    })
  }

  #requestFrame(): void {
    if (this.#frame === 0) this.#frame = requestAnimationFrame(() => this.#onFrame())
  }

  #onFrame(): void {
    this.#frame = 0
    if (this.#isStale) this.#draw()
    else if (this.#isDrawingStale) this.#showDrawing()
  }

  #draw(): void {
    this.#isStale = false
    const { host } = this.#elements
    if (window.devicePixelRatio !== this.#camera.view.dpr && host.clientWidth > 0) {
      // Not every browser tells of a new density.
      this.#camera.resize(host.clientWidth, host.clientHeight, window.devicePixelRatio)
      this.#isBaseStale = true
    }
    const { view } = this.#camera
    if (view.widthPx < 1 || view.heightPx < 1) return
    if (this.#hover) this.#tellHover()
    const isMoving = this.#isMoving
    const hasNote = this.#bundles.lines > 0
    this.#overlay.layOut({
      view,
      inset: this.#input.inset,
      isMoving,
      link: this.#link,
      aim: this.#aim,
      hasNote,
      isBare: (at) => this.#isBare(at),
    })
    this.#tellNext(isMoving ? null : this.#overlay.nextTagAt())
    // What was drawn over the base while it moved has to go when it rests.
    if (this.#isBaseStale || isMoving || this.#isDrawnOver) {
      const { marks, themeName } = this.#input
      // Readings come a frame after the first picture, so that neither keeps the page waiting.
      const readings = this.#level === null ? null : this.#overlay.readingPicture(view.k)
      const isSwift = isMoving && view.k !== this.#drawnK
      const paint = { palette: palettes[themeName], marks, readings, isSwift }
      this.#drawnK = view.k
      this.#base.draw(
        this.#geometry,
        view,
        paint,
        isMoving ? (context) => this.#overlay.drawOver(context) : null,
      )
      this.#isDrawnOver = isMoving
    }
    if (this.#isBaseStale) {
      this.#isBaseStale = this.#level === null
      if (this.#isBaseStale) this.#requestDraw()
      this.#tellLevel(levelOf(view.k, this.#geometry), widestCurrentPx(view.k, this.#geometry))
      this.#tellBundled(this.#overlay.readingPicture(view.k))
      this.#tellPlace()
    }
    this.#overlay.show()
    this.#showDrawing()
    if (!isMoving) this.#tellRest()
  }

  /** Draws nothing but what the tool in hand would do. */
  #requestDrawing(): void {
    this.#isDrawingStale = true
    this.#requestFrame()
  }

  #showDrawing(): void {
    this.#isDrawingStale = false
    const { view } = this.#camera
    const desk = this.#events.desk()
    if (desk && desk.pxPerM !== view.k) desk.pxPerM = view.k
    const { drawing, index, themeName } = this.#input
    const shown = drawing && { ...drawing, crossM: this.#drawMode.crossM }
    this.#drawing.draw(index, shown, view, palettes[themeName], this.#pointer)
  }

  #handleAt(at: PointPx, reachPx: number) {
    const { drawing, index } = this.#input
    if (!drawing?.hasHandles || drawing.chosen.length === 0) return null
    return handleNear(handlesOf(index, drawing.chosen, this.#camera.view), at, reachPx)
  }

  #tellRest(): void {
    const { view } = this.#camera
    const { x, y, k, widthPx, heightPx } = view
    const told = `${x} ${y} ${k} ${widthPx} ${heightPx}`
    if (told === this.#restTold) return
    this.#restTold = told
    this.#events.onrest(visibleRectM(view), k)
  }

  /** No table at or right beside a place of the screen. */
  #isBare(at: PointPx): boolean {
    const { x, y } = toWorld(this.#camera.view, at)
    return this.#hits.tableAt(x, y, besideTablePx / this.#camera.view.k) === null
  }

  #tellLevel(level: Level, widestPx: number): void {
    if (level === this.#level && widestPx === this.#widestPx) return
    this.#level = level
    this.#widestPx = widestPx
    this.#events.onlevel(level, widestPx)
  }

  #tellBundled({ quiet, quietLines, edges }: ReadingPicture): void {
    const lines = quietLines < quiet ? quietLines : 0
    const look = edges.marks.at(0)?.look
    const arePairs = look === 'planned' || look === 'required' || look === 'proposed'
    const before = this.#bundles
    if (lines === before.lines && quiet === before.readings && arePairs === before.arePairs) return
    this.#bundles = { readings: quiet, arePairs, lines }
    this.#events.onbundled(lines > 0 ? this.#bundles : null)
  }

  #tellNext(at: PointPx | null): void {
    const before = this.#nextAt
    if (at === before || (at && before && at.x === before.x && at.y === before.y)) return
    this.#nextAt = at
    this.#events.onnextat(at)
  }

  #partAt(at: PointPx, reachPx: number): number {
    return partUnder(this.#geometry, this.#hits, this.#camera.view, at, reachPx)
  }

  #tapAt(at: PointPx, reachPx: number): Tap {
    return tapUnder(this.#geometry, this.#hits, this.#overlay, this.#camera.view, at, reachPx)
  }

  #tap(at: PointPx, reachPx: number): void {
    const pointed = this.#overlay.pointerAt(at)
    if (pointed) return this.#goToSuspect(pointed.joint)
    if (this.#input.linking && this.#comeNearer(at, reachPx)) return
    this.#pick = pickAt(this.#pick, this.#tapAt(at, reachPx))
    const chosen = this.#pick?.chosen ?? null
    if (chosen?.kind === 'part') this.#stand(chosen.part)
    this.#events.onpick(chosen && this.#named(chosen))
    if (chosen === null) this.#events.onbare(toWorld(this.#camera.view, at))
  }

  #named(target: Target): Picked {
    return pickedOf(this.#input.index, this.#input.marks.suspects, target)
  }

  /** A pair wants parts: where only tables are drawn, a tap goes to the table, and the next one finds its parts. */
  #comeNearer(at: PointPx, reachPx: number): boolean {
    const { view } = this.#camera
    if (levelOf(view.k, this.#geometry) !== 'tables') return false
    const rect = tableRectAt(this.#geometry, this.#hits, view, at, reachPx)
    if (rect) this.#camera.focusOn(rect)
    return rect !== null
  }

  /** Two taps: to the table there, or nearer to the place where there is none or it is near already. */
  #approach(at: PointPx): void {
    const { view } = this.#camera
    const rect = tableRectAt(this.#geometry, this.#hits, view, at, reachOf('touch'))
    const longestPx = rect ? view.k * Math.max(rect.maxX - rect.minX, rect.maxY - rect.minY) : Infinity
    if (!rect || longestPx > 0.7 * view.widthPx) return this.#camera.zoomBy(2, [at.x, at.y])
    this.#camera.focusOn(rect)
  }

  #hoverAt(at: PointPx | null): void {
    this.#hover = { at }
    this.#requestDraw()
  }

  #tellHover(): void {
    const at = this.#hover?.at ?? null
    this.#hover = null
    const { marks, linking } = this.#input
    const part = linking && at ? this.#partAt(at, reachOf('mouse')) : -1
    this.#aim = at && this.#aimAt(part, at, false)
    if (linking && marks.pairFrom !== null && marks.pairTo === null) {
      this.#link = at && {
        from: marks.pairFrom,
        at: toWorld(this.#camera.view, at),
        over: part === marks.pairFrom ? -1 : part,
      }
    } else {
      this.#link = null
    }
    if (this.#isMoving && at) return
    const next = at && pickAt(null, this.#tapAt(at, reachOf('mouse')))
    const named = next && this.#named(next.chosen)
    const told = at && !linking ? this.#toldAt(named, at) : null
    if (told !== null && at) this.#aim = { part: -1, text: told, at, isTouch: false }
    this.#events.onhover(named)
  }

  #toldAt(named: Picked | null, at: PointPx): string | null {
    return named ? this.#events.tellOf(named) : this.#events.tellOfGround(toWorld(this.#camera.view, at))
  }

  #showLink(state: LinkState, isTouch: boolean): void {
    this.#link = state.phase === 'dragging' ? { from: state.from, at: state.at, over: state.over } : null
    const part = state.phase === 'dragging' ? state.over : state.phase === 'pressed' ? state.from : -1
    this.#aim =
      state.phase === 'idle' ? null : this.#aimAt(part, toScreen(this.#camera.view, state.at), isTouch)
    this.#requestDraw()
  }

  /** The part that a tap or a release would take, by its name. */
  #aimAt(part: number, at: PointPx, isTouch: boolean): Aim | null {
    if (part < 0) return null
    const text = this.#events.nameOf({ kind: 'part', address: partText(this.#input.index, part) })
    return { part, text, at, isTouch }
  }

  #endLink(done: LinkDone): void {
    const { index } = this.#input
    if (done.kind === 'begun') return this.#events.onlinkstart(partText(index, done.from))
    this.#events.onlink(partText(index, done.from), partText(index, done.to))
  }

  #stand(part: number): void {
    this.#current = part
    this.#tellPlace()
  }

  #tellPlace(): void {
    this.#events.onplace(keyboardPlace(this.#geometry, this.#camera.view, this.#current))
  }

  #stepTo({ towards, toAnyPart }: Extract<MapCommand, { order: 'step' }>): void {
    if (this.#current < 0) return this.enter()
    const leastM = Math.max(leastStepPx / this.#camera.view.k, 0.05)
    const next = partTowards(this.#geometry, this.#hits, this.#current, towards, { leastM, toAnyPart })
    if (next < 0) return
    this.#pick = null
    const { x, y } = partPointM(this.#geometry, next)!
    this.#camera.reveal(x, y)
    this.#stand(next)
  }

  #zoomAtPlace(factor: number): void {
    const { view } = this.#camera
    const atM = this.#current < 0 ? null : partPointM(this.#geometry, this.#current)
    const at = atM && toScreen(view, atM)
    const isSeen = at && at.x >= 0 && at.y >= 0 && at.x <= view.widthPx && at.y <= view.heightPx
    this.#camera.zoomBy(factor, isSeen ? [at.x, at.y] : undefined)
  }

  #nextSuspect(by: 1 | -1): void {
    const { marks, index } = this.#input
    const next = nextHead(index, marks, by)
    if (next >= 0) this.#goToSuspect(next)
  }

  #goToSuspect(joint: number): void {
    const picked = this.#named({ kind: 'suspect', joint })
    this.#events.onpick(picked)
    this.focus(picked)
  }

  #pickCurrent(): void {
    if (this.#current < 0) return
    this.#pick = pickAt(this.#pick, tapOn(this.#geometry, this.#hits, this.#current))
    this.#events.onpick(this.#pick && this.#named(this.#pick.chosen))
  }

  #linkCurrent(): void {
    if (this.#current < 0) return
    const { marks } = this.#input
    const isWaiting = marks.pairFrom !== null && marks.pairTo === null && marks.pairFrom !== this.#current
    this.#endLink(
      isWaiting
        ? { kind: 'linked', from: marks.pairFrom, to: this.#current }
        : { kind: 'begun', from: this.#current },
    )
  }

  /** One thing at a time: the line being drawn, the pair begun, then the choice. */
  #clear(): void {
    if (this.#gestures.cancel()) return
    const { marks } = this.#input
    this.#link = null
    this.#aim = null
    this.#requestDraw()
    if (marks.pairFrom !== null) return this.#events.onlinkcancel()
    this.#pick = null
    this.#events.onpick(null)
  }
}
