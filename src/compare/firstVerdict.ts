import { median, medianDeviation } from '../base/orderStatistics.ts'
import type { PathKind } from '../model/answers.ts'
import type { Drawing } from '../model/schema/drawing.ts'
import type { Criterion } from '../model/schema/planning.ts'
import type { EntryOf, Kit } from '../model/schema/record.ts'
import { assumptions } from '../reading/assumptions.ts'
import { digitsSdOhm } from '../reading/kitError.ts'
import { shownOhm } from '../reading/shownOhm.ts'

/** What is known of a pair or a loop before it is measured. */
export interface Expectation {
  readonly path: PathKind
  /** Mean and standard deviation of what is read on a sound array, instrument included; Infinity without a path. */
  readonly expectedOhm: number
  readonly spreadOhm: number
  /** The instrument's range ends below what is expected. */
  readonly beyondRange: boolean
  /** Levels of the criterion that applies; null where it has none, or none applies. */
  readonly investigateOhm: number | null
  readonly rejectOhm: number | null
  /** The lead is not nulled: its own ohms are in what is expected, and the levels know nothing of them. */
  readonly isLeadIn?: boolean
}

/** A reading of the visit that should be alike: how it stands to what was expected of it. */
export interface Peer {
  readonly readOhm: number
  readonly expectedOhm: number
}

/** What was read, as far as a verdict needs it. */
export type Values = Pick<EntryOf<'reading'>, 'result' | 'reverseOhm' | 'unsteady'>

/** What is said of a reading at once, before the whole record has been weighed with it. */
export type FirstVerdict =
  /** As the model predicts, and as its peers where there are enough of them. */
  | { readonly kind: 'inLine'; readonly peers: number }
  /** Above its criterion; or, where no criterion applies, above what the model explains (`levelOhm` is that bound). */
  | {
      readonly kind: 'investigate'
      readonly by: 'criterion' | 'model'
      readonly levelOhm: number
      readonly isReject: boolean
      /** A sound array reads as much. */
      readonly isExpected: boolean
    }
  /** Within its criterion, but above `limitOhm`, which readings like it do not exceed. */
  | { readonly kind: 'unlikePeers'; readonly by: 'peers' | 'model'; readonly limitOhm: number }
  /** Within `boundOhm` of nought, and so is what is expected: the instrument tells neither from nought. */
  | { readonly kind: 'belowResolution'; readonly boundOhm: number }
  | { readonly kind: 'noMetalPath'; readonly path: 'soilOnly' | 'none' }
  /** More likely a fault of the test than of the array. */
  | { readonly kind: 'unlikely'; readonly why: 'over' | 'tooLow' | 'farHigh' | 'leadIn' }
  /** An electrode test within or without a criterion for electrodes. */
  | {
      readonly kind: 'electrode'
      readonly verdict: 'within' | 'investigate' | 'reject'
      readonly levelOhm: number
    }
  /** An electrode test where no criterion for electrodes is drawn. */
  | { readonly kind: 'unjudged' }

/** So many standard deviations above the model: one sound reading in some 740 (one-sided normal). */
const spreads = 3
/** Fewer peers say nothing about what is usual among them. */
const fewestPeers = 5
/** Median absolute deviation to standard deviation of a normal. */
const madToSd = 1.4826
/** Sound joints differ by no less than this share, however alike a few peers read by chance. */
const leastPeerShare = 0.1

/**
 * One reading against what was known of it: the criterion first, then the model, one-sided, and the peers of the
 * visit. A high value is held against
 *
 *     expected + 3 · spread          and          r · expected + 3 · √(digits² + (s · expected)²)
 *
 * with r the median of read ÷ expected among at least five peers and s their spread by the median absolute deviation
 * (Hampel 1974). O(peers log peers).
 */
export function firstVerdict(
  expected: Expectation,
  kit: Kit,
  values: Values,
  peers: readonly Peer[],
): FirstVerdict {
  if (expected.path !== 'metal') return { kind: 'noMetalPath', path: expected.path }
  const { ohm } = shownOhm(values, kit)
  if (ohm === null)
    return expected.beyondRange ? { kind: 'inLine', peers: 0 } : { kind: 'unlikely', why: 'over' }
  const { expectedOhm, spreadOhm } = expected
  const highOhm = expectedOhm + spreads * spreadOhm
  if (ohm < expectedOhm - spreads * spreadOhm) return { kind: 'unlikely', why: 'tooLow' }
  if (ohm > highOhm && ohm >= assumptions.contact.poorHighFromOhm) return { kind: 'unlikely', why: 'farHigh' }
  const above = aboveCriterion(expected, values, ohm <= highOhm)
  if (above?.isExpected && expected.isLeadIn) return { kind: 'unlikely', why: 'leadIn' }
  if (above) return above
  const hasCriterion = expected.investigateOhm !== null || expected.rejectOhm !== null
  if (ohm > highOhm) {
    return hasCriterion
      ? { kind: 'unlikePeers', by: 'model', limitOhm: highOhm }
      : { kind: 'investigate', by: 'model', levelOhm: highOhm, isReject: false, isExpected: false }
  }
  const limitOhm = peerLimitOhm(expectedOhm, kit, peers)
  if (limitOhm !== null && ohm > limitOhm) return { kind: 'unlikePeers', by: 'peers', limitOhm }
  const boundOhm = resolvedFromOhm(kit)
  if (ohm < boundOhm && expectedOhm < boundOhm) return { kind: 'belowResolution', boundOhm }
  return { kind: 'inLine', peers: limitOhm === null ? 0 : peers.length }
}

