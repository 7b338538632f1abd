import { pathLengthM } from '../../layout/path.ts'
import type { DrawnDeed, Told } from '../../model/drawDeed.ts'
import type { DrawnItem } from '../../model/drawnItem.ts'
import { findDrawn, isSameItem } from '../../model/drawnItem.ts'
import type { Edit } from '../../model/edits/edit.ts'
import type { PointM } from '../../model/schema/primitives.ts'
import { moveByDrag } from './dragMove.ts'
import type { HeldPoint } from './dragPoint.ts'
import { moveHeld, pointHeld, snapHeld } from './dragPoint.ts'
import { pulledOutline, pullRowEnd } from './dragRowEnd.ts'
import { turnByDrag } from './dragTurn.ts'
import type { DrawContext, DrawDone, DrawEvent, DrawPoint, DrawStep, DrawTool } from './drawTool.ts'
import { isSamePlace } from './places.ts'
import { previewOf, showing, snappedShown } from './preview.ts'
import type { Shapes } from './shapes.ts'
import { shapesOf, shiftedShapes, turnedShapes } from './shapes.ts'

/** The edits of chosen things together. */
export interface ChosenEdits {
  readonly moveItems: (args: { readonly items: readonly DrawnItem[]; readonly byM: PointM }) => Edit
  readonly turnItems: (args: {
    readonly items: readonly DrawnItem[]
    readonly byDeg: number
    readonly aboutM: PointM
  }) => Edit
  readonly pullRow: (args: {
    readonly row: number
    readonly tables: number
    readonly bearingDeg: number
  }) => Edit
}

/** What a drag does, decided where it begins. The shapes are made once for the whole drag. */
type Drag =
  { readonly does: 'move' | 'turn'; readonly shapes: Shapes } | { readonly does: 'rowEnd' | 'point' | 'box' }

export type SelectState = { readonly phase: 'idle' } | { readonly phase: 'dragging'; readonly drag: Drag }

const idle: SelectState = { phase: 'idle' }

/**
 * Taps choose; a tap on what alone is chosen looks into it. A drag moves what is chosen, turns it by its handle, pulls
 * the free end of a row or a point of a path, or chooses with a box. What is not chosen stays where it is: a drag
 * there moves the map.
 */
export function selectTool(edits: ChosenEdits): DrawTool<SelectState> {
  return {
    idle,
    owns: (_, at, context) => whatDrags(at, context) !== null,
    step: (state, event, context) => step(state, event, context, edits),
  }
}

function step(
  state: SelectState,
  event: DrawEvent,
  context: DrawContext,
  edits: ChosenEdits,
): DrawStep<SelectState> {
  switch (event.kind) {
    case 'tap':
      return { state: idle, preview: null, done: tapped(event.at, context) }
    case 'drag': {
      const drag = dragOf(state, event.from, context)
      if (!drag) return showing(idle, null)
      const { preview } = dragged(drag, event.from, event.at, context, edits)
      return showing({ phase: 'dragging', drag }, previewOf(preview))
    }
    case 'drop': {
      const drag = dragOf(state, event.from, context)
      const done = drag && dragged(drag, event.from, event.at, context, edits).done
      return { state: idle, preview: null, done }
    }
    default:
      return showing(idle, null)
  }
}

function tapped(at: DrawPoint, { chosen }: DrawContext): DrawDone | null {
  const { item, isAdding, handle } = at
  if (handle) return null
  if (!item) return isAdding ? null : { kind: 'choose', items: [] }
  const others = chosen.filter((other) => !isSameItem(other, item))
  if (isAdding) return { kind: 'choose', items: others.length < chosen.length ? others : [...chosen, item] }
  const isAlone = chosen.length === 1 && others.length === 0
  return isAlone ? { kind: 'inspect', at } : { kind: 'choose', items: [item] }
}

function whatDrags(from: DrawPoint, context: DrawContext): Drag['does'] | null {
  const { chosen, centreM, isBoxing } = context
  if (from.handle === 'turn' && centreM && chosen.length > 0) return 'turn'
  if (from.handle === 'rowEnd' && chosen.length === 1 && chosen[0].sort === 'row') return 'rowEnd'
  if (pointHeld(from, context)) return 'point'
  const { item } = from
  if (item && chosen.some((other) => isSameItem(other, item))) return 'move'
  return isBoxing || from.isAdding ? 'box' : null
}

function dragOf(state: SelectState, from: DrawPoint, context: DrawContext): Drag | null {
  if (state.phase === 'dragging') return state.drag
  const does = whatDrags(from, context)
  if (does === 'move' || does === 'turn') return { does, shapes: shapesOf(context, context.chosen) }
  return does && { does }
}

