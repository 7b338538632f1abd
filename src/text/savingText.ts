import type { Problem } from '../model/problem.ts'
import { formatInstant } from './instants.ts'
import { describeProblem } from './problems.ts'
import { formatCounted } from './units.ts'

export type SavingName = 'none' | 'saved' | 'saving' | 'failed' | 'readOnly'

/** Why an earlier version stays. */
export type WhyKeptName = 'time' | 'import' | 'merge' | 'back' | 'otherDrawing'

/** Whether the work is kept, in a few words; `saved` is only said of what is on the disk. */
export function savingWords(saving: SavingName, isStored: boolean): string {
  if (saving === 'none') return 'No site is open'
  if (saving === 'readOnly') return 'Open in another tab'
  if (!isStored) return 'Not kept on this device'
  return { saved: 'Saved on this device', saving: 'Saving', failed: 'Not saved' }[saving]
}

/** The same in one word beside the name of the site; null where there is trouble, which is said in full. */
export function savingShort(saving: SavingName, isStored: boolean): string | null {
  if (!isStored) return null
  if (saving === 'saved') return 'saved'
  return saving === 'saving' ? 'saving' : null
}

/** What to do when the work is not kept; null when it is. */
export function describeNotSaved(
  saving: SavingName,
  isStored: boolean,
  problem: Problem | null,
): string | null {
  if (saving === 'failed' && problem) return describeProblem(problem)
  if (saving === 'failed') return 'The last change is not saved. Save the site as a file now.'
  if (saving !== 'none' && saving !== 'readOnly' && !isStored)
    return 'This browser keeps nothing for this page, so the site is gone when the page closes. Save it as a file.'
  return null
}

export const librarySentences = {
  otherTab:
    'This site is open in another tab or window, so it can only be looked at here. Go on there, or take it over: ' +
    'the other tab can then only look at it.',
  empty: 'No site is kept on this device yet. Open a file, or begin with a demo site.',
  drop: 'Or drop a site file here.',
  nothingOpen: 'No site is open.',
  stays: 'Everything stays on this device. Nothing that you draw or measure is sent anywhere.',
  updateWaits: 'The new version waits: what is open is not saved on this device. Save it as a file first.',
  tryAgain: 'Try to save again',
  binEmpty: 'The bin is empty.',
  freshCopy: 'Opens a fresh copy; yours stays as it is.',
  newName: 'New site',
} as const

/** One kept site below its name. */
export function describeKept(site: {
  readonly rows: number
  readonly readings: number
  readonly savedAt: string
}): string {
  return (
    `${formatCounted(site.rows, 'row')}, ${formatCounted(site.readings, 'reading')}, saved ` +
    formatInstant(site.savedAt)
  )
}

export function describeBinned(site: { readonly binnedAt: string; readonly keptUntil: string }): string {
  return `Removed ${formatInstant(site.binnedAt)}; kept until ${formatInstant(site.keptUntil)}`
}

export function askToRemove(isOpen: boolean): string {
  return `It stays in the bin for 30 days and can be brought back from there.${isOpen ? ' It is the site that is open now.' : ''}`
}

/** What sites take on this device, and what is left. */
export function describeRoom(usedBytes: number, freeBytes: number): string {
  return `Kept on this device: ${formatMegabytes(usedBytes)}. Room left: about ${formatMegabytes(freeBytes)}.`
}

/** What the photos take of it; null where there are none. */
export function describePhotoRoom(count: number, bytes: number): string | null {
  if (count === 0) return null
  return `${formatCounted(count, 'photo')}: ${formatMegabytes(bytes)}.`
}

/** What the browser answered when it was asked not to clear what is kept. */
export function describePersistence(answer: 'granted' | 'denied' | 'unknown' | null): string {
  switch (answer) {
    case 'granted':
      return 'The browser has agreed not to clear it by itself.'
    case 'denied':
      return 'The browser may clear it when the device runs out of room, so save files as well.'
    default:
      return 'Save files as well: a browser may clear what it keeps.'
  }
}

function formatMegabytes(bytes: number): string {
  const megabytes = bytes / (1024 * 1024)
  if (megabytes < 1) return 'less than 1 MB'
  if (megabytes < 1024) return `${Math.round(megabytes)} MB`
  return `${Number((megabytes / 1024).toPrecision(2))} GB`
}

/** What the browser did with a file that was saved. */
export function describeFileSaved(saved: {
  readonly fileName: string
  readonly isWritten: boolean
  readonly photosMissing?: number
}): string {
  const { fileName, isWritten, photosMissing = 0 } = saved
  const lacks =
    photosMissing === 0
      ? ''
      : ` It lacks ${formatCounted(photosMissing, 'photo')} that are not on this device.`
  return isWritten
    ? `Saved as ${fileName}.${lacks}`
    : `Handed to the browser as ${fileName}: look for it among your downloads.${lacks}`
}

/** Steps of the drawing's history; readings are no part of it. */
export const undoTexts = {
  nothingToUndo: 'no step of the drawing to take back; a reading is withdrawn instead',
  nothingToRedo: 'no step to make again',
  readOnly: 'another tab holds this site',
  undo: (label: string) => `Taken back: ${label}.`,
  redo: (label: string) => `Made again: ${label}.`,
} as const
