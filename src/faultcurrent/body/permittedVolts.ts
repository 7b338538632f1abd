import { fail, type Result } from '../../base/result.ts'
import type { PermittedVolts } from '../../model/faultAnswers.ts'
import type { CurrentKind, FaultRule, RuleRefusal } from '../../model/faultRules.ts'
import { permittedTouchV } from './en50522.ts'
import type { Ground } from './feet.ts'
import { toleratedStepV, toleratedTouchV } from './ieee80.ts'

/**
 * Volts without the person that may stand for any length of time, dry places and healthy adults: IEC TS 60479-1 and
 * IEC 60364-4-41; half of them where children or livestock are, or where it is wet.
 */
export const conventionalV: Readonly<Record<CurrentKind, number>> = { ac: 50, dc: 120 }

export interface PermittedAsk {
  readonly kind: CurrentKind
  /** Seconds in the circuit; null: without end. */
  readonly durationS: number | null
  /** Where the feet stand; null: from hand to hand. */
  readonly ground: Ground | null
}

/** What every rule known here permits for a touch that long, or why it says nothing of it; in a fixed order. */
export function permittedVolts(ask: PermittedAsk): readonly PermittedVolts[] {
  const conventional = conventionalV[ask.kind]
  return [
    row('permittedIeee80Kg50', 'prospective', toleratedTouchV({ ...ask, kg: 50 })),
    row('permittedIeee80Kg70', 'prospective', toleratedTouchV({ ...ask, kg: 70 })),
    row('permittedEn50522Of2010', 'touch', permittedTouchV(2010, ask)),
    row('permittedEn50522Of2022', 'touch', permittedTouchV(2022, ask)),
    row('permittedConventional', 'prospective', { ok: true, value: conventional }),
    row('permittedConventionalHalf', 'prospective', { ok: true, value: conventional / 2 }),
  ]
}

/** What the rules known here permit between the feet, one metre apart, on that ground. */
export function permittedSteps(
  ask: Omit<PermittedAsk, 'ground'> & { readonly ground: Ground },
): readonly PermittedVolts[] {
  return [
    row('permittedStepIeee80Kg50', 'prospective', toleratedStepV({ ...ask, kg: 50 })),
    row('permittedStepIeee80Kg70', 'prospective', toleratedStepV({ ...ask, kg: 70 })),
    row('permittedStepEn50522', 'prospective', fail({ refused: 'onlyTouch' })),
  ]
}

function row(rule: FaultRule, of: PermittedVolts['of'], answer: Result<number, RuleRefusal>): PermittedVolts {
  return answer.ok
    ? { rule, of, volt: answer.value, refusal: null }
    : { rule, of, volt: null, refusal: answer.error }
}
