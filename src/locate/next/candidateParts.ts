import { firstPartOf, partInTable, patternOfRun } from '../../layout/partIndex.ts'
import { earthBarCode, partKindNames } from '../../layout/partKinds.ts'
import { tableByOrdinal, type TableSpot } from '../../layout/rowIndex.ts'
import type { SiteIndex } from '../../layout/siteIndex.ts'
import type { Network } from '../../network/compile.ts'
import { straightM } from '../../walk/reach.ts'
import type { Clips } from './clips.ts'
import type { SetUp } from './lastSetUp.ts'

/** Parts that pairs are made of, at most. */
const mostParts = 64
const mostReferences = 8
const mostBars = 4
/** The heaviest joints, and those that split the weight evenly, whose surroundings are looked at; how far in joints. */
const heaviestAround = 5
const splitsAround = 7
/** Parts on each of their sides. */
const deepest = 3
const partsPerSide = 3
/** Joints whose tables give their ends. */
const jointsForEnds = 4
/** Parts visited on one side of a joint before it is left. */
const mostVisited = 400

/**
 * Parts that the next reading may be taken at, in order of preference: first points in use, earth bars, parts on both
 * sides of the suspects, ends of the tables and rows that they are in. Only what a clip reaches. `suspects`: heaviest
 * first.
 */
export function candidateParts(
  network: Network,
  clips: Clips,
  setUp: SetUp,
  suspects: readonly Suspected[],
): readonly number[] {
  const { index, partKind } = network
  const chosen = new Set<number>()
  const isReachable = (part: number) => {
    const kind = partKindNames[partKind[part]]
    return kind !== 'remoteEarth' && clips.isReachable.has(kind)
  }
  const add = (parts: Iterable<number>) => {
    for (const part of parts) {
      if (part >= 0 && isReachable(part) && chosen.size < mostParts) chosen.add(part)
    }
  }
  add(setUp.references.slice(0, mostReferences))
  add([setUp.standing])
  add(nearestBars(network, setUp.standing))
  for (const edge of jointsAround(suspects)) {
    add(aroundSide(network, edge, network.graph.from[edge], isReachable))
    add(aroundSide(network, edge, network.graph.to[edge], isReachable))
  }
  for (const { edge } of suspects.slice(0, jointsForEnds)) {
    for (const part of [network.graph.from[edge], network.graph.to[edge]]) {
      if (part < index.enclosureStart) add(endsNear(index, part))
    }
  }
  return [...chosen]
}

/** A joint that may be bad, by edge, with its share of the posterior. */
export interface Suspected {
  readonly edge: number
  readonly weight: number
}

/**
 * The heaviest suspects, and those at even shares of the weight in the order in which they were drawn: along a row that is
 * the order of the way, so that its middle is among them however many weigh the same.
 */
function jointsAround(suspects: readonly Suspected[]): readonly number[] {
  const chosen = new Set(suspects.slice(0, heaviestAround).map(({ edge }) => edge))
  const along = suspects.toSorted((a, b) => a.edge - b.edge)
  const total = along.reduce((sum, { weight }) => sum + weight, 0)
  let sum = 0
  let split = 1
  for (const { edge, weight } of along) {
    sum += weight
    for (; split <= splitsAround && sum >= (split / (splitsAround + 1)) * total; split++) chosen.add(edge)
  }
  return [...chosen]
}

function nearestBars({ index, partKind }: Network, from: number): number[] {
  const bars: number[] = []
  for (let part = index.earthBarStart; part < index.electrodeStart; part++) {
    if (partKind[part] === earthBarCode) bars.push(part)
  }
  const away = new Map(bars.map((bar) => [bar, straightM(index, from, bar)]))
  return bars.sort((a, b) => away.get(a)! - away.get(b)! || a - b).slice(0, mostBars)
}

/** The nearest parts in metal on one side of a joint, breadth first, one of each kind before a second of any. */
function aroundSide(
  { graph, adjacency, isMetal, partKind, remoteEarth }: Network,
  edge: number,
  start: number,
  isReachable: (part: number) => boolean,
): number[] {
  const depth = new Map([[start, 0]])
  const queue = [start]
  const other = graph.from[edge] === start ? graph.to[edge] : graph.from[edge]
  for (let at = 0; at < queue.length && queue.length < mostVisited; at++) {
    const node = queue[at]
    const next = depth.get(node)! + 1
    if (next > deepest) break
    for (let s = adjacency.start[node]; s < adjacency.start[node + 1]; s++) {
      const neighbour = adjacency.neighbour[s]
      const isCrossed = adjacency.edge[s] === edge || neighbour === other || neighbour === remoteEarth
      if (isCrossed || isMetal[adjacency.edge[s]] === 0 || depth.has(neighbour)) continue
      depth.set(neighbour, next)
      queue.push(neighbour)
    }
  }
  const near = queue.filter(isReachable)
  const firstOfKind = near.filter(
    (part, k) => near.findIndex((each) => partKind[each] === partKind[part]) === k,
  )
  return [...new Set([...firstOfKind, ...near])].slice(0, partsPerSide)
}

/** Ends of the long members and outer frames of a part's table, and the outer ends of its row. */
function endsNear(index: SiteIndex, part: number): number[] {
  const { run, place } = partInTable(index, part)
  const row = index.rows.runs.row[run]
  const first = tableByOrdinal(index.rows, row, 0)
  const last = tableByOrdinal(index.rows, row, index.rows.tables[row] - 1)
  return [
    ...memberEnds(index, { run, place }),
    ...outerFrames(index, { run, place }),
    ...memberEnds(index, first).slice(0, 1),
    ...memberEnds(index, last).slice(1, 2),
  ]
}

/** First and last station of the lowest and of the highest long member. */
function memberEnds(index: SiteIndex, table: TableSpot): number[] {
  const { longStart, across, members } = patternOfRun(index, table.run)
  const start = firstPartOf(index, table) + longStart
  const highest = start + (members - 1) * (across + 1)
  return members === 0 ? [] : [start, start + across, highest, highest + across]
}

function outerFrames(index: SiteIndex, table: TableSpot): number[] {
  const { high, across } = patternOfRun(index, table.run)
  const start = firstPartOf(index, table)
  return [start, start + high * across - 1]
}
