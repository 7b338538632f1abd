import { fail, ok, type Result } from '../../base/result.ts'
import type { CurrentKind, RuleRefusal } from '../../model/faultRules.ts'
import { underfootOhmM, type Ground } from './feet.ts'

/** Ohms of every body, and amperes times root of seconds that bodies of two weights bear: IEEE Std 80-2013 §8 (from memory). */
const bodyOhm = 1000
const bornA = { 50: 0.116, 70: 0.157 } as const

export type BodyKg = keyof typeof bornA

/** Seconds within which the rule holds. */
export const ieee80SpanS = { least: 0.03, most: 3 } as const

export interface ToleratedAsk {
  readonly kind: CurrentKind
  readonly durationS: number | null
  readonly kg: BodyKg
  /** Where the feet stand; null: metal to metal, no feet. */
  readonly ground: Ground | null
}

/**
 * Volts without the person that a touch from hand to both feet may have, by IEEE Std 80-2013:
 *
 *     E_touch = (1000 + 1.5·C_s·ρ_s)·k/√t
 *
 * For alternating current and 0.03 to 3 s only: otherwise a refusal. Metal to metal has ρ_s = 0.
 */
export function toleratedTouchV(ask: ToleratedAsk): Result<number, RuleRefusal> {
  return tolerated(ask, 1.5)
}

/** The same for a step of one metre: E_step = (1000 + 6·C_s·ρ_s)·k/√t. */
export function toleratedStepV(ask: ToleratedAsk): Result<number, RuleRefusal> {
  return tolerated(ask, 6)
}

function tolerated(
  { kind, durationS, kg, ground }: ToleratedAsk,
  feetFactor: number,
): Result<number, RuleRefusal> {
  if (kind === 'dc') return fail({ refused: 'directCurrent' })
  if (durationS === null || durationS > ieee80SpanS.most)
    return fail({ refused: 'tooLong', mostS: ieee80SpanS.most })
  if (durationS < ieee80SpanS.least) return fail({ refused: 'tooShort', leastS: ieee80SpanS.least })
  const underfoot = ground === null ? 0 : underfootOhmM(ground)
  return ok(((bodyOhm + feetFactor * underfoot) * bornA[kg]) / Math.sqrt(durationS))
}
