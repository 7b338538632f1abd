import { portion } from '../../base/portion.ts'
import { riseOhm } from '../../network/jointSweep.ts'
import { assumptions } from '../../reading/assumptions.ts'
import { gainSd } from '../../reading/kitError.ts'
import { evidenceWorkspace } from '../evidence.ts'
import { riseLnSd, soilColumn } from '../hypothesis.ts'
import { bookAt, type LocateCache } from '../locateCache.ts'
import { covarianceOf, rowsOfPairs, type PairBook, type PairRow } from '../pairBook.ts'
import { conditionOn, given, withState, type Conditioned, type Prior } from './conditioned.ts'
import type { Hypotheses } from './hypotheses.ts'
import type { SetUp } from './lastSetUp.ts'
import type { Posterior } from './posterior.ts'
import type { Predictive, Showing } from './shown.ts'

/** One soil level that some hypothesis is at: a book for further pairs, and the rows of the readings. */
interface LevelRows {
  readonly book: PairBook
  readonly taken: readonly PairRow[]
}

/** Everything that a further reading is predicted from. */
export interface Foresight {
  readonly posterior: Posterior
  readonly hypotheses: Hypotheses
  readonly setUp: SetUp
  readonly conditioned: readonly Conditioned[]
  /** By number of the soil level; null where no hypothesis is at it. */
  readonly levels: readonly (LevelRows | null)[]
}

/** Conditions every hypothesis on the readings. Further pairs go into copies of the books: none is kept. */
export function* foresight(
  posterior: Posterior,
  hypotheses: Hypotheses,
  setUp: SetUp,
  cache: LocateCache,
): Generator<number, Foresight> {
  const { prepared, measurement, models, ranking } = posterior
  const used = new Set(hypotheses.all.map(({ level }) => level))
  const levels: (LevelRows | null)[] = []
  for (const [at, { lnSoil }] of models.entries()) {
    if (!used.has(at)) {
      levels.push(null)
      continue
    }
    const book = yield* portion(bookAt(cache, prepared, lnSoil), 0, 0)
    const taken = yield* portion(rowsOfPairs(book, measurement.observations), 0, 0)
    levels.push({ book: { ...book, rows: new Map(book.rows), inOrder: [...book.inOrder] }, taken })
  }
  const work = evidenceWorkspace(ranking.levels[0].finite.length)
  const conditioned: Conditioned[] = []
  for (const hypothesis of hypotheses.all) {
    conditioned.push(conditionOn(posterior, hypothesis, work))
    yield conditioned.length / hypotheses.all.length
  }
  return { posterior, hypotheses, setUp, conditioned, levels }
}

/** Covariance of offset and drift between the next reading and each finite one; 0 where they share no nulling. */
function leadCovariance({ posterior, setUp }: Foresight): Float64Array {
  const { measurement, ranking } = posterior
  const { observations, intervals } = measurement
  return Float64Array.from(ranking.levels[0].finite, (p) => {
    const o = observations[p]
    if (setUp.interval < 0 || o.interval !== setUp.interval) return 0
    const { offsetSdOhm, driftSdOhmPerHour } = intervals[o.interval]
    return offsetSdOhm ** 2 + driftSdOhmPerHour ** 2 * setUp.hours * o.hoursAfterNulling
  })
}

function squaredShare({ edge, squared }: PairRow, of: number): number {
  let low = 0
  let high = edge.length - 1
  while (low <= high) {
    const middle = (low + high) >> 1
    if (edge[middle] === of) return squared[middle]
    if (edge[middle] < of) low = middle + 1
    else high = middle - 1
  }
  return 0
}

/** A pair's row at one soil level, with its covariance with the finite readings before any hypothesis. */
interface PairAt {
  readonly row: PairRow
  readonly covariance: Float64Array
}

/** The pair under one hypothesis before the readings are taken into account; null where no path is left. */
function priorOf(foresight: Foresight, { row, covariance }: PairAt, known: Conditioned): Prior | null {
  const { posterior, setUp } = foresight
  const { models, ranking } = posterior
  const { level, candidate, edge, addedOhm } = known.hypothesis
  const { finite } = ranking.levels[level]
  const share = candidate < 0 ? 0 : squaredShare(row, edge)
  const riseAt = (at: number) => riseOhm(share, models[at].loopS[candidate], addedOhm)
  const rise = share === 0 ? 0 : riseAt(level)
  const network = row.meanOhm + rise
  if (network === Infinity) return null
  const along = share === 0 ? 0 : rise * riseLnSd(models[level].loopS[candidate], addedOhm)
  // soil beside sound metal does not matter to a pair; what passes through soil for want of the joint does
  const [soil] =
    share === 0 ? [0] : soilColumn(models, level, (at) => Float64Array.of(riseAt(models.indexOf(at))), 1)
  const gain = gainSd(setUp.kit) * network
  const gainOfOthers = known.gainOhm[setUp.kitNumber]
  return {
    meanOhm: network + setUp.addedOhm,
    varianceOhm2:
      row.covariance[row.number] +
      setUp.ownSdOhm ** 2 +
      setUp.leadVarianceOhm2 +
      along ** 2 +
      soil ** 2 +
      gain ** 2,
    covariance: Float64Array.from(
      finite,
      (p, i) => covariance[i] + along * known.riseOhm[p] + soil * known.soilOhm[p] + gain * gainOfOthers[p],
    ),
  }
}

