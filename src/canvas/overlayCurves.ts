import type { PointPx } from './mapTypes.ts'

/** A quadratic curve in screen pixels: from (x0, y0) to (x1, y1), drawn towards (cx, cy). */
export interface Curve {
  readonly x0: number
  readonly y0: number
  readonly cx: number
  readonly cy: number
  readonly x1: number
  readonly y1: number
}

export interface Box {
  readonly left: number
  readonly top: number
  readonly right: number
  readonly bottom: number
}

const bulgeShare = 0.09
const mostBulgePx = 60

/**
 * The curve along which a pair of points is drawn: a slight arc, upwards on the screen, so that readings in one line
 * lie side by side. `lane` 0, 1, 2 … keeps readings of the same pair apart. `scale` is pixels of the points per CSS pixel.
 */
export function arcBetween(from: PointPx, to: PointPx, lane = 0, scale = 1): Curve {
  const dx = to.x - from.x
  const dy = to.y - from.y
  const lengthPx = Math.hypot(dx, dy)
  const bulgePx =
    Math.min(bulgeShare * lengthPx, mostBulgePx * scale) + lane * Math.min(0.06 * lengthPx, 14 * scale)
  const side = dx > 0 || (dx === 0 && dy < 0) ? 1 : -1
  const reach = lengthPx > 0 ? (2 * bulgePx * side) / lengthPx : 0
  return {
    x0: from.x,
    y0: from.y,
    cx: (from.x + to.x) / 2 + dy * reach,
    cy: (from.y + to.y) / 2 - dx * reach,
    x1: to.x,
    y1: to.y,
  }
}

export function pointOn({ x0, y0, cx, cy, x1, y1 }: Curve, t: number): PointPx {
  const s = 1 - t
  return { x: s * s * x0 + 2 * s * t * cx + t * t * x1, y: s * s * y0 + 2 * s * t * cy + t * t * y1 }
}

/** Direction of a curve at a place, one pixel long. */
export function directionOn({ x0, y0, cx, cy, x1, y1 }: Curve, t: number): PointPx {
  const dx = (1 - t) * (cx - x0) + t * (x1 - cx)
  const dy = (1 - t) * (cy - y0) + t * (y1 - cy)
  const length = Math.hypot(dx, dy)
  return length > 0 ? { x: dx / length, y: dy / length } : { x: 1, y: 0 }
}

/** The piece of a curve between two of its places; a quadratic curve again (de Casteljau). */
export function pieceOf(curve: Curve, t0: number, t1: number): Curve {
  if (t0 <= 0 && t1 >= 1) return curve
  const { x0, y0, cx, cy, x1, y1 } = curve
  const from = pointOn(curve, t0)
  const to = pointOn(curve, t1)
  const blossom = (a: number, b: number, c: number) =>
    (1 - t0) * (1 - t1) * a + ((1 - t0) * t1 + t0 * (1 - t1)) * b + t0 * t1 * c
  return { x0: from.x, y0: from.y, cx: blossom(x0, cx, x1), cy: blossom(y0, cy, y1), x1: to.x, y1: to.y }
}

/** The curve that runs beside another at a distance, to its left as it goes (seen with y down). */
export function besideCurve(curve: Curve, byPx: number): Curve {
  const start = directionOn(curve, 0)
  const middle = directionOn(curve, 0.5)
  const end = directionOn(curve, 1)
  return {
    x0: curve.x0 + byPx * start.y,
    y0: curve.y0 - byPx * start.x,
    cx: curve.cx + byPx * middle.y,
    cy: curve.cy - byPx * middle.x,
    x1: curve.x1 + byPx * end.y,
    y1: curve.y1 - byPx * end.x,
  }
}

export function chordPx({ x0, y0, x1, y1 }: Curve): number {
  return Math.hypot(x1 - x0, y1 - y0)
}

const wholeSpan = [0, 1] as const

function isIn({ left, top, right, bottom }: Box, x: number, y: number): boolean {
  return x >= left && x <= right && y >= top && y <= bottom
}

/**
 * The places between which a curve can be seen in a box; null where it passes by. By the chord, with the
 * height of the arc as margin: what is returned may reach beyond the box by a little, never too short.
 */
export function spanIn(curve: Curve, box: Box): readonly [number, number] | null {
  const { x0, y0, cx, cy, x1, y1 } = curve
  if (isIn(box, x0, y0) && isIn(box, x1, y1) && isIn(box, cx, cy)) return wholeSpan
  const marginPx = Math.hypot(cx - (x0 + x1) / 2, cy - (y0 + y1) / 2) / 2
  let t0 = 0
  let t1 = 1
  const dx = x1 - x0
  const dy = y1 - y0
  for (const [towards, room] of [
    [-dx, x0 - box.left + marginPx],
    [dx, box.right + marginPx - x0],
    [-dy, y0 - box.top + marginPx],
    [dy, box.bottom + marginPx - y0],
  ]) {
    if (towards === 0) {
      if (room < 0) return null
    } else if (towards < 0) {
      t0 = Math.max(t0, room / towards)
    } else {
      t1 = Math.min(t1, room / towards)
    }
  }
  return t0 < t1 ? [t0, t1] : null
}

/** How far a point is from a curve, by as many straight pieces. */
export function distanceToCurve(curve: Curve, { x, y }: PointPx, pieces = 12): number {
  let nearest = Infinity
  let from = pointOn(curve, 0)
  for (let i = 1; i <= pieces; i++) {
    const to = pointOn(curve, i / pieces)
    const dx = to.x - from.x
    const dy = to.y - from.y
    const squared = dx * dx + dy * dy
    const share = squared > 0 ? ((x - from.x) * dx + (y - from.y) * dy) / squared : 0
    const t = Math.min(Math.max(share, 0), 1)
    nearest = Math.min(nearest, Math.hypot(x - from.x - t * dx, y - from.y - t * dy))
    from = to
  }
  return nearest
}
