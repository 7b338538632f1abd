import type { DrawnItem } from '../../model/drawnItem.ts'
import { isSameItem } from '../../model/drawnItem.ts'
import type { Edit } from '../../model/edits/edit.ts'
import type { PointM } from '../../model/schema/primitives.ts'
import { bearingDegOf, directionOf, wholeTurnDeg } from './bearing.ts'
import { bearingOfItem, grabbedPoint } from './dragMove.ts'
import type { DrawContext, DrawEvent, DrawPoint, DrawPreview, DrawStep, DrawTool } from './drawTool.ts'
import { alongM, betweenM, dot, roundPointM, shiftedM } from './places.ts'
import { previewOf, refusing, showing, snappedShown } from './preview.ts'
import type { Shapes } from './shapes.ts'
import { boxedShapes, mostShapes, shapesOf, shiftedShapes } from './shapes.ts'
import type { Snapped } from './snap.ts'
import { snapHere } from './snap.ts'

type CopyItems = (args: {
  readonly items: readonly DrawnItem[]
  readonly byM: PointM
  readonly times: number
}) => Edit

/** What was taken, and where; the shapes are made once. */
interface Grabbed {
  readonly fromM: PointM
  /** The point of the taken thing that snaps. */
  readonly homeM: PointM
  readonly alongDeg: number
  readonly shapes: Shapes
}

/** `grabbed`: the place of the first copy is awaited. `pitched`: it is set, and more copies follow the pointer. */
export type BlockState =
  | { readonly phase: 'idle' }
  | {
      readonly phase: 'grabbed'
      readonly grabbed: Grabbed
      /** By a drag that is under way, not by a tap: it goes when the drag is broken off. */
      readonly isDragged: boolean
    }
  | {
      readonly phase: 'pitched'
      readonly grabbed: Grabbed
      readonly byM: PointM
      readonly copies: number
    }

const idle: BlockState = { phase: 'idle' }
/** More copies are typed, not drawn: the hand is too unsteady for such numbers. */
const mostDrawnCopies = 1000
const leastPitchM = 0.01

/**
 * Repeats what is chosen. A drag, or a tap on it and another, says where the first copy goes, square to the
 * rows; then copies follow as far as the pointer goes, and a tap, a drop or `finish` makes them. Where the pitch was
 * typed, the drag only says the direction and how far; where the number was typed, the first copy's place is enough.
 */
export function blockTool(copyItems: CopyItems): DrawTool<BlockState> {
  return {
    idle,
    owns: (state, _, { chosen }) => state.phase !== 'idle' || chosen.length > 0,
    step: (state, event, context) => step(state, event, context, copyItems),
  }
}

function step(
  state: BlockState,
  event: DrawEvent,
  context: DrawContext,
  copyItems: CopyItems,
): DrawStep<BlockState> {
  switch (event.kind) {
    case 'cancel':
      return showing(idle, null)
    case 'back':
      return state.phase === 'pitched'
        ? showing(
            { phase: 'grabbed', grabbed: state.grabbed, isDragged: false },
            previewOf({ points: [state.grabbed.homeM] }),
          )
        : showing(idle, null)
    case 'leave': {
      const left = state.phase === 'grabbed' && state.isDragged ? idle : state
      return showing(left, resting(left))
    }
    case 'finish':
      return state.phase === 'pitched'
        ? committed(state.byM, state.copies, context, copyItems)
        : showing(state, resting(state))
    case 'hover':
      return followed(state, event.at, context)
    case 'drag':
      return followed(begunBy(state, event.from, context), event.at, context)
    case 'tap':
      return state.phase === 'idle' ? taken(event.at, context) : set(state, event.at, context, copyItems)
    case 'drop':
      return set(begunBy(state, event.from, context), event.at, context, copyItems)
  }
}

function isChosen({ item }: DrawPoint, chosen: readonly DrawnItem[]): boolean {
  return item !== null && chosen.some((other) => isSameItem(other, item))
}

function grab(at: DrawPoint, context: DrawContext, isDragged: boolean): BlockState {
  const { chosen, drawing } = context
  const row = chosen.find(({ sort }) => sort === 'row')
  const alongDeg = bearingOfItem(drawing, row ?? chosen[0]) ?? 0
  const shapes = shapesOf(context, chosen)
  const grabbed = { fromM: at.atM, homeM: grabbedPoint(at, context), alongDeg, shapes }
  return { phase: 'grabbed', grabbed, isDragged }
}

/** A drag takes what is chosen wherever it begins: a thin row is hard to hit. */
function begunBy(state: BlockState, from: DrawPoint, context: DrawContext): BlockState {
  return state.phase === 'idle' && context.chosen.length > 0 ? grab(from, context, true) : state
}

/** A tap on what is chosen takes it; on something else it chooses that. */
function taken(at: DrawPoint, context: DrawContext): DrawStep<BlockState> {
  const { item, isAdding } = at
  if (isChosen(at, context.chosen)) {
    const state = grab(at, context, false)
    return showing(state, resting(state))
  }
  if (!item) return context.chosen.length === 0 ? refusing(idle, 'nothingChosen') : showing(idle, null)
  const items = isAdding ? [...context.chosen, item] : [item]
  return { state: idle, preview: null, done: { kind: 'choose', items } }
}

