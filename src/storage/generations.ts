import type { BinRow, Copy, EarlierVersion, SiteRow, StoredSite, WhyKept } from './storedSite.ts'
import { thinVersions } from './versions.ts'

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
 * its newest copy alone after an older one was needed. A sound copy that no longer is one of the two becomes an earlier
 * version, as far as `thinVersions` lets it stay.
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
  const passed = copies.slice(copiesKept).map((copy): EarlierVersion => ({ ...copy, why: 'time' }))
  const row: SiteRow = {
    ...summary,
    savedAt: saved.savedAt,
    bytes: saved.bytes,
    generation: saved.generation,
    copies: copies.slice(0, copiesKept),
    setAside: setAside.slice(0, setAsideKept),
    versions: thinVersions(withVersions(previous?.versions ?? [], passed), Date.parse(saved.savedAt)),
  }
  return { row, dropped: droppedTexts(previous, row) }
}

/** The row with a copy kept as an earlier version, or with another set of them. */
export function rowWithVersions(row: SiteRow, versions: readonly EarlierVersion[]): NextRow {
  const next = { ...row, versions }
  return { row: next, dropped: droppedTexts(row, next) }
}

export function versionOf(copy: Copy, why: WhyKept): EarlierVersion {
  return { ...copy, why }
}

/** One copy is one version: what is known of it already says why it stays. */
export function withVersions(
  known: readonly EarlierVersion[],
  added: readonly EarlierVersion[],
): readonly EarlierVersion[] {
  const keys = new Set(known.map(({ key }) => key))
  return [...added.filter(({ key }) => !keys.has(key)), ...known]
}

function droppedTexts(previous: SiteRow | undefined, next: SiteRow): readonly string[] {
  const kept = new Set(textsOf(next))
  return previous ? textsOf(previous).filter((key) => !kept.has(key)) : []
}

/** Keys of all texts that a row refers to. */
export function textsOf({ copies, setAside, versions = [] }: SiteRow): readonly string[] {
  return [...new Set([...copies, ...setAside, ...versions].map(({ key }) => key))]
}

export function keptUntilMs({ binnedAtMs }: BinRow): number {
  return binnedAtMs + binKeptMs
}

export function isExpired(binned: BinRow, nowMs: number): boolean {
  return nowMs >= keptUntilMs(binned)
}
