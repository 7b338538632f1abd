import Konva from 'konva'
import type { MapMarks, SuspectMark } from '../state/mapMarks.ts'
import type { PointM } from '../model/schema/primitives.ts'
import type { Target } from '../tools/tap.ts'
import type { Inset } from './camera.ts'
import type { MapGeometry } from './geometry.ts'
import { labelRoom } from './mapRoom.ts'
import { namedPlaces, type NamedPlaces } from './namedPlaces.ts'
import { rowNames, type RowNames } from './placeNames.ts'
import { leastFaultShare, widestCurrentPx } from './drawMarks.ts'
import { levelOf } from './lod.ts'
import { drawHere } from './drawHere.ts'
import { drawFault } from './overlayFault.ts'
import { drawGroundLabels, drawGroundMarks, type GroundLabel } from './overlayGround.ts'
import { drawTag } from './drawTag.ts'
import { drawNext, nextGhost, type NextGhost } from './overlayNext.ts'
import { drawNames, drawNorth, nameWidthPx, northSizePx } from './drawNames.ts'
import { drawWalk, walkFont } from './drawWalk.ts'
import { walkMarks, type WalkMarks } from './overlayWalk.ts'
import { toScreen, type PointPx, type View } from './mapTypes.ts'
import { jointPointM, partPointM } from './markPoints.ts'
import { currentArrows, currentWays, type CurrentWays } from './overlayCurrents.ts'
import { pointOn, type Box } from './overlayCurves.ts'
import {
  drawArrows,
  drawGlow,
  drawLabels,
  drawLink,
  drawOutline,
  drawPointers,
  drawRings,
  drawScale,
  labelWidthPx,
  type LabelText,
} from './overlayDraw.ts'
import {
  readingEdges,
  readingNear,
  seenReadings,
  type ReadingEdges,
  type SeenReading,
} from './overlayEdges.ts'
import type { PlacedLabel } from './overlayLabels.ts'
import { cornerBox, layLabels } from './overlayLayOut.ts'
import type { NameText } from './overlayNames.ts'
import { outlineOf, partOutline, type Outline } from './overlayOutlines.ts'
import { scaleBar } from './overlayScale.ts'
import {
  pointerRadiusPx,
  suspectPointers,
  suspectRings,
  type PlacedSuspect,
  type SuspectPointer,
  type SuspectRing,
} from './overlaySuspects.ts'
import type { Palette } from './palette.ts'
import { drawMiddle, drawReadings, lookStyles } from './readingGlyph.ts'
import { cellM, isQuiet, readingPicture, type ReadingPicture } from './readingPicture.ts'

/** What lies over the drawing, until something of it changes. */
export interface OverlayScene {
  readonly geometry: MapGeometry
  readonly marks: MapMarks
  readonly palette: Palette
}

/** The line of a pair in the making: from a part to the pointer, or to the part under it. */
export interface LinkLine {
  readonly from: number
  readonly at: PointM
  readonly over: number
}

/** The part that a tap or a release would take: outlined, with its name at the pointer or above the finger. */
export interface Aim {
  readonly part: number
  readonly text: string
  readonly at: PointPx
  readonly isTouch: boolean
}

export interface OverlayMoment {
  readonly view: View
  readonly inset: Inset
  /** While the view moves, labels rest. */
  readonly isMoving: boolean
  readonly link: LinkLine | null
  readonly aim: Aim | null
  /** A line at the top tells of readings that are drawn together. */
  readonly hasNote: boolean
  /** Whether no table stands at a place of the screen; nothing is known of tables where left out. */
  readonly isBare?: (at: PointPx) => boolean
}

/** So few ranks stay readable while the view moves; more of them would cost the movement its smoothness. */
const mostMovingPlates = 8
const pointerEdgePx = 30

/**
 * Everything above the base layer. At rest it is one shape of a Konva layer, which does not listen: what lies under the
 * pointer is found by arithmetic. While the view moves, the same is drawn over the base layer's own canvas, and
 * the page has one canvas less to put together. `layOut` first, then the one or the other.
 */
