import { portion } from '../../base/portion.ts'
import { partPositionM } from '../../layout/positions.ts'
import type { SiteIndex } from '../../layout/siteIndex.ts'
import type { PointM } from '../../model/schema/primitives.ts'
import { barriersOf, type Barrier } from './barriers.ts'
import { GraphInMaking, type WayGraph } from './graph.ts'
import { hubsOf, type Hubs } from './hubs.ts'
import { clearM, lanesOf, onLane, placeOn, stripsOf, type Lane, type Strip } from './lanes.ts'
import { legOf, linesNear, nearM, type Line } from './lines.ts'
import { joinParts, linkAcross } from './openGround.ts'
import { crossing, sightAmong, type Sight } from './sight.ts'
import {
  nearestPlace,
  pointOf,
  setStripNodes,
  staysOf,
  type PlaceOnStrip,
  type StripNodes,
  type Stays,
} from './stripNodes.ts'

/** The ground of a site as one walks on it. */
export interface Ground {
  readonly index: SiteIndex
  readonly barriers: readonly Barrier[]
  /** Barriers of row r: start[r] … start[r + 1] − 1. */
  readonly barrierStart: Int32Array
  readonly lanes: readonly Lane[]
  readonly strips: readonly Strip[]
  readonly stays: Stays
  readonly stripNodes: readonly StripNodes[]
  /** Node of each part that belongs to no table, from `enclosureStart` on; −1 where it stands among tables. */
  readonly itemNode: Int32Array
  readonly graph: WayGraph
  readonly hubs: Hubs
  /** Ways that lead straight through what stands there, because nothing else leads to a part of the ground. */
  readonly joins: number
}

/** A corner this near to a drawn aisle is served by it. */
const besideAisleM = 15
/** From a place beside them so many lanes are reached straight. */
const mostFeet = 3

/**
 * Ground that can be walked, as a graph whose shortest ways are the metric:
 *
 * - along both sides of every row, and round its ends; between two rows that face each other across anywhere;
 * - along drawn aisles, through whatever they are drawn through: a gate, a bridge;
 * - straight from corner to corner where nothing stands between. Corners that both have a drawn aisle beside them are not
 *   linked so: there one goes along the aisles;
 * - never through a table or an obstacle, unless something cannot be reached otherwise (`joins`).
 *
 * Yields the fraction done. For n corners about O(n log n), then hubs.
 */
export function* prepareGround(index: SiteIndex): Generator<number, Ground> {
  const { drawing } = index
  const { barriers, start } = barriersOf(index)
  const outlines = drawing.obstacles.map(({ outlineM }) => outlineM)
  const sight = sightAmong(barriers, outlines)
  const lanes = lanesOf(barriers, sight)
  yield 0.1
  const strips = stripsOf(lanes, sight)
  const stays = staysOf(lanes, strips)
  yield 0.2
  const graph = new GraphInMaking()
  const legs = drawing.aisles.flatMap(({ pathM }) =>
    pathM
      .slice(1)
      .flatMap((end, k) => (end.x === pathM[k].x && end.y === pathM[k].y ? [] : [legOf(pathM[k], end)])),
  )
  const itemNode = new Int32Array(index.partCount - index.enclosureStart).fill(-1)
  const items: number[] = []
  for (let part = index.enclosureStart; part < index.partCount; part++) {
    const at = partPositionM(index, part)!
    if (barriers.some((barrier) => isAmong(barrier, at))) continue
    items.push((itemNode[part - index.enclosureStart] = graph.nodeAt(at)))
  }
  const around = outlines.flatMap((outline) => outline.flatMap((at) => cornersAround(at, sight)))
  const obstacleCorners = around.map((at) => graph.nodeAt(at))
  const feet = feetOf(graph, [...new Set([...items, ...obstacleCorners])], lanes, strips, stays, sight)
  const aisles = aislesOf(graph, legs, lanes, strips, stays)
  const stripNodes = setStripNodes(graph, lanes, strips, [...feet.places, ...aisles.places])
  for (const [node, place] of [...feet.links, ...aisles.links]) {
    graph.link(node, graph.nodeAt(pointOf(lanes, strips, place)))
  }
  yield 0.3
  linkRoundEnds(graph, lanes, sight)
  const ends = [
    ...new Set(lanes.flatMap((lane) => lane.free.flat().map((x) => graph.nodeAt(placeOn(lane, x))))),
  ]
  const isServed = joinAisles(graph, legs, aisles.onLegs, [...ends, ...items, ...obstacleCorners], sight)
  const corners = [...new Set([...ends, ...items, ...obstacleCorners, ...aisles.nodes])]
  const mayLink = (a: number, b: number) => !(isServed.has(a) && isServed.has(b))
  yield* portion(linkAcross(graph, corners, sight, mayLink), 0.3, 0.1)
  const joins = joinParts(graph)
  yield 0.4
  const closed = graph.close()
  const hubs = yield* portion(hubsOf(closed), 0.4, 0.6)
  return {
    index,
    barriers,
    barrierStart: start,
    lanes,
    strips,
    stays,
    stripNodes,
    itemNode,
    graph: closed,
    hubs,
    joins,
  }
}

