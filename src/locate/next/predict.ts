import { portion } from '../../base/portion.ts'
import { assumptions } from '../../reading/assumptions.ts'
import { gainSd } from '../../reading/kitError.ts'
import { evidenceWorkspace } from '../evidence.ts'
import type { LevelModel } from '../levelModel.ts'
import { bookAt, type LocateCache } from '../locateCache.ts'
import { covarianceOf, rowsOfPairs, type PairBook, type PairRow } from '../pairBook.ts'
import { lastRunOf } from '../overRange.ts'
import type { Posterior } from '../posterior.ts'
import { openSetNetwork } from '../sets/openSetNetwork.ts'
import type { SetNetwork } from '../sets/setNetwork.ts'
import { setShift } from '../sets/setShift.ts'
import { conditionOn, given, withState, type Conditioned, type Prior } from './conditioned.ts'
import type { Hypotheses } from './hypotheses.ts'
import type { SetUp } from './lastSetUp.ts'
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
  const { prepared, measurement, models, inputs } = posterior
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
  const work = evidenceWorkspace(inputs.levels[0].finite.length)
  const lastRun = lastRunOf(measurement.overRuns, measurement.observations, setUp.interval)
  const conditioned: Conditioned[] = []
  for (const hypothesis of hypotheses.all) {
    conditioned.push(conditionOn(posterior, hypothesis, lastRun, work))
    yield conditioned.length / hypotheses.all.length
  }
  return { posterior, hypotheses, setUp, conditioned, levels }
}

/** Covariance of offset and drift between the next reading and each finite one; 0 where they share no nulling. */
function leadCovariance({ posterior, setUp }: Foresight): Float64Array {
  const { measurement, inputs } = posterior
  const { observations, intervals } = measurement
  return Float64Array.from(inputs.levels[0].finite, (p) => {
    const o = observations[p]
    if (setUp.interval < 0 || o.interval !== setUp.interval) return 0
    const { offsetSdOhm, driftSdOhmPerHour } = intervals[o.interval]
    return offsetSdOhm ** 2 + driftSdOhmPerHour ** 2 * setUp.hours * o.hoursAfterNulling
  })
}

/** A pair's row at one soil level, with its covariance with the finite readings before any hypothesis. */
interface PairAt {
  readonly row: PairRow
  readonly covariance: Float64Array
}

/** How a hypothesis moves one pair: rise, and the uncertainty it brings, column by column as over the readings. */
interface PairShift {
  readonly riseOhm: number
  readonly columns: readonly number[]
}

/** The pair under one hypothesis before the readings are taken into account; null where no path is left. */
function priorOf(
  { posterior, setUp }: Foresight,
  { row, covariance }: PairAt,
  known: Conditioned,
  shift: PairShift,
): Prior | null {
  const { finite } = posterior.inputs.levels[known.hypothesis.level]
  const network = row.meanOhm + shift.riseOhm
  if (network === Infinity) return null
  const gain = gainSd(setUp.kit) * network
  const gainOfOthers = known.gainOhm[setUp.kitNumber]
  const withReadings = Float64Array.from(finite, (p, i) => covariance[i] + gain * gainOfOthers[p])
  let variance = row.covariance[row.number] + setUp.ownSdOhm ** 2 + setUp.leadVarianceOhm2 + gain ** 2
  shift.columns.forEach((ohm, c) => {
    variance += ohm ** 2
    finite.forEach((p, i) => (withReadings[i] += ohm * known.columns[c][p]))
  })
  return { meanOhm: network + setUp.addedOhm, varianceOhm2: variance, covariance: withReadings }
}

/** Below this share of contact and digits no spread is believed: they are renewed with every reading. */
const leastOwnShare = 0.9

function predictive(
  foresight: Foresight,
  prior: Prior | null,
  known: Conditioned,
  weight: number,
): readonly Predictive[] {
  if (!prior) return [over(known, weight)]
  return withLead(known, { weight, ...given(known, prior, leastOwnShare * foresight.setUp.ownSdOhm) })
}

/** Over range for certain. */
function over({ hypothesis: { classOf } }: Conditioned, weight: number): Predictive {
  return { classOf, weight, meanOhm: Infinity, sdOhm: 0 }
}

/** What would be read with the lead whole, and over range where it is broken by now. */
function withLead(
  known: Conditioned,
  { weight, ...shown }: Omit<Predictive, 'classOf'>,
): readonly Predictive[] {
  const { brokenNow, hypothesis } = known
  const whole = { classOf: hypothesis.classOf, weight: weight * (1 - brokenNow), ...shown }
  return brokenNow > 1e-6 ? [whole, over(known, weight * brokenNow)] : [whole]
}

/** Pairs that may be read, among the joints that hypotheses have bad. */
export interface NewPairs {
  readonly network: SetNetwork
  /** Per soil level: rows of the pairs; null where no hypothesis is at it. */
  readonly rows: readonly (readonly PairRow[] | null)[]
  /** Per soil level: what the kernel of sets asks of a model. */
  readonly models: readonly LevelModel[]
}

