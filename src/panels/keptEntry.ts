import type { Site } from '../model/schema/site.ts'
import type { PartPair } from '../state/selection.svelte.ts'
import { readKeptPair, type KeptDraft } from '../storage/keptDraft.ts'

export interface KeptEntry {
  readonly from: string | null
  readonly to: string | null
  /** As `PairDraft.restore` takes it. */
  readonly draft: unknown
}

/** The form of a pair as text: both ends, what is typed, and how far the record had come. */
export function writeKeptEntry(
  site: Site,
  { from, to }: { readonly [K in keyof PartPair]: string | null },
  draft: KeptDraft,
): string {
  return JSON.stringify({ from, to, after: site.record.at(-1)?.id ?? null, draft })
}

/**
 * What was typed when the page ended; null where nothing was kept, where it cannot be read, and where a reading of
 * the same pair stands in the record since: then it had been entered, and must not be entered twice.
 */
export function readKeptEntry(text: string | null, site: Site): KeptEntry | null {
  const read = readKeptPair(text)
  if (!read) return null
  const { from, to, after, draft } = read
  const last = site.record.findLastIndex(({ id }) => id === after)
  const isEntered = site.record
    .slice(last + 1)
    .some((entry) => entry.entry === 'reading' && entry.from?.part === from && entry.to?.part === to)
  return isEntered ? null : { from, to, draft }
}
