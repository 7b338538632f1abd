import type { FaultMarks } from '../state/mapMarks.ts'
import type { MapGeometry } from './geometry.ts'
import { toScreen, type PointPx, type View } from './mapTypes.ts'
import { jointPointM, partPointM } from './markPoints.ts'
import type { Palette } from './palette.ts'

const plateRadiusPx = 13
const personPx = 15

/** Where the fault is, a second one, what is changed, who touches: symbols that keep their size at every zoom. */
export function drawFault(
  context: CanvasRenderingContext2D,
  geometry: MapGeometry,
  fault: FaultMarks,
  view: View,
  palette: Palette,
): void {
  const { index } = geometry
  const at = (part: number): PointPx | null => {
    const point = part >= 0 && part < index.partCount ? partPointM(geometry, part) : null
    return point && toScreen(view, point)
  }
  context.save()
  context.setLineDash([])
  for (const joint of fault.altered)
    drawAltered(context, toScreen(view, jointPointM(geometry, joint)), palette)
  if (fault.person) {
    const hand = at(fault.person.hand)
    const other = fault.person.other === null ? null : at(fault.person.other)
    if (hand) drawPerson(context, hand, other, palette)
  }
  const second = fault.second === null ? null : at(fault.second)
  if (second) drawBolt(context, second, palette, true)
  const first = at(fault.at)
  if (first) drawBolt(context, first, palette, false)
  context.restore()
}

/** A disc beside the place with a forked stroke on it, and a stem to the place itself; the second fault has a double rim. */
export function drawBolt(
  context: CanvasRenderingContext2D,
  place: PointPx,
  palette: Palette,
  isSecond: boolean,
): void {
  const [x, y] = [place.x + 4, place.y - 2.1 * plateRadiusPx]
  for (const [widthPx, ink] of [
    [6, palette.halo],
    [2.5, palette.label],
  ] as const) {
    context.lineWidth = widthPx
    context.strokeStyle = ink
    context.beginPath()
    context.moveTo(x, y)
    context.lineTo(place.x, place.y)
    context.stroke()
  }
  disc(context, x, y, plateRadiusPx + 2, palette.halo)
  disc(context, x, y, plateRadiusPx, palette.label)
  if (isSecond) ring(context, x, y, plateRadiusPx - 3, palette.labelPlate, 1.25)
  disc(context, place.x, place.y, 4.5, palette.halo)
  disc(context, place.x, place.y, 3, palette.label)
  context.fillStyle = palette.labelPlate
  context.beginPath()
  const points = [
    [1.5, -8.5],
    [-5, 1.5],
    [-0.8, 1.5],
    [-2, 8.5],
    [5, -2],
    [0.6, -2],
  ]
  const size = isSecond ? 0.72 : 1
  points.forEach(([dx, dy], k) => context[k === 0 ? 'moveTo' : 'lineTo'](x + size * dx, y + size * dy))
  context.closePath()
  context.fill()
}

/** A person whose arm reaches the part; the other arm to the other part, or feet on the ground beside. */
export function drawPerson(
  context: CanvasRenderingContext2D,
  hand: PointPx,
  other: PointPx | null,
  palette: Palette,
): void {
  const body = other
    ? { x: (hand.x + other.x) / 2, y: (hand.y + other.y) / 2 + 6 }
    : { x: hand.x + 2.2 * personPx, y: hand.y + 1.2 * personPx }
  const shoulder = { x: body.x, y: body.y - 4 }
  const lines = (): void => {
    context.beginPath()
    context.moveTo(hand.x, hand.y)
    context.lineTo(shoulder.x, shoulder.y)
    if (other) context.lineTo(other.x, other.y)
    context.moveTo(body.x, body.y - 6)
    context.lineTo(body.x, body.y + 6)
    context.lineTo(body.x - 5, body.y + personPx)
    context.moveTo(body.x, body.y + 6)
    context.lineTo(body.x + 5, body.y + personPx)
    if (!other) {
      context.moveTo(body.x - 11, body.y + personPx + 1)
      context.lineTo(body.x + 11, body.y + personPx + 1)
    }
    context.stroke()
  }
  context.lineCap = 'round'
  context.lineJoin = 'round'
  for (const [widthPx, ink] of [
    [7, palette.halo],
    [3, palette.link],
  ] as const) {
    context.lineWidth = widthPx
    context.strokeStyle = ink
    lines()
    disc(context, body.x, body.y - 11, 4 + widthPx / 2, ink)
  }
}

/** A gap between two ends in a ring: a joint that is open, or worse, in this question only. */
export function drawAltered(context: CanvasRenderingContext2D, { x, y }: PointPx, palette: Palette): void {
  disc(context, x, y, 11, palette.halo)
  ring(context, x, y, 9, palette.link, 2.5)
  context.lineWidth = 2.5
  context.strokeStyle = palette.link
  context.beginPath()
  context.moveTo(x - 9, y)
  context.lineTo(x - 3.5, y)
  context.moveTo(x + 3.5, y)
  context.lineTo(x + 9, y)
  context.moveTo(x - 3.5, y - 4)
  context.lineTo(x - 3.5, y + 4)
  context.moveTo(x + 3.5, y - 4)
  context.lineTo(x + 3.5, y + 4)
  context.stroke()
}

function disc(context: CanvasRenderingContext2D, x: number, y: number, radius: number, ink: string): void {
  context.beginPath()
  context.arc(x, y, radius, 0, 2 * Math.PI)
  context.fillStyle = ink
  context.fill()
}

function ring(
  context: CanvasRenderingContext2D,
  x: number,
  y: number,
  radius: number,
  ink: string,
  widthPx: number,
): void {
  context.beginPath()
  context.arc(x, y, radius, 0, 2 * Math.PI)
  context.lineWidth = widthPx
  context.strokeStyle = ink
  context.stroke()
}