/** Solves pairs that were not read yet, in the network of all candidates. */
export function* openNewPairs(
  { posterior, levels }: Foresight,
  cache: LocateCache,
  pairs: readonly { readonly a: number; readonly b: number }[],
): Generator<number, NewPairs> {
  const { prepared, models, candidates } = posterior
  const network = yield* portion(openSetNetwork(prepared, cache, models, candidates, pairs), 0, 0.3)
  const rows: (readonly PairRow[] | null)[] = []
  for (const [at, level] of levels.entries()) {
    rows.push(
      level &&
        (yield* portion(
          rowsOfPairs(level.book, pairs),
          0.3 + (0.7 * at) / levels.length,
          0.7 / levels.length,
        )),
    )
  }
  const n = pairs.length
  const none = new Float64Array(n)
  return {
    network,
    rows,
    models: models.map(({ lnSoil, logWeight, loopS }, at) => {
      const known = rows[at] ?? rows.find((one) => one !== null) ?? []
      return {
        ...models[at],
        lnSoil,
        logWeight,
        loopS,
        networkOhm: n === 0 ? none : Float64Array.from(known, ({ meanOhm }) => meanOhm),
        covariance: none,
        squared: squaredOf(known, candidates.edge),
        loopOfReadingS: undefined,
      }
    }),
  }
}

/** Squared shares of pairs by candidate, as a model has them. */
function squaredOf(rows: readonly PairRow[], candidates: Int32Array): Float64Array {
  const n = rows.length
  const place = new Map(Array.from(candidates, (edge, k) => [edge, k]))
  const squared = new Float64Array(candidates.length * n)
  rows.forEach(({ edge, squared: share }, p) => {
    for (let k = 0; k < edge.length; k++) {
      const candidate = place.get(edge[k])
      if (candidate !== undefined) squared[candidate * n + p] = share[k]
    }
  })
  return squared
}

/** What pairs that were not read yet would read under each hypothesis; null for a pair that nothing joins. */
export function* predictPairs(
  foresight: Foresight,
  { network, rows, models }: NewPairs,
): Generator<number, readonly (readonly Predictive[] | null)[]> {
  const { conditioned, posterior, levels } = foresight
  const { finite } = posterior.inputs.levels[0]
  const lead = leadCovariance(foresight)
  const count = network.pairs.length
  const predicted: Predictive[][] = Array.from({ length: count }, () => [])
  const counted = new Int32Array(count)
  const covariances = rows.map((known, at) =>
    (known ?? []).map((row) =>
      lead.map((x, i) => x + covarianceOf(row, levels[at]?.taken[finite[i]] ?? row)),
    ),
  )
  for (const [h, known] of conditioned.entries()) {
    const { level, bad } = known.hypothesis
    const shift = setShift(network, models, level, bad)
    for (let p = 0; p < count; p++) {
      const row = rows[level]?.[p]
      if (!row || row.meanOhm === Infinity) continue
      const pair = { row, covariance: covariances[level][p] }
      const own = { riseOhm: shift.riseOhm[p], columns: shift.columns.map((column) => column[p]) }
      const prior = priorOf(foresight, pair, known, own)
      predicted[p].push(...predictive(foresight, prior, known, known.hypothesis.weight))
      counted[p]++
    }
    yield (h + 1) / conditioned.length
  }
  return predicted.map((list, p) => (counted[p] === conditioned.length ? list : null))
}

/**
 * What reading p would read with its clips seated afresh, under each hypothesis: what lies between its ends and the
 * instrument's gain stay, contact and digits are new. Each hypothesis comes twice, with p spoiled and with p as it
 * stands.
 */
export function predictRepeat(foresight: Foresight, p: number): readonly Predictive[] {
  const lead = leadCovariance(foresight)
  const { finite } = foresight.posterior.inputs.levels[0]
  const place = finite.indexOf(p)
  const at = foresight.levels.map((level): PairAt | null => {
    if (!level) return null
    const row = level.taken[p]
    return { row, covariance: lead.map((x, i) => x + covarianceOf(row, level.taken[finite[i]])) }
  })
  return foresight.conditioned.flatMap((known) => {
    const pair = at[known.hypothesis.level]
    const own = { riseOhm: known.riseOhm[p], columns: known.columns.map((column) => column[p]) }
    const prior = pair && priorOf(foresight, pair, known, own)
    const spoiled = known.spoiledProbability[p]
    const { weight } = known.hypothesis
    if (place < 0 || !prior) return predictive(foresight, prior, known, weight)
    return [
      { share: spoiled, isSpoiled: true },
      { share: 1 - spoiled, isSpoiled: false },
    ]
      .filter(({ share }) => share > 1e-6)
      .flatMap(({ share, isSpoiled }) =>
        predictive(foresight, prior, withState(known, place, isSpoiled), weight * share),
      )
  })
}

/** What the leads shorted at their far end would read: offset and drift, nothing else; over range with a broken lead. */
export function predictShortLeads(foresight: Foresight): readonly Predictive[] {
  const { setUp, conditioned } = foresight
  const covariance = leadCovariance(foresight)
  const prior: Prior = {
    meanOhm: setUp.offsetOhm,
    varianceOhm2: setUp.leadVarianceOhm2 + setUp.digitsSdOhm ** 2,
    covariance,
  }
  return conditioned.flatMap((known) =>
    withLead(known, {
      weight: known.hypothesis.weight,
      ...given(known, prior, leastOwnShare * setUp.digitsSdOhm),
    }),
  )
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
