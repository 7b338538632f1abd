import type { BinRow, Copy, SiteRow, StoredSite } from './storedSite.ts'

const copiesKept = 2
const setAsideKept = 3
const binKeptMs = 30 * 24 * 3600 * 1000

export interface NextRow {
  readonly row: SiteRow
  /** Keys of texts that nothing refers to any more. */
  readonly dropped: readonly string[]
}

/**
 * The row after a save. The copy that was newest stays as the one before it, unless it was found damaged:
 * then the last sound one stays and the damaged one is set aside, so that a save never leaves a site with
 * its newest copy alone after an older one was needed.
 */
export function nextRow(
  previous: SiteRow | undefined,
  summary: Omit<StoredSite, 'savedAt' | 'bytes'>,
  saved: Copy,
  damaged: ReadonlySet<string>,
): NextRow {
  const before = previous?.copies ?? []
  const copies = [saved, ...before.filter(({ key }) => !damaged.has(key))]
  const setAside = [...before.filter(({ key }) => damaged.has(key)), ...(previous?.setAside ?? [])]
  const row: SiteRow = {
    ...summary,
    savedAt: saved.savedAt,
    bytes: saved.bytes,
    generation: saved.generation,
    copies: copies.slice(0, copiesKept),
    setAside: setAside.slice(0, setAsideKept),
  }
  return {
    row,
    dropped: [...copies.slice(copiesKept), ...setAside.slice(setAsideKept)].map(({ key }) => key),
  }
}

/** Keys of all texts that a row refers to. */
export function textsOf({ copies, setAside }: SiteRow): readonly string[] {
  return [...copies, ...setAside].map(({ key }) => key)
}

export function keptUntilMs({ binnedAtMs }: BinRow): number {
  return binnedAtMs + binKeptMs
}

export function isExpired(binned: BinRow, nowMs: number): boolean {
  return nowMs >= keptUntilMs(binned)
}
