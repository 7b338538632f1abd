import { assumptions } from '../../reading/assumptions.ts'
import type { Shift } from '../evidence.ts'
import { badJointShift, soundShift } from '../hypothesis.ts'
import type { LevelModel } from '../levelModel.ts'
import { soilCellLnSd } from '../levels.ts'
import { severityCellLnSd } from '../severities.ts'
import { seenRiseAlone, seenRiseOhm, seenSets, seenWork, type BadJoint } from './seenSets.ts'
import type { SetNetwork } from './setNetwork.ts'

export type { BadJoint } from './seenSets.ts'

/**
 * Exact rise of every reading at one soil level with all of these joints bad together, by the kernel of
 * `jointSet.ts`; Infinity where the open ones leave no path, 0 where there was none before. A loop clamp that is closed
 * around a joint of the set reads what that joint has gained, on top of what the others do to the loop beside it.
 * O(readings × members²).
 */
export function setRisesOhm(
  network: SetNetwork,
  models: readonly LevelModel[],
  level: number,
  bad: readonly BadJoint[],
): Float64Array {
  const { pairs } = network
  const rise = new Float64Array(pairs.length)
  if (bad.length === 0) return rise
  const seenBy = seenSets(network, level, bad)
  const work = seenWork(bad.length)
  pairs.forEach((pair, p) => {
    if (pair.a === pair.b || models[level].networkOhm[p] === Infinity) return
    rise[p] = seenRiseAlone(seenBy(pair), pair, bad, work)
  })
  return rise
}

/** The soil level's share in the predictions with these joints bad: slopes between neighbouring levels, in ohm. */
function soilColumnOf(
  network: SetNetwork,
  models: readonly LevelModel[],
  at: number,
  bad: readonly BadJoint[],
): Float64Array {
  const column = new Float64Array(network.pairs.length)
  if (models.length < 2) return column
  const lower = Math.max(0, at - 1)
  const upper = Math.min(models.length - 1, at + 1)
  const low = setRisesOhm(network, models, lower, bad)
  const high = setRisesOhm(network, models, upper, bad)
  const perOhm = soilCellLnSd / (models[upper].lnSoil - models[lower].lnSoil)
  for (let p = 0; p < column.length; p++) {
    const difference = high[p] + models[upper].networkOhm[p] - (low[p] + models[lower].networkOhm[p])
    if (Number.isFinite(difference)) column[p] = difference * perOhm
  }
  return column
}

/**
 * How a set of joints that are bad together moves the readings at a soil level, exactly, and the uncertainty that
 * it brings. With x the voltages that the members gain, rise = iᵀx and
 *
 *   ∂ rise / ∂ ln Δ_k = x_k² / Δ_k                      the current that is left in member k does this
 *   rise = Σ_k x_k² / Δ_k + Σ_k x_k (i_k − x_k/Δ_k)      the rest is owed to the paths that took current over
 *
 * so each raised member has a column for its severity within its stretch (`stretchLnSd` wide in ln), each member one
 * for the ohms of the path beside it, and the set one for the soil level within its cell. For a single member the
 * two columns lie in one direction, and this is `badJointShift`, which is then called.
 */
export function setShift(
  network: SetNetwork,
  models: readonly LevelModel[],
  at: number,
  bad: readonly BadJoint[],
  stretchLnSd = severityCellLnSd,
): Shift {
  const n = network.pairs.length
  if (bad.length === 0) return soundShift(models, at, n)
  if (bad.length === 1) return badJointShift(models, at, bad[0].candidate, bad[0].addedOhm, n, stretchLnSd)
  return kernelShift(network, models, at, bad, stretchLnSd)
}

/** The same by the kernel for any number of members, one included. */
export function kernelShift(
  network: SetNetwork,
  models: readonly LevelModel[],
  at: number,
  bad: readonly BadJoint[],
  stretchLnSd = severityCellLnSd,
): Shift {
  const { pairs } = network
  const n = pairs.length
  const seenBy = seenSets(network, at, bad)
  const rise = new Float64Array(n)
  const severity = bad.map(() => new Float64Array(n))
  const path = bad.map(() => new Float64Array(n))
  const work = seenWork(bad.length)
  pairs.forEach((pair, p) => {
    if (pair.a === pair.b || models[at].networkOhm[p] === Infinity) return
    rise[p] = seenRiseOhm(seenBy(pair), pair, bad, work)
    bad.forEach(({ addedOhm }, k) => {
      const gainedV = work.gainedV[k]
      // the current that is left in the member; none in an open one
      const left = gainedV / addedOhm
      severity[k][p] = stretchLnSd * gainedV * left
      path[k][p] = assumptions.kindLevelLnSd * gainedV * (work.currentA[k] - left)
    })
  })
  const raised = severity.filter((_, k) => bad[k].addedOhm !== Infinity)
  return { riseOhm: rise, columns: [soilColumnOf(network, models, at, bad), ...raised, ...path] }
}
