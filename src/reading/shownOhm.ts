import type { EntryOf, Kit } from '../model/schema/record.ts'
import { digitsSdOhm } from './kitError.ts'

/** The ohms of one act of reading, and what it alone is uncertain by. */
export interface Shown {
  /** Null where the instrument showed over range. */
  readonly ohm: number | null
  /** What the digits leave open. */
  readonly digitsSdOhm: number
  /** What the reading itself says that it is uncertain by: values that differ by direction, or did not hold still. */
  readonly extraSdOhm: number
}

type Values = Pick<EntryOf<'reading'>, 'result' | 'reverseOhm' | 'unsteady'>

/**
 * The value that a reading is counted with. Read in both directions, the mean of the two: what does not turn with the
 * current (potentials of soil and of unlike metals, leakage) cancels in it, and the digits count half in variance. Half
 * the difference, which that same current is the cause of, is taken as a standard deviation, for it seldom holds still
 * from one direction to the next. A display that wandered from `leastOhm` to `mostOhm` adds that range as a
 * rectangular distribution (JCGM 100:2008 4.3.7).
 */
export function shownOhm({ result, reverseOhm, unsteady }: Values, kit: Kit): Shown {
  const digits = digitsSdOhm(kit)
  const wander = unsteady ? (unsteady.mostOhm - unsteady.leastOhm) / Math.sqrt(12) : 0
  if (result.form === 'over') return { ohm: null, digitsSdOhm: digits, extraSdOhm: wander }
  if (reverseOhm === null) return { ohm: result.ohm, digitsSdOhm: digits, extraSdOhm: wander }
  return {
    ohm: (result.ohm + reverseOhm) / 2,
    digitsSdOhm: digits / Math.SQRT2,
    extraSdOhm: Math.hypot(wander, (result.ohm - reverseOhm) / 2),
  }
}
