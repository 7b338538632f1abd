import { portion } from '../../base/portion.ts'
import { randomStream } from '../../base/random.ts'
import { cutLabels, cutsWithin, sideOfCut, type CutLabels } from '../../network/cutLabels.ts'
import { adjacencyOf, type Graph } from '../../network/graph.ts'
import { islandsInPortions } from '../../network/islands.ts'
import type { Network } from '../../network/compile.ts'
import type { PreparedNetwork } from '../../network/prepare.ts'
import type { Measurement } from '../evidence.ts'
import type { LevelModel } from '../levelModel.ts'
import { bookAt, type LocateCache } from '../locateCache.ts'
import { isBetweenParts } from '../observations.ts'
import { rowsOfPairs, type PairRow } from '../pairBook.ts'

/** Two joints, by edge, whose opening leaves no metal path between the ends of some high readings. */
export type PartingPair = readonly [number, number]

/** A reading so many standard deviations above what sound joints read is high. */
const highFrom = 4
/** A single high reading is a poor contact before it is two bad joints. */
const leastHigh = 2
/** Joints with less than this squared share of a high reading's current are not on its way. */
const leastShare = 1e-4
const mostEdges = 3000
/** Joints that cut in pairs, of one ring, and pairs that are kept. */
const mostOfRing = 120
const mostPairs = 24
const labelSeed = 20_240_117

/** Per reading +1 where it is high or over range, −1 where it is not, 0 where no metal joins its ends. */
function standing(
  { metal }: Network,
  { observations, addedMeanOhm, covariance }: Measurement,
  model: LevelModel,
): Int8Array {
  const n = observations.length
  return Int8Array.from(observations, (o, p) => {
    const { a, b, ohm } = o
    if (!isBetweenParts(o) || metal.islands.of[a] !== metal.islands.of[b]) return 0
    if (ohm === null) return 1
    const sd = Math.sqrt(covariance[p * n + p] + model.covariance[p * n + p])
    return ohm - model.networkOhm[p] - addedMeanOhm[p] > highFrom * sd ? 1 : -1
  })
}

function edgesOnTheWay({ defectRate, isMetal }: Network, rows: readonly PairRow[], of: Int8Array): number[] {
  const edges = new Set<number>()
  rows.forEach(({ edge, squared }, p) => {
    if (of[p] !== 1) return
    for (let k = 0; k < edge.length && edges.size < mostEdges; k++) {
      const e = edge[k]
      if (squared[k] >= leastShare && isMetal[e] === 1 && defectRate[e] > 0) edges.add(e)
    }
  })
  return [...edges].sort((a, b) => a - b)
}

/** The metal with all but some joints contracted, and the labels of their cuts. */
interface Rings {
  readonly labels: CutLabels
  /** Node of the contracted graph. */
  pieceOf(node: number): number
  /** Joints by ring, as edges of the contracted graph. */
  readonly rings: readonly (readonly number[])[]
  readonly edges: readonly number[]
}

function* ringsOf(network: Network, edges: readonly number[]): Generator<number, Rings> {
  const { graph, adjacency, isMetal } = network
  const edgeIn = Uint8Array.from(isMetal)
  for (const e of edges) edgeIn[e] = 0
  const islands = yield* islandsInPortions(graph, adjacency, edgeIn)
  const place = new Map<number, number>()
  const pieceOf = (node: number): number => {
    const island = islands.of[node]
    const known = place.get(island) ?? place.size
    place.set(island, known)
    return known
  }
  const between = edges.filter((e) => pieceOf(graph.from[e]) !== pieceOf(graph.to[e]))
  const small: Graph = {
    nodeCount: place.size,
    from: Int32Array.from(between, (e) => pieceOf(graph.from[e])),
    to: Int32Array.from(between, (e) => pieceOf(graph.to[e])),
  }
  const labels = cutLabels(small, adjacencyOf(small), randomStream(labelSeed))
  const byLabel = new Map<string, number[]>()
  between.forEach((_, k) => {
    if ((labels.high[k] | labels.low[k]) === 0) return
    const key = `${labels.high[k]} ${labels.low[k]}`
    const ring = byLabel.get(key)
    if (ring) ring.push(k)
    else byLabel.set(key, [k])
  })
  return { labels, pieceOf, rings: [...byLabel.values()], edges: between }
}

/**
 * Pairs of joints that hardly move any reading one by one, each leaving a way round, and part high readings together:
 * by the cycle-space labels of the metal, in which two edges cut it together just if their labels are the same. Best
 * first by the number of high readings that they part, less those that are not high and would be. Nothing where fewer
 * than two readings are high. O(nodes + joints) and O(pairs × readings).
 */
export function* partingPairs(
  prepared: PreparedNetwork,
  cache: LocateCache,
  measurement: Measurement,
  model: LevelModel,
): Generator<number, readonly PartingPair[]> {
  const { network } = prepared
  const { observations } = measurement
  const of = standing(network, measurement, model)
  if (of.filter((x) => x === 1).length < leastHigh) return []
  const book = yield* portion(bookAt(cache, prepared, 0), 0, 0)
  const rows = yield* portion(rowsOfPairs(book, observations), 0, 0)
  const edges = edgesOnTheWay(network, rows, of)
  const { labels, pieceOf, rings, edges: between } = yield* portion(ringsOf(network, edges), 0, 0.5)
  const ends = observations.map(({ a, b }, p) => (of[p] === 0 ? null : [pieceOf(a), pieceOf(b)]))
  const isPlaced = (piece: number) => piece < labels.position.length
  const found: { readonly pair: PartingPair; readonly score: number }[] = []
  for (const [r, ring] of rings.entries()) {
    for (let i = 0; i < Math.min(ring.length, mostOfRing); i++) {
      for (let j = i + 1; j < Math.min(ring.length, mostOfRing); j++) {
        const members = [ring[i], ring[j]]
        const cuts = cutsWithin(labels, members)
        let score = 0
        ends.forEach((pair, p) => {
          if (!pair || !isPlaced(pair[0]) || !isPlaced(pair[1])) return
          const [a, b] = pair
          if (sideOfCut(labels, members, cuts, 0, a) !== sideOfCut(labels, members, cuts, 0, b))
            score += of[p]
        })
        if (score >= leastHigh) found.push({ pair: [between[ring[i]], between[ring[j]]], score })
      }
      yield 0.5 + (0.5 * r) / rings.length
    }
  }
  found.sort((x, y) => y.score - x.score || x.pair[0] - y.pair[0] || x.pair[1] - y.pair[1])
  return found.slice(0, mostPairs).map(({ pair }) => pair)
}
