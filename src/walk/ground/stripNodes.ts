import type { PointM } from '../../model/schema/primitives.ts'
import type { GraphInMaking } from './graph.ts'
import { placeOn, type Lane, type Strip } from './lanes.ts'

/** Where strips are joined to each other and to what lies beside them: places ascending along the strip. */
export interface StripNodes {
  /** Places on the first lane, in metres. */
  readonly alongM: Float64Array
  /** Nodes there on the first lane, and opposite on the second; empty where the strip has one lane only. */
  readonly first: Int32Array
  readonly second: Int32Array
}

/** Which strip a place of a lane belongs to, and where on that strip's first lane it is or faces. */
export interface PlaceOnStrip {
  readonly strip: number
  readonly isSecond: boolean
  readonly alongM: number
}

/** A strip as one of its lanes sees it. */
interface Stay {
  readonly strip: number
  readonly isSecond: boolean
  readonly fromM: number
  readonly toM: number
}

/** The strips along each lane, ascending. */
export type Stays = readonly (readonly Stay[])[]

export function staysOf(lanes: readonly Lane[], strips: readonly Strip[]): Stays {
  const stays: Stay[][] = lanes.map(() => [])
  strips.forEach(({ lane, fromM, toM, facing }, strip) => {
    stays[lane].push({ strip, isSecond: false, fromM, toM })
    if (!facing) return
    const [a, b] = [fromM, toM].map((x) => facing.turn * x + facing.shiftM)
    stays[facing.lane].push({ strip, isSecond: true, fromM: Math.min(a, b), toM: Math.max(a, b) })
  })
  for (const own of stays) own.sort((one, other) => one.fromM - other.fromM)
  return stays
}

/** The place of a lane nearest to one that is asked for, that can be walked; null where the lane has none. O(log strips of it). */
export function nearestPlace(
  strips: readonly Strip[],
  stays: Stays,
  lane: number,
  alongM: number,
): PlaceOnStrip | null {
  const own = stays[lane]
  if (own.length === 0) return null
  let [low, high] = [0, own.length]
  while (low + 1 < high) {
    const middle = (low + high) >> 1
    if (own[middle].fromM <= alongM) low = middle
    else high = middle
  }
  const awayM = ({ fromM, toM }: Stay) => Math.max(fromM - alongM, alongM - toM, 0)
  const stay = low + 1 < own.length && awayM(own[low + 1]) < awayM(own[low]) ? own[low + 1] : own[low]
  return onStrip(strips, stay, Math.min(Math.max(alongM, stay.fromM), stay.toM))
}

function onStrip(strips: readonly Strip[], { strip, isSecond }: Stay, alongM: number): PlaceOnStrip {
  const { facing, fromM, toM } = strips[strip]
  if (!isSecond || !facing) return { strip, isSecond: false, alongM }
  const first = (alongM - facing.shiftM) * facing.turn
  return { strip, isSecond, alongM: Math.min(Math.max(first, fromM), toM) }
}

/** The point of a place, on the lane that it was asked for. */
export function pointOf(lanes: readonly Lane[], strips: readonly Strip[], place: PlaceOnStrip): PointM {
  const { lane, facing } = strips[place.strip]
  if (!place.isSecond || !facing) return placeOn(lanes[lane], place.alongM)
  return placeOn(lanes[facing.lane], facing.turn * place.alongM + facing.shiftM)
}

/** Sets nodes at the ends of all strips and at further places, and links them along the lanes and across. */
export function setStripNodes(
  graph: GraphInMaking,
  lanes: readonly Lane[],
  strips: readonly Strip[],
  places: readonly PlaceOnStrip[],
): readonly StripNodes[] {
  const at: number[][] = strips.map(({ fromM, toM }) => [fromM, toM])
  for (const { strip, alongM } of places) at[strip].push(alongM)
  return strips.map(({ facing }, strip) => {
    const alongM = Float64Array.from(at[strip]).sort()
    const nodesOn = (isSecond: boolean) =>
      Int32Array.from(alongM, (x) => graph.nodeAt(pointOf(lanes, strips, { strip, isSecond, alongM: x })))
    const first = nodesOn(false)
    const second = facing ? nodesOn(true) : new Int32Array(0)
    for (let k = 0; k < alongM.length; k++) {
      if (k > 0) graph.link(first[k - 1], first[k])
      if (k > 0 && facing) graph.link(second[k - 1], second[k])
      if (facing) graph.link(first[k], second[k])
    }
    return { alongM, first, second }
  })
}
