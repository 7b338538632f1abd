import { portion } from '../base/portion.ts'
import { writePartAddress } from '../model/address.ts'
import { sights, type CoverageAnswer, type PairSight, type PlanKit, type Sight } from '../model/planning.ts'
import { partAddressAt } from '../layout/partIndex.ts'
import type { Network } from '../network/compile.ts'
import { straightM } from '../walk/reach.ts'
import { describeHidden, whys, type HiddenTerms } from './hidden.ts'
import { alikeGroups, describeAlikes } from './lookAlikes.ts'
import { isAccessible, isInReach, type PartPair } from './ownPairs.ts'
import { reasonsOf, type Reasons } from './reasons.ts'
import { viewsOfLike } from './likeViews.ts'
import { canGoBad, type PairView } from './sighting.ts'

export type Coverage = Omit<CoverageAnswer, 'basis'>

/** What coverage is asked of: pairs of parts, and what they are read with. */
export interface CoverageTerms extends HiddenTerms {
  readonly with: PlanKit
  /** Worked out for the first question and kept. */
  readonly kept: { reasons: Reasons | null }
}

/** By edge: which pairs show a joint. */
interface Shown {
  /** How many different pairs, at most 255. */
  readonly by: Uint8Array
  /** 1 where one of them would stand above its criterion. */
  readonly byCriterion: Uint8Array
}

/**
 * What a set of pairs shows of every joint, and why not the rest. A pair that is listed twice counts once; one that
 * cannot be taken (too far apart, an end that no clip reaches) shows nothing.
 */
export function* coverageOf(terms: CoverageTerms, pairs: readonly PartPair[]): Generator<number, Coverage> {
  const { sighting } = terms.book
  const { network } = sighting.prepared
  const views = yield* portion(viewsOfLike(terms.book, pairs), 0, 0.5)
  const taken = distinct(views).filter((view) => isInReach(network, terms.reachable, view))
  const shown = shownBy(taken, network.edgeCount)
  const reasons = terms.kept.reasons ?? (yield* portion(reasonsOf(terms), 0.5, 0.4))
  terms.kept.reasons = reasons
  const hidden = yield* portion(describeHidden(terms, unseen(network, shown), reasons), 0.9, 0)
  const tally = tallyOf(network, shown, reasons)
  yield 0.9
  const alikes = describeAlikes(network, alikeGroups(taken, network.edgeCount))
  const counted = new Set(taken)
  return {
    notes: network.notes,
    with: terms.with,
    severity: sighting.severity,
    ...tally,
    ...alikes,
    hidden,
    pairs: views.map((view, k) => pairSight(terms, pairs[k], view, counted.has(view), shown)),
  }
}

function distinct(views: readonly PairView[]): readonly PairView[] {
  return [...new Set(views)]
}

function shownBy(views: readonly PairView[], edgeCount: number): Shown {
  const by = new Uint8Array(edgeCount)
  const byCriterion = new Uint8Array(edgeCount)
  for (const { edge, riseOhm, leastRiseOhm, criterionRiseOhm } of views) {
    const hasCriterion = criterionRiseOhm < Infinity
    for (let k = 0; k < edge.length; k++) {
      if (riseOhm[k] < leastRiseOhm) continue
      if (by[edge[k]] < 255) by[edge[k]]++
      if (hasCriterion && riseOhm[k] >= criterionRiseOhm) byCriterion[edge[k]] = 1
    }
  }
  return { by, byCriterion }
}

/** 1 by edge for joints that can go bad and that no pair shows. */
function unseen(network: Network, { by }: Shown): Uint8Array {
  return by.map((pairs, e) => (pairs === 0 && canGoBad(network, e) ? 1 : 0))
}

type Tally = Pick<
  CoverageAnswer,
  'joints' | 'expectedBad' | 'counts' | 'expectedBadUnseen' | 'twice' | 'sight' | 'shownBy'
>

function tallyOf(network: Network, { by, byCriterion }: Shown, why: Uint8Array): Tally {
  const { index, jointOfEdge, defectRate, edgeCount } = network
  const sight = new Uint8Array(index.jointCount).fill(sights.indexOf('cannotFail'))
  const shownBy = new Uint8Array(index.jointCount)
  const numbers = whys.map((each) => sights.indexOf(each))
  const perSight = new Int32Array(sights.length)
  let joints = 0
  let expectedBad = 0
  let expectedBadUnseen = 0
  let twice = 0
  for (let e = 0; e < edgeCount; e++) {
    if (!canGoBad(network, e)) continue
    const number = by[e] > 0 ? (byCriterion[e] === 1 ? 0 : 1) : numbers[why[e]]
    sight[jointOfEdge[e]] = number
    shownBy[jointOfEdge[e]] = by[e]
    perSight[number]++
    joints++
    expectedBad += defectRate[e]
    if (by[e] === 0) expectedBadUnseen += defectRate[e]
    if (by[e] > 1) twice++
  }
  const counts = Object.fromEntries(sights.map((name, k) => [name, perSight[k]]))
  delete counts.cannotFail
  return {
    joints,
    expectedBad,
    counts: counts as Record<Exclude<Sight, 'cannotFail'>, number>,
    expectedBadUnseen,
    twice,
    sight,
    shownBy,
  }
}

function pairSight(
  { book, reachable }: CoverageTerms,
  { a, b }: PartPair,
  view: PairView,
  isTaken: boolean,
  { by }: Shown,
): PairSight {
  const { network } = book.sighting.prepared
  const { index } = network
  const partText = (part: number) => writePartAddress(partAddressAt(index, part))
  const apartM = straightM(index, a, b)
  let shows = 0
  let alone = 0
  for (let k = 0; isTaken && k < view.edge.length; k++) {
    if (view.riseOhm[k] < view.leastRiseOhm) continue
    shows++
    if (by[view.edge[k]] === 1) alone++
  }
  return {
    from: partText(a),
    to: partText(b),
    expectedOhm: view.expectedOhm,
    sdOhm: view.sdOhm,
    levelOhm: view.levelOhm,
    shows,
    alone,
    tooFarM: apartM > reachable.reachM ? apartM : null,
    noAccess: [a, b].filter((part) => !isAccessible(network, reachable, part)).map(partText),
  }
}
