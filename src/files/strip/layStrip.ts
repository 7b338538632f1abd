import type { ComparedReading, ComparisonGroup, LevelSpan } from '../../model/comparison.ts'

export type StripShape = 'dot' | 'diamond' | 'triangle' | 'arrow'

export interface StripMark {
  readonly reading: ComparedReading
  readonly shape: StripShape
  /** Centre in pixels, y counted down. */
  readonly x: number
  readonly y: number
}

export interface StripBar {
  readonly x: number
  readonly width: number
  readonly height: number
}

export interface StripLevel {
  readonly fromX: number
  readonly toX: number
}

export interface StripLayout {
  readonly marks: readonly StripMark[]
  /** In place of marks for readings like their peers, where there are too many to draw each. */
  readonly bars: readonly StripBar[]
  /** `textX`: the middle of what is written, which is not cut off at the edge. */
  readonly ticks: readonly { readonly x: number; readonly textX: number; readonly ohm: number }[]
  readonly middleX: number
  readonly investigate: StripLevel | null
  readonly reject: StripLevel | null
  readonly baseY: number
}

/** Half of what a mark is wide, and the room it takes in a stack. */
export const markPx = 5
const stepPx = 11
const sidePx = 14
const halfTickPx = 20
const mostEach = 150

function shapeOf({ readOhm, standing }: ComparedReading): StripShape {
  if (readOhm === null) return 'arrow'
  return standing === 'high' ? 'triangle' : standing === 'watch' ? 'diamond' : 'dot'
}

/** Ohms that the scale ends at; nothing and less stands at its lower end. */
function endsOf({ readings, middleOhm, investigate, reject }: ComparisonGroup): readonly [number, number] {
  const shown = readings.map(({ readOhm, atLeastOhm }) => readOhm ?? atLeastOhm).filter((ohm) => ohm > 0)
  const levels = [investigate, reject].flatMap((span) => (span ? [span.lowOhm, span.highOhm] : []))
  const all = [...shown, ...levels, ...(middleOhm > 0 ? [middleOhm] : [])]
  const least = all.reduce((low, ohm) => Math.min(low, ohm), Infinity)
  const most = all.reduce((high, ohm) => Math.max(high, ohm), 0)
  return most > 0 ? [least / 1.5, Math.max(most * 1.5, least * 4)] : [0.001, 1]
}

/**
 * Where the readings of a group stand on a logarithmic scale of ohms, stacked where they would lie over each other. Few
 * enough ticks to be read on a phone.
 */
export function layStrip(group: ComparisonGroup, widthPx: number, heightPx: number): StripLayout {
  const ends = endsOf(group)
  const xOf = logScale(ends, sidePx, Math.max(sidePx + 1, widthPx - sidePx))
  const baseY = heightPx - 22
  const stacks = new Map<number, ComparedReading[]>()
  for (const reading of group.readings) {
    const bin = Math.round(xOf(reading.readOhm ?? reading.atLeastOhm) / stepPx)
    const stack = stacks.get(bin)
    if (stack) stack.push(reading)
    else stacks.set(bin, [reading])
  }
  const isCrowded = group.readings.length > mostEach
  const most = [...stacks.values()].reduce((high, { length }) => Math.max(high, length), 1)
  const room = baseY - 3 * markPx
  const up = Math.min(stepPx, room / most)
  const marks: StripMark[] = []
  const bars: StripBar[] = []
  for (const [bin, stack] of stacks) {
    const drawn = isCrowded ? stack.filter(({ standing }) => standing !== 'alike') : stack
    const barred = stack.length - drawn.length
    if (barred > 0)
      bars.push({ x: (bin - 0.5) * stepPx, width: stepPx - 1, height: Math.max(2, barred * up) })
    drawn.forEach((reading, k) =>
      marks.push({
        reading,
        shape: shapeOf(reading),
        x: bin * stepPx,
        y: baseY - markPx - 1 - (barred + k) * up,
      }),
    )
  }
  const levelOf = (span: LevelSpan | null) =>
    span && { fromX: xOf(span.lowOhm), toX: Math.max(xOf(span.highOhm), xOf(span.lowOhm) + 1) }
  return {
    marks,
    bars,
    ticks: decades(ends).map((ohm) => ({ ohm, x: xOf(ohm), textX: Math.max(xOf(ohm), halfTickPx) })),
    middleX: xOf(group.middleOhm),
    investigate: levelOf(group.investigate),
    reject: levelOf(group.reject),
    baseY,
  }
}

/** Pixels of ohms on a logarithmic scale; what lies beyond its ends, nothing and less among it, stands at them. */
function logScale([low, high]: readonly [number, number], fromPx: number, toPx: number) {
  const span = Math.log(high / low)
  return (ohm: number): number => {
    const share = ohm > 0 ? Math.log(ohm / low) / span : 0
    return fromPx + (toPx - fromPx) * Math.min(1, Math.max(0, share))
  }
}

/** Powers of ten within a stretch; with fewer than two also twice and five times those. */
function decades([low, high]: readonly number[]): readonly number[] {
  const ticks: number[] = []
  for (let power = Math.floor(Math.log10(low)); power <= Math.log10(high); power++)
    for (const times of [1, 2, 5]) ticks.push(Number(`${times}e${power}`))
  const inside = ticks.filter((ohm) => ohm >= low && ohm <= high)
  const tens = inside.filter((ohm) => Number.isInteger(Math.round(Math.log10(ohm) * 1e6) / 1e6))
  return tens.length >= 2 ? tens : inside
}

/** The outline of a mark, as the path of an SVG. */
export function stripPath({ shape, x, y }: Pick<StripMark, 'shape' | 'x' | 'y'>): string {
  const r = markPx
  switch (shape) {
    case 'dot':
      return `M${x - r},${y}a${r},${r} 0 1,0 ${2 * r},0a${r},${r} 0 1,0 ${-2 * r},0Z`
    case 'diamond':
      return `M${x},${y - r - 1}L${x + r + 1},${y}L${x},${y + r + 1}L${x - r - 1},${y}Z`
    case 'triangle':
      return `M${x},${y - r - 2}L${x + r + 2},${y + r}L${x - r - 2},${y + r}Z`
    case 'arrow':
      return `M${x - r},${y - r - 1}L${x + r + 3},${y}L${x - r},${y + r + 1}Z`
  }
}

/** The mark nearest to a place, not further than a finger is wide; null where none is. */
export function markNear({ marks }: StripLayout, x: number, y: number, withinPx = 24): StripMark | null {
  let nearest: StripMark | null = null
  let least = withinPx
  for (const mark of marks) {
    const apart = Math.hypot(mark.x - x, mark.y - y)
    if (apart >= least) continue
    least = apart
    nearest = mark
  }
  return nearest
}
