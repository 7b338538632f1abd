import { formatVolt } from '../text/ohms.ts'
import { groundWishes, type GroundLabel } from './overlayGround.ts'
import type { MapMarks } from '../state/mapMarks.ts'
import type { Inset } from './camera.ts'
import type { MapGeometry } from './geometry.ts'
import type { PointPx, View } from './mapTypes.ts'
import type { NamedPlaces } from './namedPlaces.ts'
import type { Box } from './overlayCurves.ts'
import type { LabelText } from './overlayDraw.ts'
import type { SeenReading } from './overlayEdges.ts'
import { boxAround, placeLabels, type PlacedLabel } from './overlayLabels.ts'
import { itemWishes, seenItems } from './overlayItemNames.ts'
import { rowWishes, type NameRoom, type NameText } from './overlayNames.ts'
import { labelWishes, middleBox } from './overlayReadingLabels.ts'
import { pointerRadiusPx, type SuspectPointer, type SuspectRing } from './overlaySuspects.ts'
import { edgeWishes, tableWishes } from './overlayTableNames.ts'
import type { Palette } from './palette.ts'
import type { RowNames } from './placeNames.ts'

const mostReadings = 48
/** One reading's label for so much of the view: more would hide what they speak of. */
const readingRoomPx2 = 32_000
const mostNames = 120
/** Values on lines of the ground. */
const mostValues = 24
const apartPx = 3

export interface LabelsAsked {
  readonly scene: { readonly geometry: MapGeometry; readonly marks: MapMarks; readonly palette: Palette }
  readonly seen: readonly SeenReading[]
  readonly rings: readonly SuspectRing[]
  readonly pointers: readonly SuspectPointer[]
  readonly rowNames: RowNames
  readonly named: NamedPlaces
  readonly nameRoom: NameRoom
  /** The corner with the scale bar and the north mark. */
  readonly corner: Box
  /** Width of a reading's label. */
  readonly widthOf: (text: string) => number
  /** Whether no table stands at a place of the screen. */
  readonly isBare: (at: PointPx) => boolean
}

export interface LabelsLaid {
  readonly readings: readonly PlacedLabel<LabelText & { readonly entry: string }>[]
  readonly names: readonly PlacedLabel<NameText>[]
  readonly ground: readonly PlacedLabel<GroundLabel>[]
}

/**
 * Where every label at rest stands: no two of them touch, and none lies on a symbol of equipment. First come readings
 * that ask for something, then the names of rows, of what is chosen or suspected and of equipment, then the other
 * readings, values on the lines of the ground, tables' names last.
 */
export function layLabels(asked: LabelsAsked): LabelsLaid {
  const { scene, seen, rings, pointers, rowNames, named, nameRoom, corner, widthOf, isBare } = asked
  const { geometry, marks, palette } = scene
  const { view, room } = nameRoom
  const screen: Box = { left: 0, top: 0, right: view.widthPx, bottom: view.heightPx }
  const items = seenItems(geometry, view)
  const taken = [
    ...items.map(({ box }) => box),
    ...rings.map(({ at, radiusPx }) => boxAround(at, 2 * radiusPx, 2 * radiusPx)),
    ...rings.flatMap(({ plate }) => plate ?? []),
    ...pointers.map(({ at }) => boxAround(at, 3.4 * pointerRadiusPx, 3.4 * pointerRadiusPx)),
    ...seen.flatMap(middleBox),
    corner,
  ]
  const place = <T extends LabelsLaid['readings' | 'names' | 'ground'][number]['of']>(
    wishes: Parameters<typeof placeLabels<T>>[0],
    within: Box,
    most: number,
  ) => {
    const placed = placeLabels(wishes, taken, { within, apartPx, most })
    taken.push(...placed.map(({ box }) => box))
    return placed
  }
  const readings = labelWishes(seen, palette, marks.hovered, widthOf)
  const most = Math.min(mostReadings, Math.ceil((view.widthPx * view.heightPx) / readingRoomPx2))
  const urgent = place(
    readings.filter(({ of }) => of.weight !== 'plain'),
    screen,
    mostReadings,
  )
  const names = [
    ...place(rowWishes(rowNames, named.rows, nameRoom), room, mostNames),
    ...place(edgeWishes(geometry, named.tables, nameRoom), room, mostNames),
    ...place(itemWishes(items, nameRoom), room, mostNames),
  ]
  const plain = place(
    readings.filter(({ of }) => of.weight === 'plain'),
    screen,
    Math.max(most - urgent.length, 0),
  )
  const picture = marks.fault?.ground?.picture
  const values = picture ? groundWishes(picture, view, room, isBare, formatVolt) : []
  const ground = place(values, room, mostValues)
  return {
    readings: [...urgent, ...plain],
    names: [...names, ...place(tableWishes(geometry, named.tables, nameRoom), room, mostNames)],
    ground,
  }
}

/** What the scale bar and the north mark take of the view. */
export function cornerBox({ widthPx, heightPx }: View, { right, bottom }: Inset): Box {
  return { left: widthPx - right - 180, top: heightPx - bottom - 42, right: widthPx, bottom: heightPx }
}
