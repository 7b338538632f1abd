import type { DrawnItem } from '../../model/drawnItem.ts'
import type { DrawnDeed, Told } from '../../model/drawDeed.ts'
import type { Edit } from '../../model/edits/edit.ts'
import type { Drawing } from '../../model/schema/drawing.ts'
import type { Conductor } from '../../model/schema/equipment.ts'
import type { PointM } from '../../model/schema/primitives.ts'

/**
 * How a drawing tool works with the map. The map decides whether a press becomes a tap or a drag and says what lies
 * there; the tool is a state machine that answers with what to show and, at the end, with one edit. It sees
 * metres only. A tool never moves the view: the map pans where `owns` is false, and with two fingers always.
 *
 *     hover  ·  tap  ·  drag, drag, … drop  ·  finish (Enter, two taps)  ·  back (Backspace)  ·  cancel (Escape)
 *
 * `leave`: the pointer is away, or a second finger has broken the drag off. What taps have set stays; what was being
 * dragged goes back. `cancel` gives up everything. After either the map sends no more of a drag that was under way.
 * Two quick taps are a tap and then a `finish`.
 */
export type DrawEvent =
  | { readonly kind: 'hover' | 'tap'; readonly at: DrawPoint }
  | { readonly kind: 'drag' | 'drop'; readonly from: DrawPoint; readonly at: DrawPoint }
  | { readonly kind: 'leave' | 'finish' | 'back' | 'cancel' }

/** A place of the plan under the pointer. */
export interface DrawPoint {
  /** The place itself, not snapped. */
  readonly atM: PointM
  /** How far from a thing the pointer still means it. */
  readonly reachM: number
  /** The drawn thing there, what is drawn above first; null on empty ground. */
  readonly item: DrawnItem | null
  /** The part whose marked point is nearest within reach, for landings; null where there is none. */
  readonly part: PartHere | null
  /** Shift: choose more, or keep to right angles. */
  readonly isAdding: boolean
  /** Snapping is off: the switch, or Alt held down. Nothing lands on a part then. */
  readonly isFree: boolean
  /** The handle there that the map draws beside what is chosen: to turn it, or the free end of the one row. */
  readonly handle: DrawHandle | null
}

export type DrawHandle = 'turn' | 'rowEnd'

export interface PartHere {
  /** Address text of the part. */
  readonly address: string
  /** Where it is marked. */
  readonly atM: PointM
}

/** What a tool needs to know of the site; it stays the same during a gesture. */
export interface DrawContext {
  readonly drawing: Drawing
  readonly chosen: readonly DrawnItem[]
  /** Width of the grid that places snap to; 0 for none. */
  readonly gridM: number
  /** What new things are made of: what was typed or chosen last in the panel. */
  readonly making: Making
  /** A drag on empty ground chooses with a box instead of moving the map: the switch for fingers. */
  readonly isBoxing: boolean
  /** A box takes all that it touches, not only what lies wholly inside. */
  readonly boxTouches: boolean
  /** Middle of what is chosen, for turning it; null where nothing is. */
  readonly centreM: PointM | null
  /** Ends, corners and centres of drawn things within a distance of a place; of very many only some. */
  readonly anchorsNear: (atM: PointM, withinM: number, except?: readonly DrawnItem[]) => readonly PointM[]
  /** The line around or along a thing; null where the drawing has it no more. */
  readonly outlineOf: (item: DrawnItem) => DrawnOutline | null
  /** The things in a box given by two corners: those wholly inside, or all that it touches. */
  readonly itemsIn: (box: readonly [PointM, PointM], isWhole: boolean) => readonly DrawnItem[]
}

export interface DrawnOutline {
  readonly pointsM: readonly PointM[]
  readonly isClosed: boolean
}

/** Choices for the next thing that is drawn. Ids of table types and kinds as in the drawing. */
export interface Making {
  readonly tableType: string | null
  /** Clear distance between the tables of a row. */
  readonly gapM: number
  readonly links: { readonly count: 0 | 1 | 2; readonly kind: string }
  /** Number of tables of a row; null to let the drawn length say. */
  readonly tables: number | null
  readonly equipment: 'enclosure' | 'earthBar'
  readonly enclosure: { readonly widthM: number; readonly depthM: number; readonly bearingDeg: number }
  readonly electrode: 'rod' | 'plate' | 'strip' | 'ring'
  readonly rod: { readonly lengthM: number; readonly diameterM: number }
  readonly plate: { readonly areaM2: number; readonly depthM: number }
  readonly strip: { readonly diameterM: number; readonly depthM: number }
  readonly conductor: {
    readonly material: Conductor['material']
    readonly areaMm2: number
    readonly size: string | null
    readonly closed: boolean
    /** Joint kinds at parts of the array, at electrodes, and elsewhere. */
    readonly lugKind: string
    readonly electrodeKind: string
  }
  readonly ground: 'aisle' | 'obstacle'
  readonly extraJointKind: string
  /** Repeating: the typed distance from copy to copy and the typed number of copies; null to let the drag say. */
  readonly block: { readonly pitchM: number | null; readonly copies: number | null }
}

/** What is shown over the map while a tool is at work, in plan metres. */
export interface DrawPreview {
  /** Closed outlines of what would be there. */
  readonly outlines: readonly (readonly PointM[])[]
  /** Open lines of what would be there. */
  readonly lines: readonly (readonly PointM[])[]
  /** Points that are set. */
  readonly points: readonly PointM[]
  /** Those of them that land on a part. */
  readonly landed: readonly PointM[]
  /** Lines along which something snapped. */
  readonly guides: readonly (readonly [PointM, PointM])[]
  /** The rectangle of a box that chooses, corner to corner. */
  readonly box: readonly [PointM, PointM] | null
  /** The place that a press would take, when it snapped. */
  readonly snapped: PointM | null
  /** What is told beside the pointer, as facts that text puts into words. */
  readonly told: Told | null
}

/** What a tool has done with an event. */
export type DrawDone =
  /** One undo step. */
  | { readonly kind: 'edit'; readonly edit: Edit; readonly what: DrawnDeed; readonly choose: Choosing }
  | { readonly kind: 'choose'; readonly items: readonly DrawnItem[] }
  /** A tap on what is chosen already: look into it (its table, part, joint). */
  | { readonly kind: 'inspect'; readonly at: DrawPoint }

/** After an edit: keep the choice, take what the edit added, or name it. */
export type Choosing = 'same' | 'added' | readonly DrawnItem[]

export interface DrawStep<S> {
  readonly state: S
  readonly preview: DrawPreview | null
  readonly done: DrawDone | null
}

/** A tool of the map. `S` is what it remembers between events. */
export interface DrawTool<S> {
  readonly idle: S
  /** Whether a drag that begins here belongs to the tool; else it moves the map. */
  readonly owns: (state: S, at: DrawPoint, context: DrawContext) => boolean
  readonly step: (state: S, event: DrawEvent, context: DrawContext) => DrawStep<S>
}

export const drawToolNames = [
  'select',
  'row',
  'block',
  'equipment',
  'electrode',
  'conductor',
  'ground',
  'joint',
  'distance',
] as const
export type DrawToolName = (typeof drawToolNames)[number]

export const noPreview: DrawPreview = {
  outlines: [],
  lines: [],
  points: [],
  landed: [],
  guides: [],
  box: null,
  snapped: null,
  told: null,
}
