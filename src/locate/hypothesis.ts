import { riseOhm } from '../network/jointSweep.ts'
import { assumptions } from '../reading/assumptions.ts'
import { loopAtReadingS } from './clampedLoop.ts'
import type { Shift } from './evidence.ts'
import type { LevelModel } from './levelModel.ts'
import { soilCellLnSd } from './levels.ts'
import { severityCellLnSd } from './severities.ts'

/** Below this share of a reading's own uncertainty soil does not matter to it. */
const soilMatters = 0.05

/** Ohms of each pair at one soil level. */
type OhmAt = (level: LevelModel) => Float64Array

/** What a difference of ohms between two levels is worth within one; 0 where there is but one level. */
export function soilSlopePerOhm(lower: LevelModel, upper: LevelModel): number {
  return lower === upper ? 0 : soilCellLnSd / (upper.lnSoil - lower.lnSoil)
}

/** The soil level's share in the predictions, as a column of uncertainty: slopes between neighbouring levels. */
export function soilColumn(levels: readonly LevelModel[], at: number, ohmAt: OhmAt, n: number): Float64Array {
  const column = new Float64Array(n)
  if (levels.length < 2) return column
  const lower = levels[Math.max(0, at - 1)]
  const upper = levels[Math.min(levels.length - 1, at + 1)]
  const low = ohmAt(lower)
  const high = ohmAt(upper)
  const perOhm = soilSlopePerOhm(lower, upper)
  for (let p = 0; p < n; p++) {
    const difference = high[p] - low[p]
    if (Number.isFinite(difference)) column[p] = difference * perOhm
  }
  return column
}

/** The soil's share in the predictions of a sound array. */
export function soundShift(levels: readonly LevelModel[], at: number, n: number): Shift {
  return { riseOhm: new Float64Array(n), columns: [soilColumn(levels, at, (l) => l.networkOhm, n)] }
}

/** Exact rise of every reading with one candidate bad by `addedOhm`. */
export function risesOhm(level: LevelModel, candidate: number, addedOhm: number, n: number): Float64Array {
  const rise = new Float64Array(n)
  for (let p = 0, at = candidate * n; p < n; p++, at++)
    rise[p] = riseOhm(level.squared[at], loopAtReadingS(level, candidate, p), addedOhm)
  return rise
}

/**
 * By how many of their own standard deviations (`sdOhm`) all readings together are moved by a candidate, as a function of
 * the ohms that it gains. Those that are read across rise along one direction.
 */
export function riseInSds(
  level: LevelModel,
  candidate: number,
  sdOhm: Float64Array,
): (addedOhm: number) => number {
  const { squared, loopS, loopOfReadingS } = level
  const n = sdOhm.length
  const onLoops: number[] = []
  let square = 0
  for (let p = 0, at = candidate * n; p < n; p++, at++) {
    if (loopOfReadingS && loopOfReadingS[p] > 0) {
      if (squared[at] > 0) onLoops.push(p)
    } else square += (squared[at] / sdOhm[p]) ** 2
  }
  const perOhm = Math.sqrt(square)
  return (addedOhm) => {
    let size = riseOhm(perOhm, loopS[candidate], addedOhm)
    for (const p of onLoops) {
      const rise = riseOhm(squared[candidate * n + p], loopAtReadingS(level, candidate, p), addedOhm)
      size = Math.hypot(size, rise / sdOhm[p])
    }
    return size
  }
}

/**
 * Spread of ln rise that a bad joint brings: of its severity within its stretch while it carries the current, of the
 * ohms of the path beside it once that has taken the current over.
 */
export function riseLnSd(c: number, addedOhm: number, stretchLnSd = severityCellLnSd): number {
  // share of the current that has left the joint: 0 hardly raised, 1 open
  const taken = addedOhm === Infinity ? 1 : (addedOhm * c) / (1 + addedOhm * c)
  return Math.hypot(stretchLnSd * (1 - taken), assumptions.kindLevelLnSd * taken)
}

/**
 * How one candidate, bad by `addedOhm` (Infinity: open), moves the readings at a soil level. Exact rise per
 * reading; columns of uncertainty for the soil level within its cell, and along the rise itself for the
 * severity within its stretch (`stretchLnSd` wide in ln) and for the ohms of the path that takes over the current.
 */
export function badJointShift(
  levels: readonly LevelModel[],
  at: number,
  candidate: number,
  addedOhm: number,
  n: number,
  stretchLnSd = severityCellLnSd,
): Shift {
  const rise = risesOhm(levels[at], candidate, addedOhm, n)
  const ohmAt: OhmAt = (level) => {
    const ohm = risesOhm(level, candidate, addedOhm, n)
    for (let p = 0; p < n; p++) ohm[p] += level.networkOhm[p]
    return ohm
  }
  const { loopS, loopOfReadingS } = levels[at]
  const relative = riseLnSd(loopS[candidate], addedOhm, stretchLnSd)
  const relativeAt = (p: number) =>
    loopOfReadingS && loopOfReadingS[p] > 0
      ? riseLnSd(loopAtReadingS(levels[at], candidate, p), addedOhm, stretchLnSd)
      : relative
  const along = new Float64Array(n)
  for (let p = 0; p < n; p++) if (rise[p] !== 0 && rise[p] !== Infinity) along[p] = rise[p] * relativeAt(p)
  return { riseOhm: rise, columns: [soilColumn(levels, at, ohmAt, n), along] }
}

/** Whether the prediction of any reading depends on the soil level by more than a sliver of its uncertainty. */
export function dependsOnSoil({ columns: [soilOhm] }: Pick<Shift, 'columns'>, sdOhm: Float64Array): boolean {
  for (let p = 0; p < sdOhm.length; p++) if (Math.abs(soilOhm[p]) > soilMatters * sdOhm[p]) return true
  return false
}
