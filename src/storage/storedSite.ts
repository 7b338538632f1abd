import { countedEntries } from '../model/record/effectiveRecord.ts'
import type { Site } from '../model/schema/site.ts'

/** One saved text of a site. The text itself lies apart under `key`, so that a list loads none. */
export interface Copy {
  readonly key: string
  readonly generation: number
  /** ISO 8601 in the zone of the device. */
  readonly savedAt: string
  readonly bytes: number
  /** SHA-256 of the text's UTF-8, in hexadecimal. */
  readonly sha256: string
  /** What a list says of it; older copies do not have it. */
  readonly counts?: Counts
}

export interface Counts {
  /** Those that count. */
  readonly readings: number
  readonly rows: number
}

/** Why a version stayed: time went on, or something larger was about to be done; `otherDrawing` came with a file. */
export type WhyKept = 'time' | 'import' | 'merge' | 'back' | 'otherDrawing'

/** A copy that one can go back to. */
export interface EarlierVersion extends Copy {
  readonly why: WhyKept
}

/** What a list of sites shows. */
export interface StoredSite {
  readonly id: string
  readonly name: string
  readonly savedAt: string
  readonly bytes: number
  /** Those that count. */
  readonly readings: number
  readonly rows: number
  /** The site beside which this one was kept because of a conflict. */
  readonly recoveredFrom: string | null
}

export interface BinnedSite extends StoredSite {
  /** Names this piece of the bin: one site can lie in it twice. */
  readonly key: string
  readonly binnedAt: string
  /** From this time on it is removed for good. */
  readonly keptUntil: string
}

/** The row of a site in the database. */
export interface SiteRow extends StoredSite {
  readonly generation: number
  /** Newest first, two at most. */
  readonly copies: readonly Copy[]
  /** Damaged copies, kept as they are for a while: a person may still read something in them. */
  readonly setAside: readonly Copy[]
  /** The newest first; rows of databases of version 1 have none. */
  readonly versions?: readonly EarlierVersion[]
}

export interface BinRow {
  readonly key: string
  readonly binnedAtMs: number
  readonly site: SiteRow
}

/** What a list says of a site, taken from the site. */
export function summaryOf(site: Site): Pick<StoredSite, 'id' | 'name' | 'readings' | 'rows'> {
  return {
    id: site.id,
    name: site.name,
    readings: countedEntries(site.record, 'reading').length,
    rows: site.drawing.rows.length,
  }
}

/** The part of a row that leaves the store. */
export function listed({ id, name, savedAt, bytes, readings, rows, recoveredFrom }: SiteRow): StoredSite {
  return { id, name, savedAt, bytes, readings, rows, recoveredFrom }
}
