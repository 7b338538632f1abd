import { fail, ok, type Result } from '../../base/result.ts'
import type { CurrentKind, RuleRefusal } from '../../model/faultRules.ts'
import { actingAt, type Acting } from './acting.ts'

export type BreakerType = 'B' | 'C' | 'D'

/** Multiples of the rated current between which the instantaneous release may act: above the second it does, in 0.1 s. */
export const instantaneousMultiples: Readonly<
  Record<BreakerType, { readonly holds: number; readonly acts: number }>
> = {
  B: { holds: 3, acts: 5 },
  C: { holds: 5, acts: 10 },
  D: { holds: 10, acts: 20 },
}

/**
 * A circuit breaker of IEC 60898-1 at `seesA` amperes rms, by the standard's tests: 1.13 times its rating it carries for an hour (two
 * hours above 63 A), 1.45 times trips it within that; 2.55 times in 1 to 60 s (120 s above 32 A); the instantaneous release as
 * above. For alternating current alone: on direct current the instantaneous release acts elsewhere.
 */
export function breakerActs(
  type: BreakerType,
  ratedA: number,
  seesA: number,
  kind: CurrentKind,
): Result<Acting, RuleRefusal> {
  if (kind === 'dc') return fail({ refused: 'directCurrent' })
  const conventionalS = ratedA > 63 ? 7200 : 3600
  const instantaneous = instantaneousMultiples[type]
  const limits = {
    neverUpToA: 1.13 * ratedA,
    holds: [
      [2.55 * ratedA, 1],
      [instantaneous.holds * ratedA, 0.1],
    ] as const,
    acts: [
      [
        [1.45 * ratedA, conventionalS],
        [2.55 * ratedA, ratedA > 32 ? 120 : 60],
      ],
      [[instantaneous.acts * ratedA, 0.1]],
    ] as const,
  }
  return ok(actingAt('breaker', limits, seesA))
}

/**
 * Largest ohms of a loop that let a device act at once: Z_s = c·U0/I_a, IEC 60364-4-41 §411.4.4, where I_a is the current that
 * makes it act. `voltageFactor` c is the lowest mains voltage as a share of the nominal one: 0.95 in some countries, else 1.
 */
export function largestLoopOhm(phaseV: number, actsA: number, voltageFactor = 1): number {
  return (voltageFactor * phaseV) / actsA
}
