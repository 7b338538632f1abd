import { assert } from '../../base/assert.ts'
import { partInTable, patternOfRun } from '../../layout/partIndex.ts'
import { partPositionM } from '../../layout/positions.ts'
import type { SiteIndex } from '../../layout/siteIndex.ts'
import type { PointM } from '../../model/schema/primitives.ts'
import { lastAtMost } from '../../layout/idLookup.ts'
import { isAmong, type Ground } from './ground.ts'
import { onLane } from './lanes.ts'
import { nearestPlace, pointOf, type PlaceOnStrip } from './stripNodes.ts'

/** Bent in under a table, or over its edge, a person reaches so far; judgement. */
export const reachInM = 1.5

/** Where a walker stands to reach a part. */
export interface Stand {
  readonly at: PointM
  /** Beside a row; else null. */
  readonly place: PlaceOnStrip | null
  /** A single place; −1 beside a row. */
  readonly node: number
  /** Straight metres from there to where the graph begins: 0 but where nothing leads to the part. */
  readonly offM: number
}

/** A part among tables: its barrier, its place there, and the lanes from which it is reached. */
interface Among {
  readonly barrier: number
  readonly at: PointM
  readonly alongM: number
  readonly upM: number
}

/**
 * Where one stands to reach each of some parts. A part of a table is reached from the side that it is nearer to; one
 * that is within reach from both sides, or from neither, from the side that more of the others in its row ask for. Every
 * part must be somewhere: remote earth is not. O(parts log).
 */
export function standsFor(ground: Ground, parts: Int32Array): readonly Stand[] {
  const among = Array.from(parts, (part) => amongTables(ground, part))
  const lean = new Int32Array(ground.barriers.length)
  for (const each of among) {
    if (each) lean[each.barrier] += askedSide(ground, each)
  }
  return among.map((each, k) => {
    if (!each) return singleStand(ground, parts[k])
    const asked = askedSide(ground, each)
    const side = asked === 0 ? lean[each.barrier] : asked
    const isUpper = side === 0 ? each.upM > ground.barriers[each.barrier].upM / 2 + 1e-6 : side > 0
    return standBeside(ground, each, isUpper)
  })
}

/** −1 the lower side, 1 the upper one, 0 either. */
function askedSide({ barriers }: Ground, { barrier, upM }: Among): number {
  const isLow = upM <= reachInM
  const isHigh = barriers[barrier].upM - upM <= reachInM
  return isLow === isHigh ? 0 : isLow ? -1 : 1
}

function amongTables(ground: Ground, part: number): Among | null {
  const { index, barriers, barrierStart } = ground
  const at = partPositionM(index, part)
  assert(at !== null, `part ${part} cannot be walked to`)
  if (part >= index.enclosureStart) {
    if (ground.itemNode[part - index.enclosureStart] >= 0) return null
    return placeAmong(
      ground,
      barriers.findIndex((barrier) => isAmong(barrier, at)),
      at,
    )
  }
  const row = index.rows.runs.row[partInTable(index, part).run]
  const first = barrierStart[row]
  if (barrierStart[row + 1] - first === 1) return placeAmong(ground, first, at)
  const alongM = tableStartM(index, part)
  const starts = Float64Array.from(barriers.slice(first, barrierStart[row + 1]), ({ fromM }) => fromM)
  return placeAmong(ground, first + lastAtMost(starts, alongM + 1e-6, 0, starts.length), at)
}

/** Where the table of a part begins along its row. */
function tableStartM(index: SiteIndex, part: number): number {
  const { run, place } = partInTable(index, part)
  const { gapM } = index.drawing.rows[index.rows.runs.row[run]]
  return index.rows.runs.alongM[run] + place * (patternOfRun(index, run).size.alongM + gapM)
}

function placeAmong({ barriers }: Ground, barrier: number, at: PointM): Among {
  const { corner, along, up } = barriers[barrier]
  const [dx, dy] = [at.x - corner.x, at.y - corner.y]
  return { barrier, at, alongM: dx * along.x + dy * along.y, upM: dx * up.x + dy * up.y }
}

/** On the side that was chosen, else on the other one, else as one would stand without any lane. */
function standBeside(
  { lanes, strips, stays, graph }: Ground,
  { barrier, at }: Among,
  isUpper: boolean,
): Stand {
  for (const lane of isUpper ? [2 * barrier + 1, 2 * barrier] : [2 * barrier, 2 * barrier + 1]) {
    const place = nearestPlace(strips, stays, lane, onLane(lanes[lane], at).alongM)
    if (place) return { at: pointOf(lanes, strips, place), place, node: -1, offM: 0 }
  }
  return nearestNode(graph, at)
}

function singleStand({ index, itemNode }: Ground, part: number): Stand {
  const at = partPositionM(index, part)!
  return { at, place: null, node: itemNode[part - index.enclosureStart], offM: 0 }
}

function nearestNode({ count, xM, yM }: Ground['graph'], at: PointM): Stand {
  let node = 0
  const farM = (n: number) => Math.hypot(xM[n] - at.x, yM[n] - at.y)
  for (let n = 1; n < count; n++) if (farM(n) < farM(node)) node = n
  return { at, place: null, node, offM: farM(node) }
}
