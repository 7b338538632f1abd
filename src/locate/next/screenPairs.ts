import { bridgeCurrent } from '../../network/currents.ts'
import { riseOhm } from '../../network/jointSweep.ts'
import { pairResistance } from '../../network/pairResistance.ts'
import type { PreparedNetwork } from '../../network/prepare.ts'
import { readingMin } from '../../walk/effort.ts'
import { straightM, wayM } from '../../walk/reach.ts'
import type { Hypotheses } from './hypotheses.ts'
import type { SetUp } from './lastSetUp.ts'

/** A pair that may be read next; `from` is where the instrument stands. */
export interface ScreenedPair {
  readonly from: number
  readonly to: number
  readonly minutes: number
  /** What it may say at most, roughly, in nats per minute. */
  readonly score: number
}

export interface Screening {
  readonly pairs: readonly ScreenedPair[]
  readonly considered: number
  /** The lead does not span them, or no metal joins them. */
  readonly leftOut: number
}

/** Joints that pairs are screened with, the heaviest; pairs that are compared with each other. */
const mostEdges = 60
const mostCompared = 120
/** Of the ohms of a pair of sound joints this share is taken for its spread. */
const roughSpread = 0.25
/** Two pairs say the same when no hypothesis that weighs anything moves them differently by more than this. */
const sameShift = 0.15
const leastWeight = 1e-3

/**
 * u_e(a) = ½ [R(a, to_e) − R(a, from_e)]: by reciprocity the current of joint e per ampere from a to b is
 * g_e [u_e(a) − u_e(b)]. Two pair resistances and no solve. 0 for a part on another island.
 */
function potentials(
  { network, solver }: PreparedNetwork,
  edge: number,
  parts: readonly number[],
): Float64Array {
  const { from, to } = network.graph
  return Float64Array.from(parts, (part) => {
    const far = pairResistance(solver.factor, part, to[edge])
    return far === Infinity ? 0 : (far - pairResistance(solver.factor, part, from[edge])) / 2
  })
}

/** Whichever end the instrument goes to, the one that takes less time. */
function cheapestOrder(
  { network: { index } }: PreparedNetwork,
  { reference, standing }: SetUp,
  a: number,
  b: number,
): Pick<ScreenedPair, 'from' | 'to' | 'minutes'> {
  const order = (from: number, to: number) => {
    const movesReference = from !== reference
    const way = wayM(index, movesReference ? [standing, from, to] : [standing, to])
    return { from, to, minutes: readingMin({ wayM: way, movesReference, changesLead: false }) }
  }
  const one = order(a, b)
  const other = order(b, a)
  return other.minutes < one.minutes ? other : one
}

/**
 * Goes through all pairs of parts that the lead spans and metal joins. What a pair may say is taken from how far each
 * class of hypotheses moves it, z = ln(1 + rise/σ) with σ roughly the spread of a reading,
 *
 *   ½ ln(1 + variance of the classes' mean z) / minutes
 *
 * `edgeOf`: joint of each candidate. Of pairs that all hypotheses move alike only the cheapest is kept. O(parts × joints) pair resistances and
 * O(parts² × hypotheses).
 */
export function* screenPairs(
  prepared: PreparedNetwork,
  edgeOf: Int32Array,
  { all, classes }: Hypotheses,
  setUp: SetUp,
  parts: readonly number[],
  wasRead: (a: number, b: number) => boolean,
  most: number,
): Generator<number, Screening> {
  const { network, conductanceS, loopS, solver } = prepared
  const { isBridge } = network.electrical.blocks
  const sections = network.metal.islands.of
  const edges = [...new Set(all.flatMap(({ edges }) => edges))].slice(0, mostEdges)
  const place = new Map(edges.map((edge, k) => [edge, k]))
  const volts: Float64Array[] = []
  for (const edge of edges) {
    volts.push(potentials(prepared, edge, parts))
    yield (0.5 * volts.length) / edges.length
  }
  const clearOhm = Math.hypot(setUp.ownSdOhm, Math.sqrt(setUp.leadVarianceOhm2) / 2)
  const shiftsOf = (i: number, j: number): Float64Array => {
    const spread = Math.hypot(clearOhm, roughSpread * pairResistance(solver.factor, parts[i], parts[j]))
    // several bad joints: their rises added up, which is rough where they are beside each other
    return Float64Array.from(all, ({ bad }) => {
      let rise = 0
      for (const { candidate, addedOhm } of bad) {
        const edge = edgeOf[candidate]
        const k = place.get(edge)
        if (k === undefined) continue
        const current = conductanceS[edge] * (volts[k][i] - volts[k][j])
        const squared = isBridge[edge] === 1 ? Math.abs(bridgeCurrent(current)) : current * current
        rise += riseOhm(squared, loopS[edge], addedOhm)
      }
      return Math.log1p(Math.min(rise, setUp.kit.mostOhm) / spread)
    })
  }
  const found: (ScreenedPair & { readonly shifts: Float64Array })[] = []
  let considered = 0
  let leftOut = 0
  for (let i = 0; i < parts.length; i++) {
    for (let j = i + 1; j < parts.length; j++) {
      const isJoined = sections[parts[i]] === sections[parts[j]]
      if (!isJoined || straightM(network.index, parts[i], parts[j]) > setUp.reachM) {
        leftOut++
        continue
      }
      if (wasRead(parts[i], parts[j])) continue
      considered++
      const shifts = shiftsOf(i, j)
      const order = cheapestOrder(prepared, setUp, parts[i], parts[j])
      const score = (0.5 * Math.log1p(varianceBetween(all, classes, shifts))) / order.minutes
      if (score > 0) found.push({ ...order, score, shifts })
    }
    yield 0.5 + (0.5 * (i + 1)) / parts.length
  }
  found.sort((x, y) => y.score - x.score || x.from - y.from || x.to - y.to)
  const kept: typeof found = []
  for (const pair of found.slice(0, mostCompared)) {
    if (kept.length === most) break
    if (!kept.some((other) => isAlike(all, pair.shifts, other.shifts))) kept.push(pair)
  }
  return { pairs: kept.map(({ shifts: _, ...pair }) => pair), considered, leftOut }
}

function varianceBetween(all: Hypotheses['all'], classes: number, shifts: Float64Array): number {
  const weights = new Float64Array(classes)
  const sums = new Float64Array(classes)
  let mean = 0
  all.forEach(({ classOf, weight }, h) => {
    weights[classOf] += weight
    sums[classOf] += weight * shifts[h]
    mean += weight * shifts[h]
  })
  let variance = 0
  for (let c = 0; c < classes; c++) {
    if (weights[c] > 0) variance += weights[c] * (sums[c] / weights[c] - mean) ** 2
  }
  return variance
}

function isAlike(all: Hypotheses['all'], one: Float64Array, other: Float64Array): boolean {
  return all.every(({ weight }, h) => weight < leastWeight || Math.abs(one[h] - other[h]) < sameShift)
}
