import { logAdd } from '../base/logSum.ts'
import { logNormalCdf, normalCdf } from '../base/normal.ts'
import { assumptions } from '../reading/assumptions.ts'
import { poorContactOverRange } from '../reading/contact.ts'
import type { Observation } from './observations.ts'

/**
 * Over-range readings that follow each other with nothing else read through the same lead in between: one broken lead, or
 * a far-end clip that has come off for good, explains them all.
 */
export interface OverRun {
  /** Observations, in the order in which they were taken. */
  readonly readings: readonly number[]
  /** ln of the chance that the lead breaks just before a certain one of them. */
  readonly logBreak: number
}

/** Of leads that are broken, this share is noticed and mended before the next nulling. */
const mendedShare = 0.1

/** Runs of over-range readings within the readings of one nulling; readings without a lead are runs of one. */
export function overRunsOf(observations: readonly Observation[]): readonly OverRun[] {
  const runs: OverRun[] = []
  const byInterval = new Map<number, number[]>()
  observations.forEach(({ interval, ohm }, p) => {
    if (interval < 0) {
      if (ohm === null) runs.push({ readings: [p], logBreak: -Infinity })
      return
    }
    const list = byInterval.get(interval)
    if (list) list.push(p)
    else byInterval.set(interval, [p])
  })
  for (const list of byInterval.values()) {
    let run: number[] = []
    const close = (isMended: boolean) => {
      if (run.length === 0) return
      const share = isMended ? mendedShare : 1
      runs.push({ readings: run, logBreak: Math.log((share * assumptions.brokenLead) / list.length) })
      run = []
    }
    for (const p of list) {
      if (observations[p].ohm === null) run.push(p)
      else close(true)
    }
    close(false)
  }
  return runs
}

/** The run that the last reading of an interval is in; null where that was in range. */
export function lastRunOf(
  runs: readonly OverRun[],
  observations: readonly Observation[],
  interval: number,
): OverRun | null {
  const last = observations.findLastIndex((o) => o.interval === interval)
  return interval < 0 ? null : (runs.find(({ readings }) => readings.includes(last)) ?? null)
}

/** Chance that the lead is broken after the last reading of a run. O(readings). */
export function brokenAfter(
  { readings, logBreak }: OverRun,
  observations: readonly Observation[],
  predictedOhm: Float64Array,
  sdOhm: Float64Array,
): number {
  let whole = 0
  let broken = -Infinity
  for (const p of readings) {
    broken = logAdd(broken, whole + logBreak)
    whole += logOverRange(observations[p], predictedOhm[p], sdOhm[p])
  }
  return Math.exp(broken - logAdd(whole, broken))
}

/** Chance that a clip alone has this reading over range. */
function clipChance({ poorRate, atLeastOhm }: Observation): number {
  return poorRate * poorContactOverRange(atLeastOhm) + assumptions.fallenClip
}

/** ln of the chance of an over-range reading while the lead is whole. */
export function logOverRange(o: Observation, predictedOhm: number, sdOhm: number): number {
  if (!Number.isFinite(predictedOhm)) return 0
  return logAdd(logNormalCdf((predictedOhm - o.atLeastOhm) / sdOhm), Math.log(clipChance(o)))
}

/** Chance that such a reading owes to a clip, not to what lies between the points. */
function clipShare(o: Observation, predictedOhm: number, sdOhm: number): number {
  if (!Number.isFinite(predictedOhm)) return 0
  const beyond = normalCdf((predictedOhm - o.atLeastOhm) / sdOhm)
  const clip = clipChance(o)
  return clip / (clip + beyond)
}

/**
 * ln of the chance of all over-range readings of one run: the lead whole throughout, or broken before the k-th of them,
 * whatever lies between the points from there on. Per reading the chance that it says nothing of the network, into
 * `spoiled`. O(readings).
 */
export function logOverRun(
  { readings, logBreak }: OverRun,
  observations: readonly Observation[],
  predictedOhm: Float64Array,
  sdOhm: Float64Array,
  leaveOut: number | undefined,
  spoiled: Float64Array,
): number {
  const counted = readings.filter((p) => p !== leaveOut)
  let whole = 0
  let broken = -Infinity
  const brokenBefore: number[] = []
  for (const p of counted) {
    broken = logAdd(broken, whole + logBreak)
    brokenBefore.push(broken)
    whole += logOverRange(observations[p], predictedOhm[p], sdOhm[p])
  }
  const total = logAdd(whole, broken)
  counted.forEach((p, k) => {
    const isBroken = Math.exp(brokenBefore[k] - total)
    spoiled[p] = isBroken + (1 - isBroken) * clipShare(observations[p], predictedOhm[p], sdOhm[p])
  })
  return total
}