/** Whether a place is in a barrier or so near to it that one stands on its lanes to reach it. */
export function isAmong({ corner, along, up, lengthM, upM }: Barrier, at: PointM): boolean {
  const [dx, dy] = [at.x - corner.x, at.y - corner.y]
  const x = dx * along.x + dy * along.y
  const y = dx * up.x + dy * up.y
  return x > -clearM && x < lengthM + clearM && y > -clearM && y < upM + clearM
}

/** Places a step off the corner of an obstacle that are not inside anything. */
function cornersAround({ x, y }: PointM, sight: Sight): readonly PointM[] {
  return [
    [1, 1],
    [-1, 1],
    [-1, -1],
    [1, -1],
  ]
    .map(([dx, dy]) => ({ x: x + dx * clearM, y: y + dy * clearM }))
    .filter((at) => sight.isClear(at, at))
}

interface Feet {
  readonly places: readonly PlaceOnStrip[]
  readonly links: readonly (readonly [node: number, place: PlaceOnStrip])[]
}

/** The nearest lanes that one walks straight to from single places in front of them. */
function feetOf(
  graph: GraphInMaking,
  nodes: readonly number[],
  lanes: readonly Lane[],
  strips: readonly Strip[],
  stays: Stays,
  sight: Sight,
): Feet {
  const near = linesNear(lanes)
  const links = nodes.flatMap((node) => {
    const at = graph.pointsM[node]
    return near(at)
      .flatMap((l) => {
        const { alongM, outM } = onLane(lanes[l], at)
        if (outM < -clearM || outM > nearM || alongM < 0 || alongM > lanes[l].lengthM) return []
        const place = nearestPlace(strips, stays, l, alongM)
        const foot = place && pointOf(lanes, strips, place)
        return foot && sight.isClear(at, foot) ? [{ place, outM }] : []
      })
      .sort((one, other) => one.outM - other.outM)
      .slice(0, mostFeet)
      .map(({ place }) => [node, place] as const)
  })
  return { places: links.map(([, place]) => place), links }
}

interface Aisles extends Feet {
  /** Nodes along each leg, with their places on it. */
  readonly onLegs: readonly { readonly node: number; readonly alongM: number }[][]
  readonly nodes: readonly number[]
}