interface Dragged {
  readonly preview: Parameters<typeof previewOf>[0]
  /** What a drop here does; null for nothing. */
  readonly done: DrawDone | null
}

const nothing: Dragged = { preview: {}, done: null }

function dragged(
  drag: Drag,
  from: DrawPoint,
  at: DrawPoint,
  context: DrawContext,
  edits: ChosenEdits,
): Dragged {
  switch (drag.does) {
    case 'move':
      return moved(drag.shapes, from, at, context, edits)
    case 'turn':
      return turned(drag.shapes, from, at, context, edits)
    case 'rowEnd':
      return pulled(from, at, context, edits)
    case 'point': {
      const held = pointHeld(from, context)
      return held ? pointMoved(held, at, context) : nothing
    }
    case 'box':
      return boxed(from, at, context)
  }
}

function changed(edit: Edit, what: DrawnDeed): DrawDone {
  return { kind: 'edit', edit, what, choose: 'same' }
}

function moved(
  shapes: Shapes,
  from: DrawPoint,
  at: DrawPoint,
  context: DrawContext,
  { moveItems }: ChosenEdits,
): Dragged {
  const { byM, snapped } = moveByDrag(from, at, context)
  const items = context.chosen
  const preview = {
    ...shiftedShapes(shapes, byM),
    ...snappedShown(snapped),
    told: { fact: 'move', byM } as const,
  }
  if (isSamePlace(byM, { x: 0, y: 0 })) return { preview, done: null }
  return { preview, done: changed(moveItems({ items, byM }), { deed: 'move', items: items.length }) }
}

function turned(
  shapes: Shapes,
  from: DrawPoint,
  at: DrawPoint,
  { chosen: items, centreM }: DrawContext,
  { turnItems }: ChosenEdits,
): Dragged {
  if (!centreM) return nothing
  const byDeg = turnByDrag(from, at, centreM)
  const told: Told = { fact: 'turn', byDeg }
  const preview = { ...turnedShapes(shapes, byDeg, centreM), points: [centreM], told }
  if (byDeg === 0) return { preview, done: null }
  const edit = turnItems({ items, byDeg, aboutM: centreM })
  return { preview, done: changed(edit, { deed: 'turn', items: items.length }) }
}

function pulled(from: DrawPoint, at: DrawPoint, context: DrawContext, { pullRow }: ChosenEdits): Dragged {
  const { drawing, chosen } = context
  const row = chosen.length === 1 ? findDrawn(drawing, 'row', chosen[0].id) : null
  if (!row) return nothing
  const end = pullRowEnd(row, from, at, context)
  const { tables, lengthM, bearingDeg } = end
  const told: Told = { fact: 'row', tables, lengthM, bearingDeg }
  const preview = { outlines: [pulledOutline(drawing, row, end)], ...snappedShown(end.snapped), told }
  const isAsBefore =
    bearingDeg === row.bearingDeg && tables === row.runs.reduce((sum, run) => sum + run.count, 0)
  if (isAsBefore) return { preview, done: null }
  const edit = pullRow({ row: row.id, tables, bearingDeg })
  return { preview, done: changed(edit, { deed: 'changeRow', tables }) }
}

function pointMoved(held: HeldPoint, at: DrawPoint, context: DrawContext): Dragged {
  const snapped = snapHeld(held, at, context)
  const { atM, part } = snapped
  const path = held.points.with(held.at, atM)
  const told: Told = part
    ? { fact: 'land', part: part.address }
    : { fact: 'path', lengthM: pathLengthM(path, held.isClosed), points: path.length }
  const line = held.isClosed ? [...path, path[0]] : path
  const preview = { lines: [line], points: path, ...snappedShown(snapped), told }
  const isAsBefore = isSamePlace(atM, held.points[held.at]) && held.landsOn === (part?.address ?? null)
  if (isAsBefore) return { preview, done: null }
  return { preview, done: changed(moveHeld(held, atM, part, context), { deed: 'movePoint' }) }
}

/** What lies wholly in the box, or all that it touches, as the switch says. */
function boxed(from: DrawPoint, at: DrawPoint, { chosen, itemsIn, boxTouches }: DrawContext): Dragged {
  const box = [from.atM, at.atM] as const
  const found = itemsIn(box, !boxTouches)
  const more = found.filter((item) => !chosen.some((other) => isSameItem(other, item)))
  const items = at.isAdding ? [...chosen, ...more] : found
  return { preview: { box }, done: { kind: 'choose', items } }
}
