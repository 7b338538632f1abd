import type { SiteIndex } from '../layout/siteIndex.ts'
import type { PointM } from '../model/schema/primitives.ts'
import type { MapMarks } from '../state/mapMarks.ts'
import type { Picked } from '../state/picked.ts'
import type { DrawEvent, DrawPoint } from '../tools/draw/drawTool.ts'
import type { Inset } from './camera.ts'
import type { Level } from './lod.ts'
import type { KeyboardPlace } from './mapPlace.ts'
import type { PointPx, RectM } from './mapTypes.ts'
import type { DrawingShown } from './overlayDrawing.ts'
import type { ThemeName } from './palette.ts'

/** What the map shows; replaced as a whole. */
export interface MapInput {
  /** Which site it is: another one is shown whole, a change of the same leaves the view where it is. */
  readonly siteId: string
  readonly index: SiteIndex
  readonly marks: MapMarks
  readonly themeName: ThemeName
  /** A tap begins or ends a pair instead of choosing. */
  readonly linking: boolean
  readonly inset: Inset
  /** What is shown of drawing; null where the map is only looked at and linked on. */
  readonly drawing: Omit<DrawingShown, 'crossM'> | null
}

/** Whoever draws on the map: it hears what the pointer and the cross of the keyboard do. */
export interface MapDesk {
  readonly owns: (at: DrawPoint) => boolean
  readonly step: (event: DrawEvent) => void
  /** Pixels per metre at which it is drawn. */
  pxPerM: number
}

export interface MapElements {
  readonly host: HTMLElement
  readonly base: HTMLCanvasElement
  readonly overlay: HTMLDivElement
  readonly drawing: HTMLCanvasElement
  /** For what moves with a current. */
  readonly flow: HTMLCanvasElement
}

/** So many readings that ask for nothing, or pairs of a plan, are drawn as so many lines. */
export interface Bundled {
  readonly readings: number
  readonly arePairs: boolean
  readonly lines: number
}

export interface MapEvents {
  /** Who draws; null where nobody does. */
  readonly desk: () => MapDesk | null
  /** What something is called, for the tag at the pointer. */
  readonly nameOf: (picked: Picked) => string
  /** What is told of something at the pointer; null where nothing is. */
  readonly tellOf: (picked: Picked) => string | null
  readonly onpick: (picked: Picked | null) => void
  readonly onhover: (hovered: Picked | null) => void
  readonly onlink: (from: string, to: string) => void
  readonly onlinkstart: (from: string) => void
  readonly onlinkcancel: () => void
  /** What is drawn at this zoom has changed, or how wide the widest line of current is, in CSS pixels. */
  readonly onlevel: (level: Level, widestPx: number) => void
  /** The view has come to rest and shows this of the plan, at so many pixels per metre. */
  readonly onrest: (seenM: RectM, pxPerM: number) => void
  /** A tap on nothing: bare ground. */
  readonly onbare: (atM: PointM) => void
  /** What is told of bare ground at the pointer; null where nothing is. */
  readonly tellOfGround: (atM: PointM) => string | null
  /** Where in plan the pointer or the cross draws; null when it has left. */
  readonly onwhere: (atM: PointM | null) => void
  /** Readings that lie together have become one line, or part again; null where each has its own. */
  readonly onbundled: (bundled: Bundled | null) => void
  /** Where the tag of the next pair stands; null while the view moves and where it is out of sight. */
  readonly onnextat: (at: PointPx | null) => void
  /** The keyboard's part has moved, over the plan or with the view. */
  readonly onplace: (place: KeyboardPlace | null) => void
}

/** Whether nothing but what is shown of drawing differs: then nothing else is drawn anew. */
export function isOnlyDrawing(a: MapInput, b: MapInput): boolean {
  return (
    (a.drawing === null) === (b.drawing === null) &&
    a.siteId === b.siteId &&
    a.index === b.index &&
    a.marks === b.marks &&
    a.themeName === b.themeName &&
    a.linking === b.linking &&
    a.inset === b.inset
  )
}

/** What the map says of readings that lie on one another at its zoom. */
export function bundledSentence({ readings, arePairs, lines }: Bundled): string {
  const what = arePairs ? 'pairs of the plan' : 'readings in line or set aside'
  return `${readings} ${what}, drawn as ${lines} ${lines === 1 ? 'line' : 'lines'}`
}
