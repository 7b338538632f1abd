import { gainOfSeverity, type PlanSeverity } from '../model/planning.ts'
import { criterionFor } from '../model/queries/criterionFor.ts'
import type { Drawing } from '../model/schema/drawing.ts'
import type { PartKind } from '../model/schema/planning.ts'
import { partAddressAt } from '../layout/partIndex.ts'
import { partKindNames } from '../layout/partKinds.ts'
import type { PreparedNetwork } from '../network/prepare.ts'
import { riseOhm } from '../network/jointSweep.ts'
import { assumptions } from '../reading/assumptions.ts'
import { levelsFor } from '../reading/criterionLevels.ts'
import { followPair, type PairReach, type PairSource } from '../reading/pairReach.ts'
import type { ReadingTerms } from './readingTerms.ts'

/**
 * A reading stands out from what it is expected to read when it is higher by so many standard deviations of a single one:
 * against a limit half way, a sound pair is called high in 2 of 100 readings, and one with the bad joint missed as often.
 */
export const standsOutSds = 4

/** A joint is felt by a reading, though not shown, from this share of the rise that shows it. */
const feltShare = 0.25

/** Shares of the current that move a reading by less than this part of its own spread are not followed. */
const followedShare = 0.02

/** What pairs are held against: one network, one kit, one severity. */
export interface Sighting {
  readonly prepared: PreparedNetwork
  readonly source: PairSource
  readonly terms: ReadingTerms
  readonly severity: PlanSeverity
}

/** What a pair would read, and the joints whose going bad it feels. Edges by their number in the network, ascending. */
export interface PairView {
  readonly a: number
  readonly b: number
  /** With all joints sound, contact included: mean and standard deviation; Infinity where nothing joins the two. */
  readonly expectedOhm: number
  readonly sdOhm: number
  /** The lower level of the criterion, null where none applies. */
  readonly levelOhm: number | null
  /** The rise from which the reading stands above its criterion; Infinity where none tells sound from bad. */
  readonly criterionRiseOhm: number
  /** The rise from which it shows at all: above the criterion, or standing out from what is expected. */
  readonly leastRiseOhm: number
  /** Joints that can go bad and whose rise is a quarter of that or more. */
  readonly edge: Int32Array
  /** Their share of the pair's current squared, and the rise when they go bad as the severity says. */
  readonly squared: Float64Array
  readonly riseOhm: Float64Array
}

/** Ohms that a joint gains when it goes bad. */
export function addedOhmOf({ prepared, severity }: Sighting, edge: number): number {
  return gainOfSeverity[severity] * prepared.network.medianOhm[edge]
}

/**
 * What one pair shows. For joint e with share i of the pair's ampere (network/jointSweep.ts)
 *
 *   rise = i² / (1/ρ + c)         ρ the ohms it gains, c = g (1 − h); Infinity where it leaves no path at all
 *
 * is held against the criterion (expected + rise above the level, while a sound reading hardly ever is) and against the
 * spread of a single reading that is not spoiled:
 *
 *   variance = instrument² + contact² + lead² + (gain · R)² + Σ i⁴ Var s + (soil level · ohms in soil)²
 *
 * The level of a joint kind is not in it: what all joints of a kind share, the readings of a plan tell by themselves, as
 * every pair has peers. Soil is: few pairs cross it, each in its own place. A pair that no metal joins shows nothing,
 * whatever it reads. O(what the pair's current reaches).
 */
export function* viewOfPair(sighting: Sighting, a: number, b: number): Generator<number, PairView> {
  const { prepared, source, terms } = sighting
  const { network } = prepared
  const follow = followPair(source, { a, b }, followedShare * terms.floorSdOhm)
  const reach = yield* follow
  const expectedOhm = reach.meanOhm + terms.addedOhm
  const variance = scatterOf(sighting, reach)
  const gain = Number.isFinite(expectedOhm) ? terms.gainSd * expectedOhm : 0
  const sdOhm = Math.hypot(terms.floorSdOhm, gain, Math.sqrt(variance))
  const levelOhm = lowerLevelOf(prepared, a, b)
  const { of } = network.metal.islands
  if (of[a] !== of[b]) return { ...nothingShown(a, b), expectedOhm, sdOhm, levelOhm }
  const rises = risesThatShow(levelOhm, expectedOhm, sdOhm)
  const pair = { a, b, expectedOhm, sdOhm, levelOhm, ...rises }
  return { ...pair, ...feltBy(sighting, reach, feltShare * rises.leastRiseOhm) }
}

