import type { Migration, PlainDocument } from './migration.ts'

type Change = (plain: PlainDocument) => PlainDocument

const isPlain = (value: unknown): value is PlainDocument =>
  typeof value === 'object' && value !== null && !Array.isArray(value)
const each = (value: unknown, change: Change): unknown =>
  Array.isArray(value) ? value.map((item: unknown) => (isPlain(item) ? change(item) : item)) : value

const kit: Change = (one) => ({ ...one, lastCheck: null })
const pair: Change = (one) => ({ ...one, step: '', point: 'none' })

/** What version 1 did not ask is left open: unknown, none, or empty. */
const byEntry: Readonly<Record<string, Change>> = {
  visit: (entry) => ({
    ...entry,
    kits: each(entry.kits, kit),
    inverter: 'unknown',
    isolators: 'unknown',
    lockOut: '',
  }),
  volts: (entry) => ({ ...entry, toEarth: null }),
  reading: (entry) => ({ ...entry, trying: null, spikesM: null }),
  look: ({ finding, ...entry }) => ({ ...entry, findings: [finding] }),
  repair: (entry) => ({ ...entry, torqueSetNm: null, coating: 'notTouched', photos: [] }),
  signature: (entry) => ({ ...entry, drawingRevision: '', plan: null, planPair: null, note: '' }),
}

/**
 * Version 2 keeps what a whole day of measuring needs: particulars and amendments of a visit, volts to earth, steps of
 * a check, several findings of one look, defects with their states, points of a plan, and what a signature stands for.
 * A signature of version 1 named no drawing: it is taken to be the one that the file holds.
 */
export const fromV1: Migration = (document) => {
  const drawing = isPlain(document.drawing) ? document.drawing : null
  const revision = drawing?.revision
  const migrated = drawing && {
    ...drawing,
    facts: isPlain(drawing.facts) ? { ...drawing.facts, drawingRevision: '', mostVolts: 10 } : drawing.facts,
    criteria: each(drawing.criteria, (one) => ({ ...one, againstPairs: false })),
    plans: each(drawing.plans, (plan) => ({ ...plan, pairs: each(plan.pairs, pair) })),
  }
  const record = each(document.record, (entry) => {
    const sort = entry.entry
    const change = typeof sort === 'string' && Object.hasOwn(byEntry, sort) ? byEntry[sort] : undefined
    const changed = change ? change(entry) : entry
    return entry.entry === 'signature' ? { ...changed, drawing: revision } : changed
  })
  return { ...document, drawing: migrated ?? document.drawing, record }
}
