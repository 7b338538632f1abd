import { fail, ok, type Result } from '../../base/result.ts'
import type { CurrentKind, RuleRefusal } from '../../model/faultRules.ts'
import { actingAt, type Acting } from './acting.ts'

/** Most amperes of the fuse in an array's functional earth, by the inverter's DC rating in watt: UL 1741 (from memory). */
export const groundFaultFuseSizes: readonly { readonly upToW: number; readonly ratedA: number }[] = [
  { upToW: 25_000, ratedA: 1 },
  { upToW: 50_000, ratedA: 2 },
  { upToW: 100_000, ratedA: 3 },
  { upToW: 250_000, ratedA: 4 },
  { upToW: Infinity, ratedA: 5 },
]

export function groundFaultFuseA(inverterW: number): number {
  return (groundFaultFuseSizes.find(({ upToW }) => inverterW <= upToW) ?? groundFaultFuseSizes[4]).ratedA
}

/**
 * The fuse in the functional earth of an array. Below its rating it never acts: that is the blind spot, where a fault near
 * the earthed pole drives too little current through it, stays for years, and by-passes the fuse once a second fault
 * comes. Above, by UL 248 (from memory): within an hour at 1.35 times its rating, within two minutes at twice.
 */
export function groundFaultFuseActs(
  ratedA: number,
  seesA: number,
  kind: CurrentKind,
): Result<Acting, RuleRefusal> {
  if (kind === 'ac') return fail({ refused: 'alternatingCurrent' })
  const limits = {
    neverUpToA: ratedA,
    holds: [],
    acts: [
      [
        [1.35 * ratedA, 3600],
        [2 * ratedA, 120],
      ],
    ] as const,
  }
  const acting = actingAt('groundFaultFuse', limits, seesA)
  return ok(acting.verdict === 'never' ? { ...acting, rule: 'groundFaultBlindSpot' } : acting)
}
