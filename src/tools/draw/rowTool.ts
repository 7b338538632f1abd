import { distanceM } from '../../layout/path.ts'
import { addRow } from '../../model/edits/rows.ts'
import { byId } from '../../model/queries/byId.ts'
import type { PointM } from '../../model/schema/primitives.ts'
import type { Row } from '../../model/schema/row.ts'
import type { TableType } from '../../model/schema/tableType.ts'
import { bearingDegOf, wholeTurnDeg } from './bearing.ts'
import type { DrawContext, DrawEvent, DrawPoint, DrawStep, DrawTool } from './drawTool.ts'
import { nextLabel } from './nextLabel.ts'
import { previewOf, refusing, showing, snappedShown } from './preview.ts'
import { rowLengthM, tableOutlines, tablesThatFit } from './rowFit.ts'
import type { Snapped } from './snap.ts'
import { snapHere } from './snap.ts'

/** `started`: the lower outer corner is set, the end is awaited. */
export type RowState = { readonly phase: 'idle' } | { readonly phase: 'started'; readonly fromM: PointM }

const idle: RowState = { phase: 'idle' }
const eastDeg = 90

/**
 * A row along a drag, or from one tap to another; its tables rise to the left. The drawn length says how many there
 * are, unless a number was typed: then only the direction is drawn. A tap and then `finish`, or a second tap at the
 * same place, sets the typed number of tables, or one, eastwards.
 */
export const rowTool: DrawTool<RowState> = { idle, owns: () => true, step }

function step(state: RowState, event: DrawEvent, context: DrawContext): DrawStep<RowState> {
  const type = typeInHand(context)
  switch (event.kind) {
    case 'cancel':
    case 'back':
      return showing(idle, null)
    case 'leave':
      return showing(state, state.phase === 'started' ? previewOf({ points: [state.fromM] }) : null)
    case 'hover':
      return hovered(state, event.at, context, type)
    case 'tap':
      if (!type) return refusing(idle, 'noType')
      if (state.phase === 'idle') return begun(startAt(event.at, context))
      return ended(state.fromM, event.at, context, type)
    case 'finish':
      if (state.phase === 'idle') return showing(idle, null)
      return type ? committed(eastwards(state.fromM, context), context, type) : refusing(idle, 'noType')
    case 'drag':
    case 'drop':
      return dragged(state, event, context, type)
  }
}

function typeInHand({ drawing, making }: DrawContext): TableType | null {
  return (making.tableType === null ? undefined : byId(drawing.tableTypes).get(making.tableType)) ?? null
}

function begun(start: Snapped): DrawStep<RowState> {
  const shown = previewOf({ points: [start.atM], ...snappedShown(start) })
  return showing({ phase: 'started', fromM: start.atM }, shown)
}

function hovered(
  state: RowState,
  at: DrawPoint,
  context: DrawContext,
  type: TableType | null,
): DrawStep<RowState> {
  if (state.phase === 'idle' || !type) return showing(state, previewOf(snappedShown(startAt(at, context))))
  return shown(state, state.fromM, at, context, type)
}

function dragged(
  state: RowState,
  event: Extract<DrawEvent, { kind: 'drag' | 'drop' }>,
  context: DrawContext,
  type: TableType | null,
): DrawStep<RowState> {
  if (!type) return refusing(idle, 'noType')
  const fromM = state.phase === 'started' ? state.fromM : startAt(event.from, context).atM
  if (event.kind === 'drag') return shown(state, fromM, event.at, context, type)
  if (distanceM(fromM, event.at.atM) > event.at.reachM) return ended(fromM, event.at, context, type)
  return begun({ atM: fromM, guides: [], onto: null, bearingDeg: null })
}

function shown(
  state: RowState,
  fromM: PointM,
  at: DrawPoint,
  context: DrawContext,
  type: TableType,
): DrawStep<RowState> {
  const end = endAt(fromM, at, context)
  const { tables, bearingDeg } = rowTo(fromM, end, context, type)
  const { gapM } = context.making
  const lengthM = rowLengthM(type, gapM, tables)
  const preview = previewOf({
    outlines: tableOutlines(type, { originM: fromM, bearingDeg, gapM, tables }),
    points: [fromM],
    ...snappedShown(end),
    told: { fact: 'row', tables, lengthM, bearingDeg },
  })
  return showing(state, preview)
}

function ended(fromM: PointM, at: DrawPoint, context: DrawContext, type: TableType): DrawStep<RowState> {
  if (distanceM(fromM, at.atM) <= at.reachM) return committed(eastwards(fromM, context), context, type)
  const end = endAt(fromM, at, context)
  return committed({ originM: fromM, ...rowTo(fromM, end, context, type) }, context, type)
}

interface PlacedRow {
  readonly originM: PointM
  readonly bearingDeg: number
  readonly tables: number
}

function eastwards(originM: PointM, { making }: DrawContext): PlacedRow {
  return { originM, bearingDeg: eastDeg, tables: making.tables ?? 1 }
}

/** Direction and number of tables of a row drawn from a corner to an end. */
function rowTo(
  fromM: PointM,
  end: Snapped,
  { making }: DrawContext,
  type: TableType,
): Omit<PlacedRow, 'originM'> {
  const lengthM = distanceM(fromM, end.atM)
  const bearingDeg = end.bearingDeg ?? (lengthM > 0 ? bearingDegOf(fromM, end.atM) : eastDeg)
  return { bearingDeg, tables: making.tables ?? tablesThatFit(type, making.gapM, lengthM) }
}

function committed(placed: PlacedRow, { drawing, making }: DrawContext, type: TableType): DrawStep<RowState> {
  const { gapM, links } = making
  const label = nextLabel(drawing.rows.map((row) => row.label))
  const edit = addRow({ label, ...placed, gapM, type: type.id, links })
  return {
    state: idle,
    preview: null,
    done: { kind: 'edit', edit, what: { deed: 'drawRow', tables: placed.tables }, choose: 'added' },
  }
}

/** The corner snaps in line with the rows around it: to their start lines and lower edges. */
function startAt(at: DrawPoint, context: DrawContext): Snapped {
  return snapHere(context, at, { alongDeg: nearestRow(context, at.atM)?.bearingDeg ?? null })
}

/** The end is caught by the bearing of the nearest row and by the quarters of the compass. */
function endAt(fromM: PointM, at: DrawPoint, context: DrawContext): Snapped {
  const alongDeg = nearestRow(context, fromM)?.bearingDeg ?? null
  const quarters = [0, 90, 180, 270]
  const catchDeg = alongDeg === null ? quarters : [alongDeg, wholeTurnDeg(alongDeg + 180), ...quarters]
  return snapHere(context, at, { fromM, isStraight: at.isAdding, alongDeg, catchDeg })
}

/** The row whose origin is nearest; rows beside each other begin near each other. O(rows). */
function nearestRow({ drawing }: DrawContext, at: PointM): Row | null {
  let best: Row | null = null
  let bestM = Infinity
  for (const row of drawing.rows) {
    const offM = distanceM(at, row.originM)
    if (offM < bestM) [best, bestM] = [row, offM]
  }
  return best
}
