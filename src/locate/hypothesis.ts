import { riseOhm } from '../network/jointSweep.ts'
import { assumptions } from '../reading/assumptions.ts'
import type { Shift } from './evidence.ts'
import { soilCellLnSd, type LevelModel } from './levels.ts'
import { severityCellLnSd } from './severities.ts'

/** Below this share of a reading's own uncertainty soil does not matter to it. */
const soilMatters = 0.05

/** Prediction per ln of soil level, by differences between neighbouring levels. */
function soilSlope(
  levels: readonly LevelModel[],
  at: number,
  ohmAt: (level: LevelModel, p: number) => number,
  n: number,
): Float64Array {
  const slope = new Float64Array(n)
  if (levels.length < 2) return slope
  const lower = levels[Math.max(0, at - 1)]
  const upper = levels[Math.min(levels.length - 1, at + 1)]
  for (let p = 0; p < n; p++) {
    const difference = ohmAt(upper, p) - ohmAt(lower, p)
    if (Number.isFinite(difference)) slope[p] = difference / (upper.lnSoil - lower.lnSoil)
  }
  return slope
}

/** The soil's share in the predictions of a sound array, as a column of uncertainty. */
export function soundShift(levels: readonly LevelModel[], at: number, n: number): Shift {
  const slope = soilSlope(levels, at, (level, p) => level.networkOhm[p], n)
  return { riseOhm: new Float64Array(n), columns: [slope.map((x) => x * soilCellLnSd)] }
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
  const level = levels[at]
  const rise = new Float64Array(n)
  for (let p = 0; p < n; p++)
    rise[p] = riseOhm(level.squared[candidate * n + p], level.loopS[candidate], addedOhm)
  const slope = soilSlope(
    levels,
    at,
    (l, p) => l.networkOhm[p] + riseOhm(l.squared[candidate * n + p], l.loopS[candidate], addedOhm),
    n,
  )
  // share of the current that has left the joint: 0 hardly raised, 1 open
  const taken =
    addedOhm === Infinity ? 1 : (addedOhm * level.loopS[candidate]) / (1 + addedOhm * level.loopS[candidate])
  const relative = Math.hypot(stretchLnSd * (1 - taken), assumptions.kindLevelLnSd * taken)
  return {
    riseOhm: rise,
    columns: [slope.map((x) => x * soilCellLnSd), rise.map((x) => (Number.isFinite(x) ? x * relative : 0))],
  }
}

/** Whether the prediction of any reading depends on the soil level by more than a sliver of its uncertainty. */
export function dependsOnSoil(shift: Shift, sdOhm: Float64Array): boolean {
  return shift.columns[0].some((x, p) => Math.abs(x) > soilMatters * sdOhm[p])
}
