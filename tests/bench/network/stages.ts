import { assert } from '../../../src/base/assert.ts'
import { randomStream } from '../../../src/base/random.ts'
import { openSite } from '../../../src/files/openSite.ts'
import { partIndexOf } from '../../../src/layout/partIndex.ts'
import { indexSite, type SiteIndex } from '../../../src/layout/siteIndex.ts'
import { parsePartAddress } from '../../../src/model/address.ts'
import type { Site } from '../../../src/model/schema/site.ts'
import { analysePattern } from '../../../src/network/analyse.ts'
import { compileNetwork, type Network } from '../../../src/network/compile.ts'
import { edgeCurrents, settleBridgeCurrents } from '../../../src/network/currents.ts'
import { factorNumeric } from '../../../src/network/factor.ts'
import { fosterDefect } from '../../../src/network/foster.ts'
import { adjacencyOf } from '../../../src/network/graph.ts'
import {
  largestRiseOhm,
  loopConductanceS,
  rowsFromPotentials,
  sweepJoints,
  type RowFiller,
} from '../../../src/network/jointSweep.ts'
import { edgeResistance, leverageOf } from '../../../src/network/leverage.ts'
import { orderNodes } from '../../../src/network/order.ts'
import { pairResistance } from '../../../src/network/pairResistance.ts'
import { sharpenSlack } from '../../../src/network/pathBeside.ts'
import { pairPotentials } from '../../../src/network/solve.ts'
import type { Solver } from '../../../src/network/solver.ts'
import { toEnd } from './toEnd.ts'

/** From the bytes of a file to the effect of every joint on every reading, in the order of the work. */
export const stages = [
  'open',
  'compile',
  'order',
  'analyse',
  'factor',
  'leverage',
  'pair',
  'currents',
  'solves',
  'sweep',
] as const
export type Stage = (typeof stages)[number]

export type StageTimes = Readonly<Record<Stage, readonly number[]>>

/** Both in milliseconds. */
export interface Clock {
  readonly now: () => number
  /** What all threads of the process have computed so far; left out where that cannot be known. */
  readonly processor?: () => number
}

export interface WorkedThrough {
  readonly joints: number
  readonly edges: number
  readonly nodes: number
  /** Off-diagonal entries of the factor. */
  readonly entries: number
  readonly readings: number
  readonly fosterDefect: number
  /** Largest rise of any reading by any joint that can open: what the sweep was for. */
  readonly largestRiseOhm: number
  /** Seconds; of a pair and of its currents several values, of the other stages one. */
  readonly seconds: StageTimes
  /** The same for the time that the processors spent; all 0 without a clock for it. */
  readonly processorSeconds: StageTimes
}

const readingCount = 50
const pairBatches = 10
const pairsPerBatch = 100
const currentRepeats = 5

/**
 * Does all the work of the kernels on a site once, just as the program does it, and notes the time of each
 * stage; `after` is told when a stage is done, while its results are still held.
 */
