import { addEarthBar, addEnclosure } from '../../model/edits/equipment.ts'
import type { Enclosure } from '../../model/schema/equipment.ts'
import type { PointM } from '../../model/schema/primitives.ts'
import { directionOf, leftOf } from './bearing.ts'
import type { DrawContext, DrawDone, DrawEvent, DrawPoint, DrawStep, DrawTool } from './drawTool.ts'
import { nextLabel } from './nextLabel.ts'
import { alongM, betweenM, dot, roundM, roundPointM } from './places.ts'
import { previewOf, showing, snappedShown } from './preview.ts'
import type { Snapped } from './snap.ts'
import { snapHere } from './snap.ts'

/** Nothing is remembered: a tap places, a drag carries both of its ends. */
export interface EquipmentState {
  readonly phase: 'idle'
}
const idle: EquipmentState = { phase: 'idle' }

/** A drag of less than this each way is taken for a tap: no housing is so small. */
const leastSideM = 0.05

type Housing = Pick<Enclosure, 'atM' | 'widthM' | 'depthM' | 'bearingDeg'>

/** An earth bar or an enclosure by a tap; a drag from corner to corner says how large the enclosure is. */
export const equipmentTool: DrawTool<EquipmentState> = {
  idle,
  owns: (_, __, { making }) => making.equipment === 'enclosure',
  step,
}

function step(_: EquipmentState, event: DrawEvent, context: DrawContext): DrawStep<EquipmentState> {
  const { making } = context
  switch (event.kind) {
    case 'hover': {
      const here = snappedAt(event.at, context)
      if (making.equipment === 'earthBar') return showing(idle, previewOf(snappedShown(here)))
      return shown({ ...making.enclosure, atM: here.atM }, here)
    }
    case 'tap':
      return placed({ ...making.enclosure, atM: snappedAt(event.at, context).atM }, context)
    case 'drag':
    case 'drop': {
      const corner = snappedAt(event.from, context)
      const opposite = snappedAt(event.at, context)
      const housing = housingBetween(corner.atM, opposite.atM, context)
      return event.kind === 'drag' ? shown(housing, opposite) : placed(housing, context)
    }
    default:
      return showing(idle, null)
  }
}

function snappedAt(at: DrawPoint, context: DrawContext): Snapped {
  return snapHere(context, at, { alongDeg: context.making.enclosure.bearingDeg })
}

/** Between two corners where they are apart both ways; else of the size that was typed, at the first. */
function housingBetween(corner: PointM, opposite: PointM, { making }: DrawContext): Housing {
  const { bearingDeg } = making.enclosure
  const across = betweenM(corner, opposite)
  const ahead = directionOf(bearingDeg)
  const widthM = roundM(Math.abs(dot(across, leftOf(ahead))))
  const depthM = roundM(Math.abs(dot(across, ahead)))
  if (widthM < leastSideM || depthM < leastSideM) return { ...making.enclosure, atM: corner }
  return { atM: roundPointM(alongM(corner, across, 0.5)), widthM, depthM, bearingDeg }
}

function shown(housing: Housing, { guides, atM, onto }: Snapped): DrawStep<EquipmentState> {
  const { widthM, depthM } = housing
  const preview = previewOf({
    outlines: [cornersOf(housing)],
    ...snappedShown({ guides, atM, onto, bearingDeg: null }),
    told: { fact: 'size', widthM, depthM },
  })
  return showing(idle, preview)
}

/** The width lies across the bearing, the depth along it. */
function cornersOf({ atM, widthM, depthM, bearingDeg }: Housing): readonly PointM[] {
  const ahead = directionOf(bearingDeg)
  const left = leftOf(ahead)
  const corner = (aside: number, along: number) =>
    alongM(alongM(atM, left, (aside * widthM) / 2), ahead, (along * depthM) / 2)
  return [corner(1, -1), corner(-1, -1), corner(-1, 1), corner(1, 1)]
}

function placed(housing: Housing, { drawing, making }: DrawContext): DrawStep<EquipmentState> {
  const sort = making.equipment
  const labels = sort === 'enclosure' ? drawing.enclosures : drawing.earthBars
  const label = nextLabel(labels.map((item) => item.label))
  const { atM, widthM, depthM, bearingDeg } = housing
  const edit =
    sort === 'enclosure'
      ? addEnclosure({ label, atM, widthM, depthM, bearingDeg })
      : addEarthBar({ label, atM })
  const done: DrawDone = { kind: 'edit', edit, what: { deed: 'drawItem', sort }, choose: 'added' }
  return { state: idle, preview: null, done }
}
