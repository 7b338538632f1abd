import Konva from 'konva'
import type { MapMarks, SuspectMark } from '../state/mapMarks.ts'
import type { ReadingLook } from '../state/readingLook.ts'
import type { PointM } from '../model/schema/primitives.ts'
import type { Target } from '../tools/tap.ts'
import type { Inset } from './camera.ts'
import type { MapGeometry } from './geometry.ts'
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
  fullAndLight,
  ofLook,
  readingEdges,
  readingNear,
  seenReadings,
  urgency,
  type ReadingEdges,
  type SeenReading,
} from './overlayEdges.ts'
import { boxAround, placeLabels, type PlacedLabel } from './overlayLabels.ts'
import { outlineOf, partOutline, type Outline } from './overlayOutlines.ts'
import { labelWishes, middleBox } from './overlayReadingLabels.ts'
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
import { drawHairlines, drawReadings } from './readingGlyph.ts'

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

export interface OverlayMoment {
  readonly view: View
  readonly inset: Inset
  /** While the view moves, labels rest. */
  readonly isMoving: boolean
  readonly link: LinkLine | null
}

type Draw = (context: CanvasRenderingContext2D, scene: OverlayScene, moment: OverlayMoment) => void

/** From below to above: the gravest lie on top. */
const looksUpwards: readonly ReadingLook[] = [
  'setAside',
  'within',
  'tooLow',
  'waiting',
  'noMetalPath',
  'poorContact',
  'overRange',
  'investigate',
]

const mostLabels = 48
/** One label for so much of the view: more would hide what they speak of. */
const labelRoomPx2 = 32_000
/** So few ranks stay readable while the view moves; more of them would cost the movement its smoothness. */
const mostMovingPlates = 8
const pointerEdgePx = 30

/**
 * Everything above the base layer, as a handful of shapes of two Konva layers, none of which listens: what lies
 * under the pointer is found by arithmetic. `draw` lays out what is seen, then draws all of it once.
 */
export class Overlay {
  readonly #stage: Konva.Stage
  /** Readings have a layer of their own: it stays as it is while only the choice or the pointer changes. */
  readonly #readingLayer: Konva.Layer
  readonly #layer: Konva.Layer
  #scene: OverlayScene | null = null
  #moment: OverlayMoment | null = null
  #edges: ReadingEdges = { marks: [], endsM: new Float64Array(0), lanes: new Uint16Array(0) }
  #ways: CurrentWays = { endsM: new Float64Array(0), perAmpere: new Float32Array(0) }
  #suspectsM: readonly { readonly mark: SuspectMark; readonly atM: PointM }[] = []
  #picked: Outline | null = null
  #hovered: Outline | null = null
  #seen: readonly SeenReading[] = []
  #full: readonly SeenReading[] = []
  #light: readonly SeenReading[] = []
  #isReadingLayerStale = true
  #rings: readonly SuspectRing[] = []
  #pointers: readonly SuspectPointer[] = []
  #labels: readonly PlacedLabel<LabelText & { readonly entry: string }>[] = []
  readonly #widths = new Map<string, number>()

  constructor(container: HTMLDivElement) {
    this.#stage = new Konva.Stage({ container, width: 1, height: 1, listening: false })
    this.#readingLayer = new Konva.Layer({ listening: false })
    this.#layer = new Konva.Layer({ listening: false })
    this.#stage.add(this.#readingLayer, this.#layer)
    for (const look of looksUpwards) {
      this.#add(this.#readingLayer, (context, { palette }, { isMoving }) => {
        // Rims cost as much as the lines: while the view moves only what is grave has them.
        const hasRim = look !== 'setAside' && (!isMoving || urgency[look] < urgency.waiting)
        drawHairlines(context, ofLook(this.#light, look), palette.readings[look])
        drawReadings(context, look, ofLook(this.#full, look), {
          line: palette.readings[look],
          halo: hasRim ? palette.halo : null,
        })
      })
    }
    this.#add(this.#layer, (context, scene) => this.#drawChosenReadings(context, scene))
    this.#add(this.#layer, (context, scene, { view }) =>
      drawArrows(context, currentArrows(this.#ways, view), scene.palette),
    )
    this.#add(this.#layer, (context, scene, { view }) => this.#drawOutlines(context, scene, view))
    this.#add(this.#layer, (context, { palette }, { isMoving }) =>
      drawRings(context, this.#rings, palette, !isMoving || this.#rings.length <= mostMovingPlates),
    )
    this.#add(this.#layer, (context, scene, moment) => this.#drawPair(context, scene, moment))
    this.#add(this.#layer, (context, { palette }, { isMoving }) => {
      if (!isMoving) drawLabels(context, this.#labels, palette)
    })
    this.#add(this.#layer, (context, { palette }) => drawPointers(context, this.#pointers, palette))
    this.#add(this.#layer, (context, scene, moment) => this.#drawScale(context, scene, moment))
  }