export class Overlay {
  readonly #container: HTMLDivElement
  readonly #stage: Konva.Stage
  readonly #layer: Konva.Layer
  #scene: OverlayScene | null = null
  #moment: OverlayMoment | null = null
  #edges: ReadingEdges = { marks: [], endsM: new Float64Array(0), lanes: new Uint16Array(0) }
  #picture: { readonly cell: number; readonly of: ReadingPicture } | null = null
  #ways: CurrentWays = { endsM: new Float64Array(0), perAmpere: new Float32Array(0) }
  #suspectsM: readonly { readonly mark: SuspectMark; readonly atM: PointM }[] = []
  #picked: Outline | null = null
  #hovered: Outline | null = null
  #seen: {
    readonly edges: ReadingEdges
    readonly view: View
    readonly readings: readonly SeenReading[]
  } | null = null
  #rings: readonly SuspectRing[] = []
  #pointers: readonly SuspectPointer[] = []
  #ghost: NextGhost | null = null
  #walk: WalkMarks | null = null
  #labels: readonly PlacedLabel<LabelText & { readonly entry: string }>[] = []
  #rowNames: RowNames = { rows: [], pitchM: Infinity }
  #named: NamedPlaces = { tables: [], rows: new Set() }
  #names: readonly PlacedLabel<NameText>[] = []
  #groundLabels: readonly PlacedLabel<GroundLabel>[] = []
  readonly #widths = new Map<string, number>()
  readonly #nameWidths = new Map<string, number>()
  readonly #plateWidths = new Map<string, number>()

  constructor(container: HTMLDivElement) {
    this.#container = container
    this.#stage = new Konva.Stage({ container, width: 1, height: 1, listening: false })
    this.#layer = new Konva.Layer({ listening: false })
    this.#stage.add(this.#layer)
    this.#layer.add(
      new Konva.Shape({
        listening: false,
        perfectDrawEnabled: false,
        sceneFunc: (context) => this.drawOver(context._context),
      }),
    )
  }

  /** Takes what changed; recomputes only what hangs on it. Nothing is drawn yet. */
  update(next: OverlayScene): void {
    const previous = this.#scene
    this.#scene = next
    const { geometry, marks } = next
    const isOther = previous?.geometry !== geometry
    if (isOther || previous.marks.readings !== marks.readings) {
      this.#edges = readingEdges(geometry, marks.readings)
      this.#picture = null
    }
    if (isOther || previous.marks.suspects !== marks.suspects) {
      this.#suspectsM = marks.suspects.map((mark) => ({ mark, atM: jointPointM(geometry, mark.joint) }))
    }
    if (isOther || previous.marks.currentPerAmpere !== marks.currentPerAmpere) {
      this.#ways = currentWays(geometry, marks.currentPerAmpere ?? new Float32Array(0))
    }
    if (isOther) this.#rowNames = rowNames(geometry)
    if (isOther || previous.marks.suspects !== marks.suspects || previous.marks.picked !== marks.picked) {
      this.#named = namedPlaces(geometry, marks)
    }
    this.#picked = outlineOf(geometry, marks, marks.picked)
    this.#hovered = outlineOf(geometry, marks, marks.hovered)
  }

  /** The readings as the base layer is to draw them at a zoom; the same object while nothing of them changes. */
  readingPicture(pxPerM: number): ReadingPicture {
    const cell = cellM(pxPerM)
    if (this.#picture?.cell !== cell) this.#picture = { cell, of: readingPicture(this.#edges, cell) }
    return this.#picture.of
  }

  /** Decides what stands where. Nothing is drawn yet. */
  layOut(moment: OverlayMoment): void {
    this.#moment = moment
    if (this.#scene) this.#arrange(this.#scene, moment)
  }

  /** At rest draws what was laid out; while the view moves the overlay steps aside for `drawOver`. */
  show(): void {
    if (!this.#scene || !this.#moment) return
    const { isMoving, view } = this.#moment
    this.#container.style.visibility = isMoving ? 'hidden' : ''
    this.#fitTo(view)
    if (!isMoving) this.#layer.draw()
  }

  /** Draws what was laid out into a context whose unit is the CSS pixel of the view. */
  drawOver(context: CanvasRenderingContext2D): void {
    if (!this.#scene || !this.#moment) return
    const { palette, marks } = this.#scene
    const { view, isMoving } = this.#moment
    if (marks.picked?.kind === 'reading' || marks.hovered?.kind === 'reading') {
      this.#drawChosenReadings(context, this.#scene)
    }
    if (!isMoving) this.#drawMovedMiddles(context, palette)
    const least = marks.fault ? leastFaultShare(levelOf(view.k, this.#scene.geometry)) : 0
    const widestPx = widestCurrentPx(view.k, this.#scene.geometry)
    drawArrows(context, currentArrows(this.#ways, view, least, widestPx), palette)
    this.#drawOutlines(context, this.#scene, view)
    if (this.#ghost) drawNext(context, this.#ghost, { line: palette.link, halo: palette.halo })
    this.#drawPair(context, this.#scene, this.#moment)
    if (this.#walk) drawWalk(context, this.#walk, palette)
    drawRings(context, this.#rings, palette, !isMoving || this.#rings.length <= mostMovingPlates)
    if (marks.fault?.ground) drawGroundMarks(context, marks.fault.ground, view, palette)
    if (marks.fault) drawFault(context, this.#scene.geometry, marks.fault, view, palette)
    if (this.#scene.marks.here) drawHere(context, this.#scene.marks.here, view, palette)
    drawGroundLabels(context, this.#groundLabels, palette)
    drawNames(context, this.#names, palette)
    if (!isMoving) drawLabels(context, this.#labels, palette)
    drawPointers(context, this.#pointers, palette)
    this.#drawScale(context, this.#scene, this.#moment)
    if (this.#moment.aim) drawTag(context, this.#moment.aim, view, palette)
  }

  /** What is drawn as a mark of its own right under a point: a suspect, a reading's label or middle. */
  markAt(at: PointPx, reachPx: number): Target | null {
    const ring = this.#rings.find(
      (ring) =>
        Math.hypot(ring.at.x - at.x, ring.at.y - at.y) <= ring.radiusPx + reachPx / 2 ||
        (ring.plate !== null && holds(ring.plate, at)),
    )
    if (ring) return { kind: 'suspect', joint: ring.mark.joint }
    const label = this.#labels.find(({ box }) => holds(box, at))
    if (label) return { kind: 'reading', entry: label.of.entry }
    const reading = this.#seenReadings().find(({ curve, middleAt, mark }) => {
      if (middleAt === null || mark.look === 'within' || mark.look === 'setAside') return false
      const middle = pointOn(curve, middleAt)
      return Math.hypot(middle.x - at.x, middle.y - at.y) <= 4 + reachPx / 2
    })
    return reading ? { kind: 'reading', entry: reading.mark.entry } : null
  }

  readingAt(at: PointPx, reachPx: number): string | null {
    return readingNear(this.#seenReadings(), at, reachPx)?.mark.entry ?? null
  }

  /** Where the tag of the next pair stands; null where none is in sight. */
  nextTagAt(): PointPx | null {
    return this.#ghost?.tagAt ?? null
  }

  /** The suspect that a pointer at the edge stands for. */
  pointerAt(at: PointPx): SuspectMark | null {
    const reachPx = Math.max(pointerRadiusPx, 22)
    return this.#pointers.find((p) => Math.hypot(p.at.x - at.x, p.at.y - at.y) <= reachPx)?.mark ?? null
  }

  destroy(): void {
    this.#stage.destroy()
  }

  /** What is seen of the readings in the view that was laid out; found when it is asked for. */
  #seenReadings(): readonly SeenReading[] {
    if (!this.#moment) return []
    const { view } = this.#moment
    if (this.#seen?.edges !== this.#edges || this.#seen.view !== view) {
      this.#seen = { edges: this.#edges, view, readings: seenReadings(this.#edges, view) }
    }
    return this.#seen.readings
  }

  #fitTo({ widthPx, heightPx, dpr }: View): void {
    const canvas = this.#layer.getCanvas()
    if (canvas.getPixelRatio() !== dpr) canvas.setPixelRatio(dpr)
    if (this.#stage.width() !== widthPx) this.#stage.width(widthPx)
    if (this.#stage.height() !== heightPx) this.#stage.height(heightPx)
  }

  #arrange(
    scene: OverlayScene,
    { view, inset, isMoving, hasNote, isBare = () => true }: OverlayMoment,
  ): void {
    const screen: Box = { left: 0, top: 0, right: view.widthPx, bottom: view.heightPx }
    const placed: PlacedSuspect[] = this.#suspectsM.map(({ mark, atM }) => ({
      mark,
      at: toScreen(view, atM),
    }))
    this.#ghost = nextGhost(scene.geometry, scene.marks.next, view, screen)
    this.#rings = suspectRings(placed, screen)
    this.#pointers = suspectPointers(placed, screen, {
      left: inset.left + pointerEdgePx,
      top: inset.top + pointerEdgePx,
      right: view.widthPx - inset.right - pointerEdgePx,
      bottom: view.heightPx - inset.bottom - pointerEdgePx,
    })
    const room = labelRoom(view, inset, hasNote)
    const { walk } = scene.marks
    this.#walk = walk ? walkMarks(walk, view, room, (text) => this.#plateWidthOf(text)) : null
    // numbers on plates rest while the view moves, as labels do
    if (this.#walk && isMoving) this.#walk = { ...this.#walk, plates: [] }
    const nameRoom = { view, room, widthOf: (text: string) => this.#nameWidthOf(text) }
    if (isMoving) {
      this.#labels = []
      this.#names = []
      this.#groundLabels = []
      return
    }
    const laid = layLabels({
      scene,
      seen: this.#seenReadings(),
      rings: this.#rings,
      pointers: this.#pointers,
      rowNames: this.#rowNames,
      named: this.#named,
      nameRoom,
      corner: cornerBox(view, inset),
      widthOf: (text) => this.#widthOf(text),
      isBare,
    })
    this.#groundLabels = laid.ground
    this.#labels = laid.readings
    this.#names = laid.names
  }

  #widthOf(text: string): number {
    return knownWidth(this.#widths, text, () => labelWidthPx(this.#layer.getContext()._context, text))
  }

  #plateWidthOf(text: string): number {
    return knownWidth(this.#plateWidths, text, () => {
      const context = this.#layer.getContext()._context
      context.font = walkFont
      return context.measureText(text).width
    })
  }

  #nameWidthOf(text: string): number {
    return knownWidth(this.#nameWidths, text, () => nameWidthPx(this.#layer.getContext()._context, text))
  }

  #drawChosenReadings(context: CanvasRenderingContext2D, { marks, palette }: OverlayScene): void {
    const { hovered } = marks
    for (const reading of this.#seenReadings()) {
      const { mark, curve } = reading
      const isHovered = hovered?.kind === 'reading' && hovered.entry === mark.entry
      if (!mark.isPicked && !isHovered) continue
      drawGlow(context, curve, mark.isPicked ? palette.selection : palette.hover, mark.isPicked ? 11 : 8)
      drawReadings(context, mark.look, [reading], { line: palette.readings[mark.look], halo: palette.halo })
    }
  }

  /** A reading that asks for something and whose middle is out of sight is marked where it is seen. */
  #drawMovedMiddles(context: CanvasRenderingContext2D, palette: Palette): void {
    for (const { mark, curve, middleAt, isMiddleMoved } of this.#seenReadings()) {
      if (middleAt === null || !isMiddleMoved || isQuiet(mark.look)) continue
      const inks = { line: palette.readings[mark.look], halo: palette.halo }
      if (lookStyles[mark.look].middle !== 'gap')
        drawMiddle(context, lookStyles[mark.look], curve, middleAt, inks)
    }
  }

  #drawOutlines(context: CanvasRenderingContext2D, { palette }: OverlayScene, view: View): void {
    if (this.#hovered) drawOutline(context, this.#hovered, view, palette.hover, palette, false)
    if (this.#picked) drawOutline(context, this.#picked, view, palette.selection, palette, true)
  }

  #drawPair(
    context: CanvasRenderingContext2D,
    scene: OverlayScene,
    { view, link, aim }: OverlayMoment,
  ): void {
    const { geometry, marks, palette } = scene
    const pointOf = (part: number) => {
      const atM = partPointM(geometry, part)
      return atM && toScreen(view, atM)
    }
    const outline = aim && aim.part >= 0 ? partOutline(geometry, aim.part) : null
    if (outline) drawOutline(context, outline, view, palette.link, palette, true)
    const from = link ? link.from : marks.pairFrom
    const start = from === null ? null : pointOf(from)
    if (!start) return
    if (!link) {
      const end = marks.pairTo === null ? null : pointOf(marks.pairTo)
      drawLink(context, start, end && { at: end, isOnPart: true }, palette)
      return
    }
    const over = link.over >= 0 ? pointOf(link.over) : null
    const to = over ? { at: over, isOnPart: true } : { at: toScreen(view, link.at), isOnPart: false }
    drawLink(context, start, to, palette)
  }

  #drawScale(context: CanvasRenderingContext2D, scene: OverlayScene, { view, inset }: OverlayMoment): void {
    const { units, anchor } = scene.geometry.index.drawing.facts
    const at = { x: view.widthPx - inset.right - 16, y: view.heightPx - inset.bottom - 14 }
    const bar = scaleBar(view.k, units)
    drawScale(context, bar, at, scene.palette)
    const north = { x: at.x - bar.widthPx - northSizePx.widthPx, y: at.y + 4 }
    drawNorth(context, north, anchor?.bearingDeg ?? 0, scene.palette)
  }
}

function knownWidth(widths: Map<string, number>, text: string, measured: () => number): number {
  const known = widths.get(text)
  if (known !== undefined) return known
  const widthPx = measured()
  if (widths.size > 5000) widths.clear()
  widths.set(text, widthPx)
  return widthPx
}

function holds({ left, top, right, bottom }: Box, { x, y }: PointPx): boolean {
  return x >= left && x <= right && y >= top && y <= bottom
}
