import { z } from 'zod'
import { spotSchema } from '../model/schema/record.ts'

const text = z.string().max(1000).catch('')
const choice = z.string().max(1000).nullable().catch(null)
const unit = z.enum(['mΩ', 'Ω']).nullable().catch(null)
const clip = spotSchema.nullable().catch(null)

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
