import type { OhmOrOver } from '../model/schema/record.ts'
import { describeResult } from './entryText.ts'
import { formatCounted } from './units.ts'
import { printable } from './where.ts'

/** Sentences about the list of readings. */
export const recordTexts = {
  noReadings:
    'No readings yet. Link two parts above, or drag from one part of the map to another, and type the ohms.',
  noneOfThese: 'No reading has this look now.',
  noSite: 'No site is open. Open one from the list of sites.',
  askReason: 'For whoever reads the record later.',
  needsReason: 'Tap one of the reasons, or type why: whoever reads the record later will want to know.',
} as const

/** How many readings are listed, and how many a filter leaves out. */
export function describeShown(shown: number, all: number): string {
  return shown === all ? formatCounted(all, 'reading') : `${shown} of ${formatCounted(all, 'reading')}`
}

/** Below a list that shows its newest readings only. */
export function describeFurtherRows(left: number): string {
  return `Show earlier ones (${left} left)`
}

/** Why a reading does not count, as whoever withdrew it put it. */
export function describeWhyWithdrawn(reason: string): string {
  const why = printable(reason, 500).trim()
  return why === '' ? 'Withdrawn, without a reason on record.' : `Withdrawn: ${why.replace(/\.$/, '')}.`
}

/** One tap takes a reading out of the count for one of these. */
export const withdrawalReasons = ['Typed wrongly', 'Wrong point', 'Clip slipped'] as const

export const correctionReason = 'Typed wrongly'

export function askToCorrect(number: number, first: OhmOrOver): string {
  return (
    `Reading ${number} stands as ${describeResult(first)}. Type what the instrument showed; the first value stays ` +
    `on record beside it.`
  )
}

export function describeCorrected(number: number, result: OhmOrOver): string {
  return `Reading ${number} corrected to ${describeResult(result)}. The first value stays in the record.`
}

/** Beside a corrected value: what was typed before. */
export function describeFirstValue(first: OhmOrOver, reason: string): string {
  const why = printable(reason, 500).trim().replace(/\.$/, '')
  return `Corrected: first entered as ${describeResult(first)}${why === '' ? '' : ` (${why})`}.`
}

export function askToCountAgain(number: number): string {
  return `Reading ${number} will count again. Its withdrawal stays in the record, with the reason that you give here.`
}

export function describeCountedAgain(number: number): string {
  return `Reading ${number} counts again.`
}

export function askToWithdraw(number: number): string {
  return (
    `Why? One tap is enough. Reading ${number} no longer counts from then on; it stays in the record with the ` +
    `reason, and can be counted again.`
  )
}

export function describeWithdrawn(number: number): string {
  return `Reading ${number} withdrawn. It stays in the record.`
}
