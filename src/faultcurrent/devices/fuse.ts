import { fail, ok, type Result } from '../../base/result.ts'
import type { CurrentKind, RuleRefusal } from '../../model/faultRules.ts'
import { actingAt, type Acting } from './acting.ts'
import { fuseGates } from './fuseGates.ts'

/** Conventional time in seconds by rated current: IEC 60269-1 Table 2, IEC 60269-6 the same (from memory). */
export function conventionalTimeS(ratedA: number): number {
  if (ratedA <= 63) return 3600
  if (ratedA <= 160) return 2 * 3600
  return ratedA <= 400 ? 3 * 3600 : 4 * 3600
}

/** Conventional non-fusing and fusing currents of gG as multiples of the rated one: Table 2 (from memory; small links less so). */
function conventionalMultiples(ratedA: number): { readonly holds: number; readonly acts: number } {
  if (ratedA <= 4) return { holds: 1.5, acts: 2.1 }
  return ratedA < 16 ? { holds: 1.5, acts: 1.9 } : { holds: 1.25, acts: 1.6 }
}

/**
 * A gG link at `seesA` amperes rms, IEC 60269-1: between the conventional currents it may act; beyond, the gates bound
 * the time. A rating without gates in the table has the conventional time alone.
 */
export function generalFuseActs(ratedA: number, seesA: number): Acting {
  const conventional = conventionalMultiples(ratedA)
  const gates = fuseGates.get(ratedA)
  const timeS = conventionalTimeS(ratedA)
  const limits = {
    neverUpToA: conventional.holds * ratedA,
    holds: gates
      ? ([
          [gates.holds10sA, 10],
          [gates.holds100msA, 0.1],
        ] as const)
      : [],
    acts: [
      [
        [conventional.acts * ratedA, timeS],
        ...(gates
          ? ([
              [gates.acts5sA, 5],
              [gates.acts100msA, 0.1],
            ] as const)
          : []),
      ] as const,
    ],
  }
  return actingAt(gates ? 'fuseGates' : 'fuseConventional', limits, seesA)
}

/** Conventional currents of a gPV link as multiples of the rated one: IEC 60269-6 (from memory). */
export const pvFuseMultiples = { holds: 1.13, acts: 1.45 } as const

/**
 * A gPV link, IEC 60269-6: the standard promises no more than that it has acted within its conventional time at 1.45 times its
 * rating. A string's own current seldom reaches that: what blows a string's fuse is the current of the other strings.
 * For direct current alone.
 */
export function pvFuseActs(ratedA: number, seesA: number, kind: CurrentKind): Result<Acting, RuleRefusal> {
  if (kind === 'ac') return fail({ refused: 'alternatingCurrent' })
  const limits = {
    neverUpToA: pvFuseMultiples.holds * ratedA,
    holds: [],
    acts: [[[pvFuseMultiples.acts * ratedA, conventionalTimeS(ratedA)]]] as const,
  }
  return ok(actingAt('fusePv', limits, seesA))
}