/** Nodes at the ends of legs of aisles, where legs cross, and where they cross lanes. */
function aislesOf(
  graph: GraphInMaking,
  legs: readonly Line[],
  lanes: readonly Lane[],
  strips: readonly Strip[],
  stays: Stays,
): Aisles {
  const endOf = (line: Line) => placeAlong(line, line.lengthM)
  const near = linesNear([...lanes, ...legs])
  const links: (readonly [number, PlaceOnStrip])[] = []
  const onLegs = legs.map((leg, own) => {
    const nodes = [0, leg.lengthM].map((alongM) => ({ node: graph.nodeAt(placeAlong(leg, alongM)), alongM }))
    for (const number of linesAlong(leg, near)) {
      const isLane = number < lanes.length
      const line = isLane ? lanes[number] : legs[number - lanes.length]
      const at =
        number === lanes.length + own ? null : crossing(leg.start, endOf(leg), line.start, endOf(line))
      if (at === null) continue
      const alongM = at * leg.lengthM
      const point = placeAlong(leg, alongM)
      const node = graph.nodeAt(point)
      nodes.push({ node, alongM })
      const place = isLane ? nearestPlace(strips, stays, number, onLane(lanes[number], point).alongM) : null
      if (place && distanceTo(pointOf(lanes, strips, place), point) < clearM) links.push([node, place])
    }
    return nodes
  })
  return {
    onLegs,
    nodes: onLegs.flat().map(({ node }) => node),
    links,
    places: links.map(([, place]) => place),
  }
}

function linesAlong(leg: Line, near: (at: PointM) => readonly number[]): ReadonlySet<number> {
  const found = new Set<number>()
  for (let alongM = 0; ; alongM = Math.min(alongM + nearM, leg.lengthM)) {
    for (const line of near(placeAlong(leg, alongM))) found.add(line)
    if (alongM === leg.lengthM) return found
  }
}

/** Leads from places near aisles straight to them, links the aisles' own nodes; which places are served. */
function joinAisles(
  graph: GraphInMaking,
  legs: readonly Line[],
  onLegs: Aisles['onLegs'],
  nodes: readonly number[],
  sight: Sight,
): ReadonlySet<number> {
  const near = linesNear(legs)
  const isServed = new Set<number>()
  for (const node of new Set(nodes)) {
    const at = graph.pointsM[node]
    const [nearest] = near(at)
      .map((l) => {
        const { start, along, lengthM } = legs[l]
        const there = (at.x - start.x) * along.x + (at.y - start.y) * along.y
        const alongM = Math.min(Math.max(there, 0), lengthM)
        return { l, alongM, foot: placeAlong(legs[l], alongM) }
      })
      .filter(({ foot }) => distanceTo(foot, at) <= besideAisleM && sight.isClear(at, foot))
      .sort((one, other) => distanceTo(one.foot, at) - distanceTo(other.foot, at) || one.l - other.l)
    if (!nearest) continue
    isServed.add(node)
    const foot = graph.nodeAt(nearest.foot)
    onLegs[nearest.l].push({ node: foot, alongM: nearest.alongM })
    graph.link(node, foot)
  }
  for (const leg of onLegs) {
    leg.sort((one, other) => one.alongM - other.alongM || one.node - other.node)
    for (let k = 1; k < leg.length; k++) graph.link(leg[k - 1].node, leg[k].node)
  }
  return isServed
}

/** From the one side of each barrier to the other, round both ends. */
function linkRoundEnds(graph: GraphInMaking, lanes: readonly Lane[], sight: Sight): void {
  for (let l = 0; l < lanes.length; l += 2) {
    for (const isEnd of [false, true]) {
      const [lower, upper] = [lanes[l], lanes[l + 1]].map((lane) => {
        const x = isEnd ? lane.lengthM : 0
        const isFree = lane.free.some(([from, to]) => (isEnd ? to === x : from === x))
        return isFree ? placeOn(lane, x) : null
      })
      if (lower && upper && sight.isClear(lower, upper)) graph.link(graph.nodeAt(lower), graph.nodeAt(upper))
    }
  }
}

const placeAlong = ({ start, along }: Line, alongM: number): PointM => ({
  x: start.x + alongM * along.x,
  y: start.y + alongM * along.y,
})

const distanceTo = (a: PointM, b: PointM) => Math.hypot(a.x - b.x, a.y - b.y)