export function workThrough(
  bytes: Uint8Array,
  { now, processor = () => 0 }: Clock,
  after: (stage: Stage) => void = () => undefined,
): WorkedThrough {
  const seconds = emptyTimes()
  const processorSeconds = emptyTimes()
  const timed = <T>(stage: Stage, work: () => T): T => {
    const spent = processor()
    const started = now()
    const result = work()
    seconds[stage].push((now() - started) / 1000)
    processorSeconds[stage].push((processor() - spent) / 1000)
    return result
  }

  const site = timed('open', () => openedSite(bytes))
  after('open')
  const network = timed('compile', () => compiled(site))
  after('compile')
  const { graph, references, electrical } = network
  const conductanceS = network.medianOhm.map((ohm) => 1 / ohm)
  const { adjacency, elimination } = timed('order', () => {
    const adjacency = adjacencyOf(graph)
    return { adjacency, elimination: toEnd(orderNodes(graph, adjacency, references)) }
  })
  after('order')
  const pattern = timed('analyse', () => toEnd(analysePattern(graph, adjacency, elimination)))
  after('analyse')
  const factor = timed('factor', () => toEnd(factorNumeric(pattern, graph, conductanceS)))
  after('factor')
  const { order } = elimination
  const solver: Solver = { graph, conductanceS, adjacency, order, pattern, factor }
  const { isBridge } = electrical.blocks
  const { leverage, loopS } = timed('leverage', () => {
    const rough = leverageOf(toEnd(edgeResistance(factor, graph)), conductanceS, isBridge)
    const { leverage, slack } = toEnd(sharpenSlack(solver, rough, isBridge))
    return { leverage, loopS: loopConductanceS(conductanceS, slack) }
  })
  after('leverage')

  const random = randomStream(7)
  const island = largestIslandNodes(network)
  const anyNode = () => island[Math.floor(random.uniform() * island.length)]
  const anyPair = () => [anyNode(), anyNode()] as const
  for (let batch = 0; batch < pairBatches; batch++) {
    const pairs = Array.from({ length: pairsPerBatch }, anyPair)
    timed('pair', () => pairs.forEach(([a, b]) => pairResistance(factor, a, b)))
  }
  for (const times of [seconds, processorSeconds]) times.pair = times.pair.map((s) => s / pairsPerBatch)
  after('pair')

  const read = readPairs(site, network)
  while (read.length < readingCount) read.push(anyPair())
  for (const [a, b] of read.slice(0, currentRepeats)) {
    timed('currents', () => {
      const potentialV = pairPotentials(factor, a, b, new Float64Array(graph.nodeCount))
      const currentA = edgeCurrents(graph, conductanceS, potentialV, new Float64Array(graph.from.length))
      settleBridgeCurrents(isBridge, currentA)
    })
  }
  after('currents')
  let largest = 0
  for (const [a, b] of read) {
    const potentialV = timed('solves', () => pairPotentials(factor, a, b, new Float64Array(graph.nodeCount)))
    const fill = rowsFromPotentials(graph, conductanceS, isBridge, [potentialV])
    largest = Math.max(
      largest,
      timed('sweep', () => largestRise(fill, loopS)),
    )
  }
  for (const times of [seconds, processorSeconds]) {
    times.solves = [sum(times.solves)]
    times.sweep = [sum(times.sweep)]
  }
  after('sweep')
  return {
    joints: network.index.jointCount,
    edges: network.edgeCount,
    nodes: graph.nodeCount,
    entries: pattern.row.length,
    readings: read.length,
    fosterDefect: fosterDefect(leverage, graph.nodeCount, electrical.islands.count),
    largestRiseOhm: largest,
    seconds,
    processorSeconds,
  }
}

const emptyTimes = () =>
  Object.fromEntries(stages.map((stage) => [stage, []])) as unknown as Record<Stage, number[]>

const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0)

/** The most that any joint can raise one reading by opening, where a path is left. */
function largestRise(fill: RowFiller, loopS: Float64Array): number {
  let largest = 0
  for (const { first, count, squared } of sweepJoints(fill, loopS.length, 1)) {
    for (let k = 0; k < count; k++) {
      const rise = largestRiseOhm(squared[k], loopS[first + k])
      if (rise > largest && rise < Infinity) largest = rise
    }
  }
  return largest
}

export function openedSite(bytes: Uint8Array): Site {
  const opened = openSite(bytes, 'site.json')
  assert(opened.ok, 'the site does not open')
  return opened.value
}

export function compiled({ drawing }: Site): Network {
  const index = indexSite(drawing)
  assert(index.ok, 'the drawing has problems')
  const network = toEnd(compileNetwork(drawing, index.value, { countIncidental: true, asBuilt: false }))
  assert(network.ok, 'the drawing does not compile')
  return network.value
}

/** The first pairs of the record's readings that a path joins, at most as many as are swept. */
function readPairs({ record }: Site, { index, electrical }: Network): (readonly [number, number])[] {
  const pairs: (readonly [number, number])[] = []
  const { of } = electrical.islands
  for (const entry of record) {
    if (entry.entry !== 'reading' || pairs.length === readingCount) continue
    const a = partNumber(index, entry.from.part)
    const b = partNumber(index, entry.to.part)
    if (a >= 0 && b >= 0 && a !== b && of[a] === of[b]) pairs.push([a, b])
  }
  return pairs
}

/** −1 for what is no part: an electrode test leads to the earth itself. */
function partNumber(index: SiteIndex, text: string): number {
  const address = parsePartAddress(text)
  return address ? partIndexOf(index, address) : -1
}

function largestIslandNodes({ electrical, graph }: Network): Int32Array {
  const { of, size } = electrical.islands
  let largest = 0
  size.forEach((count, island) => {
    if (count > size[largest]) largest = island
  })
  return Int32Array.from({ length: graph.nodeCount }, (_, v) => v).filter((v) => of[v] === largest)
}
