import type { Check, ChecksDone } from '../model/queries/checksDone.ts'
import { formatReadOhm } from './ohms.ts'
import { formatCounted } from './units.ts'

export const checksTexts = {
  title: 'Check before a joint is blamed',
  later: 'Later',
  toLocate: 'To Locate',
  done: 'done',
  shorted: 'Read with the far ends shorted',
  shortedOver: 'Over range',
  shortedEnter: 'Enter',
  needsOhms: 'Type what the shorted leads read, or choose over range.',
} as const

interface CheckText {
  readonly todo: string
  /** Why, and what each outcome says. */
  readonly why: string
  readonly button: string
}

/** Common practice in tracing a high bond reading, the cheapest first. */
export const checkTexts: Readonly<Record<Check, CheckText>> = {
  shorted: {
    todo: 'Short the leads at their far end and read them.',
    why: 'Over range still: the lead or its clip is broken. A few hundred milliohms: the lead is whole, go on.',
    button: 'Enter what they read',
  },
  clip: {
    todo: 'Clip through the coating, on the right metal.',
    why: 'If it falls, the clip sat on a coating or on the wrong part. If it stays, the clip was not it.',
    button: 'Clipped anew: read again',
  },
  lead: {
    todo: 'Unroll the lead fully, and null it anew.',
    why: 'A wound-up lead is warm and its nulling is off. If it falls, the lead was it.',
    button: 'Nulled now: read again',
  },
  polarity: {
    todo: 'Swap the leads at the instrument.',
    why: 'If the two directions differ, a voltage on the metal disturbs: prove dead, then use the mean.',
    button: 'Swapped: read again',
  },
  seat: {
    todo: 'Take everything off, seat it again on clean metal, and repeat.',
    why: 'If it comes back within the digits, the value belongs to the array and not to the test.',
    button: 'Seated again: read again',
  },
}

/** What the shorted leads say. */
export function describeShorted({ shorted }: ChecksDone): string | null {
  if (shorted === null) return null
  return shorted.form === 'over'
    ? 'The shorted leads read over range: the lead or its clip is broken. The reading says nothing of the array.'
    : `The shorted leads read ${formatReadOhm(shorted.ohm)}: the lead is whole.`
}

/** After the last check. */
export function describeStanding({ tries, rangeOhm, overRange }: ChecksDone): string {
  const over = overRange === 0 ? '' : rangeOhm ? `, ${overRange} of them over range` : ', all over range'
  const range = rangeOhm
    ? rangeOhm.least === rangeOhm.most
      ? `, ${formatReadOhm(rangeOhm.most)}`
      : `, ${formatReadOhm(rangeOhm.least)} to ${formatReadOhm(rangeOhm.most)}`
    : ''
  const count = tries.length === 1 ? '1 try' : `${tries.length} tries`
  return `The reading stands: ${count}${range}${over}. Now the array is asked: see Locate.`
}

/** A try that read as a sound array does. */
export function describeCleared({ tries }: ChecksDone): string {
  return (
    `The last of ${formatCounted(tries.length, 'reading')} no longer stands out: the test was more likely at fault than ` +
    `a joint. All of them stay in the record.`
  )
}

export const tryingNames: Readonly<Record<Exclude<Check, 'shorted'>, string>> = {
  clip: 'clipped anew',
  lead: 'lead unrolled and nulled anew',
  polarity: 'leads swapped',
  seat: 'seated again',
}
