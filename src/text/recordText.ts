import { formatCounted } from './units.ts'
import { printable } from './where.ts'

/** Sentences about the list of readings. */
export const recordTexts = {
  noReadings:
    'No readings yet. Link two parts above, or drag from one part of the map to another, and type the ohms.',
  noneOfThese: 'No reading has this look now.',
  noSite: 'No site is open. Open one from the list of sites.',
  askReason: 'For whoever reads the record later.',
} as const

/** How many readings are listed, and how many a filter leaves out. */
export function describeShown(shown: number, all: number): string {
  return shown === all ? formatCounted(all, 'reading') : `${shown} of ${formatCounted(all, 'reading')}`
}

/** Why a reading does not count, as whoever withdrew it put it. */
export function describeWhyWithdrawn(reason: string): string {
  const why = printable(reason, 500).trim()
  return why === '' ? 'Withdrawn, without a reason on record.' : `Withdrawn: ${why.replace(/\.$/, '')}.`
}

export function askToCountAgain(number: number): string {
  return `Reading ${number} will count again. Its withdrawal stays in the record, with the reason that you give here.`
}

export function describeCountedAgain(number: number): string {
  return `Reading ${number} counts again.`
}

export function askToWithdraw(number: number): string {
  return (
    `Reading ${number} will no longer count. It stays in the record with the reason that you give here, and can ` +
    `be counted again.`
  )
}

export function describeWithdrawn(number: number): string {
  return `Reading ${number} withdrawn. It stays in the record.`
}