  /** Takes what changed; recomputes only what hangs on it. Nothing is drawn yet. */
  update(next: OverlayScene): void {
    const previous = this.#scene
    this.#scene = next
    const { geometry, marks } = next
    const isOther = previous?.geometry !== geometry
    if (isOther || previous.marks.readings !== marks.readings) {
      this.#edges = readingEdges(geometry, marks.readings)
      this.#isReadingLayerStale = true
    }
    if (previous?.palette !== next.palette) this.#isReadingLayerStale = true
    if (isOther || previous.marks.suspects !== marks.suspects) {
      this.#suspectsM = marks.suspects.map((mark) => ({ mark, atM: jointPointM(geometry, mark.joint) }))
    }
    if (isOther || previous.marks.currentPerAmpere !== marks.currentPerAmpere) {
      this.#ways = currentWays(geometry, marks.currentPerAmpere ?? new Float32Array(0))
    }
    this.#picked = outlineOf(geometry, marks, marks.picked)
    this.#hovered = outlineOf(geometry, marks, marks.hovered)
  }

  draw(moment: OverlayMoment): void {
    const previous = this.#moment
    this.#moment = moment
    if (!this.#scene) return
    if (!previous || previous.isMoving !== moment.isMoving || !isSameView(previous.view, moment.view)) {
      this.#isReadingLayerStale = true
    }
    this.#fitTo(moment.view)
    if (this.#isReadingLayerStale) {
      this.#seen = seenReadings(this.#edges, moment.view)
      const { full, light } = fullAndLight(this.#seen, moment.isMoving)
      this.#full = full
      this.#light = light
      this.#isReadingLayerStale = false
      // A layer without anything on it still costs the page a picture to put together.
      const isEmpty = this.#seen.length === 0
      if (this.#readingLayer.visible() === isEmpty) this.#readingLayer.visible(!isEmpty)
      if (!isEmpty) this.#readingLayer.draw()
    }
    this.#layOut(this.#scene, moment)
    this.#layer.draw()
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
    const reading = this.#seen.find(({ curve, middleAt, mark }) => {
      if (middleAt === null || mark.look === 'within' || mark.look === 'setAside') return false
      const middle = pointOn(curve, middleAt)
      return Math.hypot(middle.x - at.x, middle.y - at.y) <= 4 + reachPx / 2
    })
    return reading ? { kind: 'reading', entry: reading.mark.entry } : null
  }

  readingAt(at: PointPx, reachPx: number): string | null {
    return readingNear(this.#seen, at, reachPx)?.mark.entry ?? null
  }

  /** The suspect that a pointer at the edge stands for. */
  pointerAt(at: PointPx): SuspectMark | null {
    const reachPx = Math.max(pointerRadiusPx, 22)
    return this.#pointers.find((p) => Math.hypot(p.at.x - at.x, p.at.y - at.y) <= reachPx)?.mark ?? null
  }

  destroy(): void {
    this.#stage.destroy()
  }

  #add(layer: Konva.Layer, draw: Draw): void {
    layer.add(
      new Konva.Shape({
        listening: false,
        perfectDrawEnabled: false,
        sceneFunc: (context) => {
          if (this.#scene && this.#moment) draw(context._context, this.#scene, this.#moment)
        },
      }),
    )
  }

  #fitTo({ widthPx, heightPx, dpr }: View): void {
    for (const layer of [this.#readingLayer, this.#layer]) {
      const canvas = layer.getCanvas()
      if (canvas.getPixelRatio() !== dpr) canvas.setPixelRatio(dpr)
    }
    if (this.#stage.width() !== widthPx) this.#stage.width(widthPx)
    if (this.#stage.height() !== heightPx) this.#stage.height(heightPx)
  }

  #layOut(scene: OverlayScene, { view, inset, isMoving }: OverlayMoment): void {
    const screen: Box = { left: 0, top: 0, right: view.widthPx, bottom: view.heightPx }
    const placed: PlacedSuspect[] = this.#suspectsM.map(({ mark, atM }) => ({
      mark,
      at: toScreen(view, atM),
    }))
    this.#rings = suspectRings(placed, screen)
    this.#pointers = suspectPointers(placed, screen, {
      left: inset.left + pointerEdgePx,
      top: inset.top + pointerEdgePx,
      right: view.widthPx - inset.right - pointerEdgePx,
      bottom: view.heightPx - inset.bottom - pointerEdgePx,
    })
    if (isMoving) {
      this.#labels = []
      return
    }
    const taken = [
      ...this.#rings.map(({ at, radiusPx }) => ({
        left: at.x - radiusPx,
        top: at.y - radiusPx,
        right: at.x + radiusPx,
        bottom: at.y + radiusPx,
      })),
      ...this.#rings.flatMap(({ plate }) => plate ?? []),
      ...this.#seen.flatMap(middleBox),
      boxAround({ x: view.widthPx - inset.right - 60, y: view.heightPx - inset.bottom - 22 }, 130, 40),
    ]
    const wishes = labelWishes(this.#seen, scene.palette, scene.marks.hovered, (text) => this.#widthOf(text))
    this.#labels = placeLabels(wishes, taken, {
      within: screen,
      apartPx: 3,
      most: Math.min(mostLabels, Math.ceil((view.widthPx * view.heightPx) / labelRoomPx2)),
    })
  }

  #widthOf(text: string): number {
    const known = this.#widths.get(text)
    if (known !== undefined) return known
    const widthPx = labelWidthPx(this.#layer.getContext()._context, text)
    if (this.#widths.size > 5000) this.#widths.clear()
    this.#widths.set(text, widthPx)
    return widthPx
  }

  #drawChosenReadings(context: CanvasRenderingContext2D, { marks, palette }: OverlayScene): void {
    const { hovered } = marks
    for (const reading of this.#seen) {
      const { mark, curve } = reading
      const isHovered = hovered?.kind === 'reading' && hovered.entry === mark.entry
      if (!mark.isPicked && !isHovered) continue
      drawGlow(context, curve, mark.isPicked ? palette.selection : palette.hover, mark.isPicked ? 11 : 8)
      drawReadings(context, mark.look, [reading], { line: palette.readings[mark.look], halo: palette.halo })
    }
  }

  #drawOutlines(context: CanvasRenderingContext2D, { palette }: OverlayScene, view: View): void {
    if (this.#hovered) drawOutline(context, this.#hovered, view, palette.hover, palette, false)
    if (this.#picked) drawOutline(context, this.#picked, view, palette.selection, palette, true)
  }

  #drawPair(context: CanvasRenderingContext2D, scene: OverlayScene, { view, link }: OverlayMoment): void {
    const { geometry, marks, palette } = scene
    const pointOf = (part: number) => {
      const atM = partPointM(geometry, part)
      return atM && toScreen(view, atM)
    }
    const from = link ? link.from : marks.pairFrom
    const start = from === null ? null : pointOf(from)
    if (!start) return
    if (!link) {
      const end = marks.pairTo === null ? null : pointOf(marks.pairTo)
      drawLink(context, start, end && { at: end, isOnPart: true }, palette)
      return
    }
    const over = link.over >= 0 ? pointOf(link.over) : null
    const outline = over && partOutline(geometry, link.over)
    if (outline) drawOutline(context, outline, view, palette.link, palette, true)
    const to = over ? { at: over, isOnPart: true } : { at: toScreen(view, link.at), isOnPart: false }
    drawLink(context, start, to, palette)
  }

  #drawScale(context: CanvasRenderingContext2D, scene: OverlayScene, { view, inset }: OverlayMoment): void {
    const { units } = scene.geometry.index.drawing.facts
    const at = { x: view.widthPx - inset.right - 16, y: view.heightPx - inset.bottom - 14 }
    drawScale(context, scaleBar(view.k, units), at, scene.palette)
  }
}

function holds({ left, top, right, bottom }: Box, { x, y }: PointPx): boolean {
  return x >= left && x <= right && y >= top && y <= bottom
}

function isSameView(a: View, b: View): boolean {
  return (
    a.x === b.x &&
    a.y === b.y &&
    a.k === b.k &&
    a.widthPx === b.widthPx &&
    a.heightPx === b.heightPx &&
    a.dpr === b.dpr
  )
}