/** A level is exceeded by more ohms than it has; the criterion is held against the value that was entered. */
function aboveCriterion(
  { rejectOhm, investigateOhm }: Expectation,
  { result }: Values,
  isExpected: boolean,
): Extract<FirstVerdict, { kind: 'investigate' }> | null {
  if (result.form === 'over') return null
  if (rejectOhm !== null && result.ohm > rejectOhm)
    return { kind: 'investigate', by: 'criterion', levelOhm: rejectOhm, isReject: true, isExpected }
  if (investigateOhm !== null && result.ohm > investigateOhm)
    return { kind: 'investigate', by: 'criterion', levelOhm: investigateOhm, isReject: false, isExpected }
  return null
}

/** Above this a reading is unlike its peers, in ohm; null where there are too few of them. */
function peerLimitOhm(expectedOhm: number, kit: Kit, peers: readonly Peer[]): number | null {
  if (peers.length < fewestPeers) return null
  const ratios = Float64Array.from(peers, ({ readOhm, expectedOhm: of }) => readOhm / of)
  const middle = median(ratios)
  const share = Math.max(leastPeerShare * middle, madToSd * medianDeviation(ratios, middle))
  return middle * expectedOhm + spreads * Math.hypot(digitsSdOhm(kit), share * expectedOhm)
}

/** Below this the display cannot be told from nought: its digits and half a step, in ohm. */
export function resolvedFromOhm({ digits, resolutionOhm }: Kit): number {
  return (digits + 0.5) * resolutionOhm
}

/** What is expected of a loop clamp round a joint: its spread is that of the levels of the joints on the loop. */
export function loopExpectation(loopOhm: number, isEarthPath: boolean, kit: Kit): Expectation {
  const lnSd = isEarthPath ? assumptions.soilLevelLnSd : assumptions.kindLevelLnSd
  const isLoop = Number.isFinite(loopOhm)
  return {
    path: isLoop ? 'metal' : 'none',
    expectedOhm: loopOhm,
    spreadOhm: isLoop ? Math.hypot(digitsSdOhm(kit), lnSd * loopOhm) : 0,
    beyondRange: loopOhm > kit.mostOhm,
    investigateOhm: null,
    rejectOhm: null,
  }
}

/** An electrode test against the strictest criterion for electrodes, and against nothing else. */
export function electrodeVerdict(
  { criteria }: Pick<Drawing, 'criteria'>,
  result: Values['result'],
): FirstVerdict {
  const levels = criteria.filter(({ quantity }) => quantity === 'electrodeToEarth')
  const least = (of: (criterion: Criterion) => number | null) =>
    levels.reduce((sum, criterion) => Math.min(sum, of(criterion) ?? Infinity), Infinity)
  const rejectOhm = least(({ rejectAboveOhm }) => rejectAboveOhm)
  const investigateOhm = least(({ investigateAboveOhm }) => investigateAboveOhm)
  const levelOhm = Math.min(rejectOhm, investigateOhm)
  if (levelOhm === Infinity) return { kind: 'unjudged' }
  const exceeds = (ohm: number) => ohm < Infinity && (result.form === 'over' || result.ohm > ohm)
  if (exceeds(rejectOhm)) return { kind: 'electrode', verdict: 'reject', levelOhm: rejectOhm }
  if (exceeds(investigateOhm)) return { kind: 'electrode', verdict: 'investigate', levelOhm: investigateOhm }
  return { kind: 'electrode', verdict: 'within', levelOhm }
}

/** Whether a reading is one that is checked before any joint is blamed. */
export function asksForChecks(verdict: FirstVerdict): boolean {
  return (
    verdict.kind === 'unlikePeers' ||
    (verdict.kind === 'investigate' && !verdict.isExpected) ||
    (verdict.kind === 'unlikely' && verdict.why !== 'tooLow' && verdict.why !== 'leadIn')
  )
}