/** Below this share of contact and digits no spread is believed: they are renewed with every reading. */
const leastOwnShare = 0.9

function predictive(
  foresight: Foresight,
  prior: Prior | null,
  known: Conditioned,
  weight: number,
): Predictive {
  const { classOf } = known.hypothesis
  if (!prior) return { classOf, weight, meanOhm: Infinity, sdOhm: 0 }
  return { classOf, weight, ...given(known, prior, leastOwnShare * foresight.setUp.ownSdOhm) }
}

/** What a pair that was not read yet would read under each hypothesis; null where nothing joins the two. */
export function* predictPair(
  foresight: Foresight,
  a: number,
  b: number,
): Generator<number, readonly Predictive[] | null> {
  const lead = leadCovariance(foresight)
  const { finite } = foresight.posterior.ranking.levels[0]
  const at: (PairAt | null)[] = []
  for (const level of foresight.levels) {
    if (!level) {
      at.push(null)
      continue
    }
    const [row] = yield* rowsOfPairs(level.book, [{ a, b }])
    if (row.meanOhm === Infinity) return null
    at.push({ row, covariance: lead.map((x, i) => x + covarianceOf(row, level.taken[finite[i]])) })
  }
  return foresight.conditioned.map((known) => {
    const pair = at[known.hypothesis.level]
    const prior = pair && priorOf(foresight, pair, known)
    return predictive(foresight, prior, known, known.hypothesis.weight)
  })
}

/**
 * What reading p would read with its clips seated afresh, under each hypothesis: what lies between its ends and the
 * instrument's gain stay, contact and digits are new. Each hypothesis comes twice, with p spoiled and with p as it
 * stands.
 */
export function predictRepeat(foresight: Foresight, p: number): readonly Predictive[] {
  const lead = leadCovariance(foresight)
  const { finite } = foresight.posterior.ranking.levels[0]
  const place = finite.indexOf(p)
  const at = foresight.levels.map((level): PairAt | null => {
    if (!level) return null
    const row = level.taken[p]
    return { row, covariance: lead.map((x, i) => x + covarianceOf(row, level.taken[finite[i]])) }
  })
  return foresight.conditioned.flatMap((known) => {
    const pair = at[known.hypothesis.level]
    const prior = pair && priorOf(foresight, pair, known)
    const spoiled = known.spoiledProbability[p]
    const { weight } = known.hypothesis
    if (place < 0 || !prior) return [predictive(foresight, prior, known, weight)]
    return [
      { share: spoiled, isSpoiled: true },
      { share: 1 - spoiled, isSpoiled: false },
    ]
      .filter(({ share }) => share > 1e-6)
      .map(({ share, isSpoiled }) =>
        predictive(foresight, prior, withState(known, place, isSpoiled), weight * share),
      )
  })
}

/** What the leads shorted at their far end would read under each hypothesis: offset and drift, nothing else. */
export function predictShortLeads(foresight: Foresight): readonly Predictive[] {
  const { setUp, conditioned } = foresight
  const covariance = leadCovariance(foresight)
  const prior: Prior = {
    meanOhm: setUp.offsetOhm,
    varianceOhm2: setUp.leadVarianceOhm2 + setUp.digitsSdOhm ** 2,
    covariance,
  }
  return conditioned.map((known) => ({
    classOf: known.hypothesis.classOf,
    weight: known.hypothesis.weight,
    ...given(known, prior, leastOwnShare * setUp.digitsSdOhm),
  }))
}

/** How a reading taken with this set-up may be spoiled. */
export function showingOf({ addedOhm, ownSdOhm, leadVarianceOhm2, kit }: SetUp, poorRate: number): Showing {
  return {
    poorRate,
    falseLowRate: assumptions.falseLow,
    brokenLeadRate: assumptions.brokenLead,
    emptyOhm: addedOhm,
    emptySdOhm: Math.hypot(ownSdOhm, Math.sqrt(leadVarianceOhm2)),
    mostOhm: kit.mostOhm,
  }
}

/** The same of a check of the leads, which has no contact with anything. */
export function showingOfLeads(setUp: SetUp): Showing {
  return { ...showingOf(setUp, 0), falseLowRate: 0 }
}
