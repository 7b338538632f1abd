import { fail, ok, type Result } from '../../base/result.ts'
import { logLogThrough, type CurvePoints } from '../../base/throughPoints.ts'
import type { CurrentKind, RuleRefusal } from '../../model/faultRules.ts'

export type En50522Edition = 2010 | 2022

/**
 * Volts across the body by seconds: EN 50522:2010 Table B.3, and EN 50522:2022 Table B.4, rounded to 5 V there. As far as
 * remembered the curve of IEC 61936-1 is the same as that of 2010.
 */
export const en50522Volts: Readonly<Record<En50522Edition, CurvePoints>> = {
  2010: [
    [0.05, 716],
    [0.1, 654],
    [0.2, 537],
    [0.5, 220],
    [1, 117],
    [2, 96],
    [5, 86],
    [10, 85],
  ],
  2022: [
    [0.05, 725],
    [0.1, 655],
    [0.2, 525],
    [0.5, 225],
    [1, 115],
    [2, 95],
    [5, 85],
    [10, 85],
  ],
}

/**
 * Volts across the body that EN 50522 permits in earthing of installations above 1 kV AC; between the table's times a
 * straight line on logarithmic paper. For alternating current and 0.05 to 10 s, the ends of the table; else a refusal.
 */
export function permittedTouchV(
  edition: En50522Edition,
  { kind, durationS }: { readonly kind: CurrentKind; readonly durationS: number | null },
): Result<number, RuleRefusal> {
  const points = en50522Volts[edition]
  const leastS = points[0][0]
  const mostS = points[points.length - 1][0]
  if (kind === 'dc') return fail({ refused: 'directCurrent' })
  if (durationS === null || durationS > mostS) return fail({ refused: 'tooLong', mostS })
  if (durationS < leastS) return fail({ refused: 'tooShort', leastS })
  return ok(logLogThrough(points, durationS))
}