/** From which rise a reading stands above its criterion, and from which it shows at all. */
export function risesThatShow(
  levelOhm: number | null,
  expectedOhm: number,
  sdOhm: number,
): Pick<PairView, 'criterionRiseOhm' | 'leastRiseOhm'> {
  const criterionRiseOhm = criterionRise(levelOhm, expectedOhm, sdOhm)
  return { criterionRiseOhm, leastRiseOhm: Math.min(criterionRiseOhm, standsOutSds * sdOhm) }
}

function nothingShown(a: number, b: number) {
  const none = { edge: new Int32Array(0), squared: new Float64Array(0), riseOhm: new Float64Array(0) }
  return { a, b, criterionRiseOhm: Infinity, leastRiseOhm: Infinity, ...none }
}

/** Σ i⁴ Var s, and what the level of soil adds where the current crosses it, in ohm². */
function scatterOf({ prepared }: Sighting, { edge, squared, varianceOhm2 }: PairReach): number {
  const { isEarthPath } = prepared.network
  let variance = 0
  let soilOhm = 0
  for (let k = 0; k < edge.length; k++) {
    variance += squared[k] * squared[k] * varianceOhm2[k]
    if (isEarthPath[edge[k]] === 1) soilOhm += squared[k] / prepared.conductanceS[edge[k]]
  }
  return variance + (assumptions.soilLevelLnSd * soilOhm) ** 2
}

/** The level from which a reading of the pair is looked into, conductors added; null where no criterion applies. */
export function lowerLevelOf(prepared: PreparedNetwork, a: number, b: number): number | null {
  const { index } = prepared.network
  const criterion = criterionFor(index.drawing, partAddressAt(index, a), partAddressAt(index, b))
  const { investigateOhm, rejectOhm } = levelsFor(prepared, criterion, a, b)
  const level = Math.min(investigateOhm ?? Infinity, rejectOhm ?? Infinity)
  return level === Infinity ? null : level
}

/** Infinity without a level, and where sound readings reach it: then it tells nothing. */
function criterionRise(levelOhm: number | null, expectedOhm: number, sdOhm: number): number {
  if (levelOhm === null || expectedOhm + (standsOutSds / 2) * sdOhm > levelOhm) return Infinity
  return levelOhm - expectedOhm
}

function feltBy(
  sighting: Sighting,
  { edge, squared }: PairReach,
  leastOhm: number,
): Pick<PairView, 'edge' | 'squared' | 'riseOhm'> {
  const { network, loopS } = sighting.prepared
  const felt = new Int32Array(edge.length)
  const rise = new Float64Array(edge.length)
  let count = 0
  for (let k = 0; k < edge.length; k++) {
    const e = edge[k]
    if (!canGoBad(network, e)) continue
    rise[count] = riseOhm(squared[k], loopS[e], addedOhmOf(sighting, e))
    if (rise[count] >= leastOhm) felt[count++] = k
  }
  return {
    edge: Int32Array.from({ length: count }, (_, k) => edge[felt[k]]),
    squared: Float64Array.from({ length: count }, (_, k) => squared[felt[k]]),
    riseOhm: rise.slice(0, count),
  }
}

/** Whether the catalogue gives a joint a chance of going bad; soil between earth paths is no joint. */
export function canGoBad({ defectRate, edgeCount }: PreparedNetwork['network'], edge: number): boolean {
  return edge < edgeCount && defectRate[edge] > 0
}

/** Kinds of parts that a clip reaches, by their code (layout/partKinds.ts). */
export function accessOf(drawing: Drawing): Uint8Array {
  const access = new Uint8Array(partKindNames.length)
  for (const { part, reachable } of drawing.access) {
    if (reachable) access[partKindNames.indexOf(part satisfies PartKind)] = 1
  }
  return access
}
