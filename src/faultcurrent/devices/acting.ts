import { assert } from '../../base/assert.ts'
import { logLogThrough, type CurvePoints } from '../../base/throughPoints.ts'
import type { DeviceActs } from '../../model/faultAnswers.ts'
import type { FaultRule } from '../../model/faultRules.ts'

/** When a device acts at some current, by a rule that covers it. */
export interface Acting {
  readonly verdict: Exclude<DeviceActs['verdict'], 'notCovered'>
  readonly leastS: number | null
  readonly mostS: number | null
  readonly rule: FaultRule
}

/** What a product standard says of a device. Amperes rise from one entry to the next, seconds fall. */
export interface ActingLimits {
  /** Up to here it is below what makes it act. */
  readonly neverUpToA: number
  /** It carries these amperes for these seconds at least. */
  readonly holds: CurvePoints
  /**
   * It has acted at these amperes after these seconds. Within a curve the bound between two points is the straight line on
   * logarithmic paper: curves of melting and of heating bimetal sag below it. From the last point on its seconds hold.
   */
  readonly acts: readonly CurvePoints[]
}

/**
 * Verdict and seconds at `seesA` amperes (0 or more): not before `leastS`, by what it holds at these amperes or more (a step, no
 * line: between two points that is all that is promised), and not after `mostS`. Both never rise with the current.
 */
export function actingAt(rule: FaultRule, { neverUpToA, holds, acts }: ActingLimits, seesA: number): Acting {
  assert(seesA >= 0, `a device sees ${seesA} A`)
  if (seesA <= neverUpToA) return { verdict: 'never', leastS: null, mostS: null, rule }
  const leastS = holds.find(([ampere]) => ampere >= seesA)?.[1] ?? 0
  const bounds = acts.filter(([[ampere]]) => ampere <= seesA).map((curve) => logLogThrough(curve, seesA))
  if (bounds.length === 0) return { verdict: 'mayAct', leastS, mostS: null, rule }
  return { verdict: 'acts', leastS, mostS: Math.min(...bounds), rule }
}
