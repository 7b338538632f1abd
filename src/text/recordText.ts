import { formatCounted } from './units.ts'

/** Sentences about the list of readings. */
export const recordTexts = {
  noReadings:
    'No readings yet. Link two parts above, or drag from one part of the map to another, and type the ohms.',
  noneOfThese: 'No reading has this look now.',
  noSite: 'No site is open. Open one from the list of sites.',
  waysOut: 'A withdrawn reading stays in the record and counts no more.',
} as const

/** How many readings are listed, and how many a filter leaves out. */
export function describeShown(shown: number, all: number): string {
  return shown === all ? formatCounted(all, 'reading') : `${shown} of ${formatCounted(all, 'reading')}`
}

export function askToWithdraw(number: number): string {
  return (
    `Reading ${number} will no longer count. It stays in the record with the reason that you give here; nothing ` +
    `is removed.`
  )
}

export function describeWithdrawn(number: number): string {
  return `Reading ${number} withdrawn. It stays in the record.`
}
