import type { PreparedNetwork } from '../network/prepare.ts'
import { assumptions } from '../reading/assumptions.ts'
import { leftLoopS } from '../reading/clampedLoop.ts'
import type { Candidates, LevelModel } from './levelModel.ts'
import { bookAt, type LocateCache } from './locateCache.ts'
import type { Observation } from './observations.ts'
import { covarianceOf, rowsOfPairs, type PairRow } from './pairBook.ts'

/**
 * A wide normal distribution of the soil level as five narrower ones, 0.8 apart in ln and 0.4 wide each:
 * within one, what a reading owes to soil is taken as linear; between them the network is solved anew.
 */
export const soilCellLnSd = 0.4
const soilCellStep = 0.8

export function soilLevels(hasEarthPaths: boolean): readonly { lnSoil: number; logWeight: number }[] {
  if (!hasEarthPaths) return [{ lnSoil: 0, logWeight: 0 }]
  const centreVariance = assumptions.soilLevelLnSd ** 2 - soilCellLnSd ** 2
  const centres = [-2, -1, 0, 1, 2].map((k) => k * soilCellStep)
  const weights = centres.map((x) => Math.exp((-0.5 * x * x) / centreVariance))
  const total = weights.reduce((sum, w) => sum + w, 0)
  return centres.map((lnSoil, k) => ({ lnSoil, logWeight: Math.log(weights[k] / total) }))
}

/**
 * Chooses the candidates, ascending: joints that can go bad and whose opening would move some readings by at least
 * `leastShift` of their own standard deviation (`sdOhm`, per reading, without what readings share), and those that are
 * named `besides`. O(entries).
 */
function chooseCandidates(
  { network, loopS }: PreparedNetwork,
  rows: readonly PairRow[],
  sdOhm: Float64Array,
  leastShift: number,
  besides: readonly number[],
): Int32Array {
  const moved = new Float64Array(loopS.length)
  const touched: number[] = []
  rows.forEach(({ edge, squared, ofLoopS }, p) => {
    for (let k = 0; k < edge.length; k++) {
      const e = edge[k]
      if (moved[e] === 0) touched.push(e)
      // opening moves a loop reading by v over what is left of c, which here stands for all readings
      const more = ofLoopS === 0 ? 1 : loopS[e] / leftLoopS(loopS[e], squared[k], ofLoopS)
      moved[e] += ((squared[k] / sdOhm[p]) * more) ** 2
    }
  })
  const isChosen = (e: number) => network.defectRate[e] > 0 && Math.sqrt(moved[e]) >= leastShift * loopS[e]
  return Int32Array.from(new Set([...touched.filter(isChosen), ...besides])).sort()
}

function writeShares(
  { edge, squared: share }: PairRow,
  p: number,
  n: number,
  place: Int32Array,
  squared: Float64Array,
): void {
  for (let k = 0; k < edge.length; k++) {
    const candidate = place[edge[k]] - 1
    if (candidate >= 0) squared[candidate * n + p] = share[k]
  }
}

/** What the rows of the readings' pairs say, as arrays over readings and candidates. `place`: candidate by edge, from 1. */
function modelOf(
  loopS: Float64Array,
  rows: readonly PairRow[],
  candidates: Int32Array,
  place: Int32Array,
): Omit<LevelModel, 'lnSoil' | 'logWeight'> {
  const n = rows.length
  const covariance = new Float64Array(n * n)
  const squared = new Float64Array(candidates.length * n)
  const kinds = rows[0]?.byKind.length ?? 0
  const byKind = new Float64Array(n * kinds)
  rows.forEach((row, p) => {
    byKind.set(row.byKind, p * kinds)
    for (let q = 0; q <= p; q++) {
      const shared = covarianceOf(row, rows[q])
      covariance[p * n + q] = shared
      covariance[q * n + p] = shared
    }
    writeShares(row, p, n, place, squared)
  })
  return {
    networkOhm: Float64Array.from(rows, ({ meanOhm }) => meanOhm),
    covariance,
    byKind,
    squared,
    loopS: Float64Array.from(candidates, (e) => loopS[e]),
    loopOfReadingS: rows.some(({ ofLoopS }) => ofLoopS > 0)
      ? Float64Array.from(rows, ({ ofLoopS }) => ofLoopS)
      : undefined,
  }
}

/**
 * The model at every soil level. Candidates are chosen at the stated soil resistivity and kept for all
 * levels. One solve per distinct pair that is not in the cache yet for each level, and the entries of its row
 * against those of every other.
 */
export function* modelLevels(
  prepared: PreparedNetwork,
  observations: readonly Observation[],
  sdOhm: Float64Array,
  leastShift: number,
  cache: LocateCache,
  besides: readonly number[] = [],
): Generator<number, { levels: readonly LevelModel[]; candidates: Candidates }> {
  const { network } = prepared
  const plan = soilLevels(network.isEarthPath.includes(1))
  const rowsAt = function* (lnSoil: number) {
    const book = yield* bookAt(cache, prepared, lnSoil)
    return { loopS: book.loopS, rows: yield* rowsOfPairs(book, observations) }
  }
  const centre = yield* rowsAt(0)
  const edge = chooseCandidates(prepared, centre.rows, sdOhm, leastShift, besides)
  const place = new Int32Array(network.graph.from.length)
  edge.forEach((e, k) => (place[e] = k + 1))
  const levels: LevelModel[] = []
  for (const { lnSoil, logWeight } of plan) {
    const { loopS, rows } = lnSoil === 0 ? centre : yield* rowsAt(lnSoil)
    levels.push({ lnSoil, logWeight, ...modelOf(loopS, rows, edge, place) })
  }
  return { levels, candidates: { edge } }
}