interface Copies {
  readonly byM: PointM
  readonly copies: number
  readonly snapped: Snapped | null
}

/** From the taken thing to its first copy, and how many copies come with that. */
function copiesTo(
  { grabbed, ...state }: Exclude<BlockState, { phase: 'idle' }>,
  at: DrawPoint,
  context: DrawContext,
): Copies {
  const { pitchM, copies } = context.making.block
  const by = betweenM(grabbed.fromM, at.atM)
  if (state.phase === 'pitched') return { byM: state.byM, copies: howMany(by, state.byM), snapped: null }
  if (pitchM !== null) {
    const bearingDeg = at.isFree ? bearingDegOf({ x: 0, y: 0 }, by) : squareBearing(by, grabbed.alongDeg)
    const byM = roundPointM(alongM({ x: 0, y: 0 }, directionOf(bearingDeg), pitchM))
    return { byM, copies: copies ?? howMany(by, byM), snapped: null }
  }
  const snapped = snapHere(
    context,
    { ...at, atM: shiftedM(grabbed.homeM, by) },
    {
      fromM: grabbed.homeM,
      heldDeg: squareBearings(grabbed.alongDeg),
      alongDeg: grabbed.alongDeg,
    },
  )
  return { byM: roundPointM(betweenM(grabbed.homeM, snapped.atM)), copies: copies ?? 1, snapped }
}

function squareBearings(alongDeg: number): readonly number[] {
  return [0, 90, 180, 270].map((turn) => wholeTurnDeg(alongDeg + turn))
}

function squareBearing(by: PointM, alongDeg: number): number {
  const ahead = (bearingDeg: number) => dot(by, directionOf(bearingDeg))
  return squareBearings(alongDeg).reduce((best, other) => (ahead(other) > ahead(best) ? other : best))
}

/** As many copies as bring the last one next to the pointer, at least one. */
function howMany(by: PointM, byM: PointM): number {
  const squared = dot(byM, byM)
  const copies = squared > 0 ? Math.round(dot(by, byM) / squared) : 1
  return Math.min(Math.max(copies, 1), mostDrawnCopies)
}

function followed(state: BlockState, at: DrawPoint, context: DrawContext): DrawStep<BlockState> {
  if (state.phase === 'idle') return showing(idle, null)
  const { byM, copies, snapped } = copiesTo(state, at, context)
  const preview = { ...shown(state.grabbed, byM, copies), ...(snapped ? snappedShown(snapped) : {}) }
  // What stands when the pointer leaves or `finish` comes is what was shown last.
  return showing(state.phase === 'pitched' ? { ...state, copies } : state, preview)
}

function set(
  state: BlockState,
  at: DrawPoint,
  context: DrawContext,
  copyItems: CopyItems,
): DrawStep<BlockState> {
  if (state.phase === 'idle') return showing(idle, null)
  const { byM, copies } = copiesTo(state, at, context)
  if (Math.hypot(byM.x, byM.y) < leastPitchM) {
    return refusing(state.phase === 'grabbed' ? { ...state, isDragged: false } : state, 'tooShort')
  }
  const isWhole =
    state.phase === 'pitched' || context.making.block.pitchM !== null || context.making.block.copies !== null
  if (isWhole) return committed(byM, copies, context, copyItems)
  const pitched = { phase: 'pitched', grabbed: state.grabbed, byM, copies } as const
  return showing(pitched, resting(pitched))
}

function committed(
  byM: PointM,
  times: number,
  { chosen: items }: DrawContext,
  copyItems: CopyItems,
): DrawStep<BlockState> {
  const edit = copyItems({ items, byM, times })
  const what = { deed: 'copy', items: items.length, copies: times } as const
  return { state: idle, preview: null, done: { kind: 'edit', edit, what, choose: 'added' } }
}

function resting(state: BlockState): DrawPreview | null {
  if (state.phase === 'idle') return null
  if (state.phase === 'grabbed') return previewOf({ points: [state.grabbed.homeM] })
  return shown(state.grabbed, state.byM, state.copies)
}

/** Every copy as it would stand; where that is too much, the box around each. */
function shown({ shapes, homeM }: Grabbed, byM: PointM, copies: number): DrawPreview {
  const perCopy = shapes.outlines.length + shapes.lines.length
  const each = perCopy * copies > mostShapes ? boxedShapes(shapes) : shapes
  const shifted = Array.from({ length: Math.min(copies, mostShapes) }, (_, k) =>
    shiftedShapes(each, { x: (k + 1) * byM.x, y: (k + 1) * byM.y }),
  )
  return previewOf({
    outlines: shifted.flatMap(({ outlines }) => outlines),
    lines: shifted.flatMap(({ lines }) => lines),
    points: [homeM],
    told: { fact: 'copies', copies, byM, pitchM: Math.hypot(byM.x, byM.y) },
  })
}
