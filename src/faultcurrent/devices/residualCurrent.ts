import { fail, ok, type Result } from '../../base/result.ts'
import type { CurrentKind, RuleRefusal } from '../../model/faultRules.ts'
import { actingAt, type Acting, type ActingLimits } from './acting.ts'

/** What a residual-current device is made to see, and whether it waits (S). */
export interface ResidualType {
  readonly sees: 'AC' | 'A' | 'F' | 'B'
  readonly isSelective: boolean
}

/** As they are written on devices. */
export const residualCharacteristics = ['AC', 'A', 'F', 'B', 'AC S', 'A S', 'F S', 'B S'] as const

/** `A`, `b`, `A S`: null where it is none of the known ones. */
export function parseResidualType(characteristic: string): ResidualType | null {
  const [sees, ...rest] = characteristic.trim().toUpperCase().split(/\s+/)
  const isSelective = rest.length === 1 && rest[0] === 'S'
  if (rest.length > 0 && !isSelective) return null
  return sees === 'AC' || sees === 'A' || sees === 'F' || sees === 'B' ? { sees, isSelective } : null
}

/** Rated residual current up to which makers may prove the shortest time at a fixed current instead of five times the rated one. */
const smallRatedA = 0.03
const fixedA = 0.25

/**
 * A residual-current device, rated `ratedA` ampere, that sees `seesA` of smooth direct or of sinusoidal current. IEC 61008-1:
 * not at half its rating, surely at its rating; IEC 62423 for type B on direct current: twice the amperes. Types AC, A and
 * F see no smooth direct current: never.
 */
export function residualActs(type: ResidualType, ratedA: number, seesA: number, kind: CurrentKind): Acting {
  if (kind === 'dc' && type.sees !== 'B')
    return { verdict: 'never', leastS: null, mostS: null, rule: 'residualBlindToDirect' }
  const limits = type.isSelective ? selective(ratedA) : general(ratedA)
  if (kind === 'ac')
    return actingAt(type.isSelective ? 'residualSelective' : 'residualGeneral', limits, seesA)
  const onDirect: ActingLimits = {
    ...limits,
    acts: limits.acts.map((curve) => curve.map(([ampere, seconds]) => [2 * ampere, seconds] as const)),
  }
  return actingAt('residualTypeB', onDirect, seesA)
}

function general(ratedA: number): ActingLimits {
  return {
    neverUpToA: 0.5 * ratedA,
    holds: [],
    acts: [
      [[ratedA, 0.3]],
      [[2 * ratedA, 0.15]],
      [[ratedA <= smallRatedA ? Math.max(fixedA, 5 * ratedA) : 5 * ratedA, 0.04]],
    ],
  }
}

function selective(ratedA: number): ActingLimits {
  return {
    neverUpToA: 0.5 * ratedA,
    holds: [
      [ratedA, 0.13],
      [2 * ratedA, 0.06],
      [5 * ratedA, 0.05],
    ],
    acts: [[[ratedA, 0.5]], [[2 * ratedA, 0.2]], [[5 * ratedA, 0.15]]],
  }
}

/** A maker's own residual-current rating is asked for: there is no usual one. */
export function parsedResidual(characteristic: string): Result<ResidualType, RuleRefusal> {
  const type = parseResidualType(characteristic)
  return type ? ok(type) : fail({ refused: 'unknownCharacteristic', known: residualCharacteristics })
}
