import { z } from 'zod'
import { spotSchema } from '../model/schema/record.ts'

const text = z.string().max(1000).catch('')
const choice = z.string().max(1000).nullable().catch(null)
const unit = z.enum(['mΩ', 'Ω']).nullable().catch(null)
const clip = spotSchema.nullable().catch(null)

const count = z.int().min(1).nullable().catch(null)
const number = z.number().nullable().catch(null)

/** What else is noted of a reading, in SI; null where nothing is. */
const keptExtrasSchema = z.object({
  reverseOhm: number,
  leastOhm: number,
  mostOhm: number,
  testCurrentA: number,
  metalC: number,
  trackerDeg: number,
  spikeCurrentM: number,
  spikePotentialM: number,
  note: z.string().max(10_000).catch(''),
  photos: z.array(z.string().max(64)).max(50).readonly().catch([]),
  /** Joint in the jaws of a loop clamp. */
  around: choice,
  trying: z.enum(['clip', 'lead', 'polarity', 'seat']).nullable().catch(null),
  /** The plan that is walked, the pair that one stands at, and those that were passed over. */
  plan: choice,
  planPair: count,
  /** Last entry of the record when a plan that had been read already was begun anew. */
  walkedAfter: choice,
  passedOver: z.array(z.int()).max(100_000).readonly().catch([]),
  /** Entry of the reading that is being checked. */
  checking: choice,
})

export type KeptExtras = z.infer<typeof keptExtrasSchema>

/** Nothing noted. */
export const noExtras: KeptExtras = keptExtrasSchema.parse({})

/**
 * What is kept of a draft of a reading, as plain JSON. A field that is missing, or that no longer means anything, is as
 * if nothing had been typed there.
 */
const keptDraftSchema = z.object({
  ohms: text,
  chosenUnit: unit,
  typedUnit: unit,
  isOver: z.boolean().catch(false),
  repeats: choice,
  kit: choice,
  lead: choice,
  fromText: text,
  toText: text,
  fromClip: clip,
  toClip: clip,
  leftUnnulled: choice,
  extras: keptExtrasSchema.catch(noExtras),
})

export type KeptDraft = z.infer<typeof keptDraftSchema>

/** A draft from whatever was kept. */
export function readKeptDraft(kept: unknown): KeptDraft {
  const read = keptDraftSchema.safeParse(kept)
  return read.success ? read.data : keptDraftSchema.parse({})
}

const keptEntrySchema = z.object({
  from: z.string().nullable(),
  to: z.string().nullable(),
  /** Last entry of the record when this was typed; null where it was empty. */
  after: z.string().nullable(),
  draft: z.unknown(),
})

/** A draft with both ends of its pair; null where nothing was kept or it cannot be read. */
export function readKeptPair(kept: string | null): z.infer<typeof keptEntrySchema> | null {
  try {
    const read = keptEntrySchema.safeParse(JSON.parse(kept ?? 'null'))
    return read.success ? read.data : null
  } catch {
    return null
  }
}
