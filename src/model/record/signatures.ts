import { canonicalJson } from '../canonicalJson.ts'
import { byId } from '../queries/byId.ts'
import type { Entry, EntryOf } from '../schema/record.ts'
import type { Site } from '../schema/site.ts'
import { inCanonicalOrder } from './canonicalOrder.ts'
import { effectiveRecord } from './effectiveRecord.ts'

type Signature = EntryOf<'signature'>

/** Point of a plan that a signature releases. */
export interface PlanPoint {
  readonly plan: string
  readonly planPair: number
}

/** What a signature of a visit, or of a point of a plan, would stand for now. */
export type ToSign = Pick<Signature, 'drawing' | 'drawingRevision' | 'entries' | 'plan' | 'planPair'>

/**
 * Everything that was entered in a visit so far but its signatures, in canonical order; of a point of a plan only the
 * readings of its pair, with what was said about them. The drawing is named by its revision.
 */
export function toSign({ drawing, record }: Site, visit: string, point: PlanPoint | null): ToSign {
  const entries = scopeOf(record, visit, point).map(({ id }) => id)
  return {
    drawing: drawing.revision,
    drawingRevision: drawing.facts.drawingRevision,
    entries,
    plan: point?.plan ?? null,
    planPair: point?.planPair ?? null,
  }
}

/**
 * The text whose SHA-256 (of its UTF-8 bytes) a signature carries: canonical JSON of the drawing's revision, of what its
 * sheet calls it, and of the entries as they were first recorded, in the order in which the signature names them. Null
 * where an entry is not in the record.
 */
export function signedText(
  record: readonly Entry[],
  { drawing, drawingRevision, entries }: Pick<Signature, 'drawing' | 'drawingRevision' | 'entries'>,
): string | null {
  const present = byId(record)
  const found = entries.map((id) => present.get(id))
  if (found.includes(undefined)) return null
  return canonicalJson({ drawing, drawingRevision, entries: found })
}

/** Why what was signed is no longer all there is. */
export type Reopening =
  /** `by` corrects or withdraws the signed entry `of`. */
  | { readonly why: 'corrected' | 'withdrawn'; readonly by: string; readonly of: string }
  /** Entered in the visit, or for the point, and not among what was signed. */
  | { readonly why: 'added'; readonly by: string }
  /** The drawing has another revision now. */
  | { readonly why: 'drawing' }

export type SignedState =
  | { readonly state: 'holds' }
  | { readonly state: 'reopened'; readonly by: readonly Reopening[] }
  /** Its digest is not that of the entries that it names: the file was changed outside the program. */
  | { readonly state: 'doesNotMatch' }
  /** The digest is still being made; what reopens it is known already. */
  | { readonly state: 'unchecked'; readonly by: readonly Reopening[] }
  | { readonly state: 'withdrawn'; readonly by: string }

/**
 * What became of a signature. `digestOf` gives the SHA-256 of a text as 64 small hexadecimal digits, or null where it
 * does not know it yet. A change that was itself signed reopens nothing; an earlier signature of the visit is no change.
 */
export function signedState(
  site: Site,
  signature: Signature,
  digestOf: (text: string) => string | null,
): SignedState {
  const withdrawal = withdrawnBy(site.record, signature.id)
  if (withdrawal !== null) return { state: 'withdrawn', by: withdrawal }
  const text = signedText(site.record, signature)
  const digest = text === null ? '' : digestOf(text)
  if (digest !== null && digest !== signature.digest) return { state: 'doesNotMatch' }
  const by = reopenings(site, signature)
  if (digest === null) return { state: 'unchecked', by }
  return by.length > 0 ? { state: 'reopened', by } : { state: 'holds' }
}

/** Signatures in canonical order, those that are withdrawn among them. */
export function signaturesOf(record: readonly Entry[]): readonly Signature[] {
  return inCanonicalOrder(record).flatMap((entry) => (entry.entry === 'signature' ? [entry] : []))
}

function reopenings(site: Site, signature: Signature): readonly Reopening[] {
  const { record, drawing } = site
  const signed = new Set(signature.entries)
  const found: Reopening[] = []
  const told = new Set<string>()
  for (const { original, corrections, withdrawnBy } of effectiveRecord(record)) {
    if (!signed.has(original.id)) continue
    for (const { id } of corrections) {
      if (signed.has(id)) continue
      found.push({ why: 'corrected', by: id, of: original.id })
      told.add(id)
    }
    if (withdrawnBy && !signed.has(withdrawnBy.id)) {
      found.push({ why: 'withdrawn', by: withdrawnBy.id, of: original.id })
      told.add(withdrawnBy.id)
    }
  }
  const { plan, planPair, visit } = signature
  const point = plan !== null && planPair !== null ? { plan, planPair } : null
  for (const { id } of scopeOf(record, visit, point)) {
    if (!signed.has(id) && !told.has(id)) found.push({ why: 'added', by: id })
  }
  if (signature.drawing !== drawing.revision) found.push({ why: 'drawing' })
  return found
}

/** Entries of a visit, or about a point, but signatures and what was said about signatures. */
function scopeOf(record: readonly Entry[], visit: string, point: PlanPoint | null): readonly Entry[] {
  const present = byId(record)
  const ordered = inCanonicalOrder(record).filter((entry) => {
    if (entry.entry === 'signature') return false
    if (entry.entry === 'withdrawal' && targetOf(present, entry)?.entry === 'signature') return false
    return entry.entry === 'visit' ? entry.id === visit : entry.visit === visit
  })
  if (point === null) return ordered
  return ordered.filter((entry) => {
    const about =
      entry.entry === 'correction' || entry.entry === 'withdrawal' ? targetOf(present, entry) : entry
    return about?.entry === 'reading' && about.plan === point.plan && about.planPair === point.planPair
  })
}

/** What a correction or withdrawal is about in the end: a withdrawal of a withdrawal is about that one's entry. */
function targetOf(
  present: ReadonlyMap<string, Entry>,
  entry: EntryOf<'correction' | 'withdrawal'>,
): Entry | undefined {
  const seen = new Set<string>()
  let target = present.get(entry.of)
  while (target?.entry === 'correction' || target?.entry === 'withdrawal') {
    if (seen.has(target.id)) return undefined
    seen.add(target.id)
    target = present.get(target.of)
  }
  return target
}

function withdrawnBy(record: readonly Entry[], id: string): string | null {
  return effectiveRecord(record).find(({ original }) => original.id === id)?.withdrawnBy?.id ?? null
}
