import { z } from 'zod'
import { limits } from '../limits.ts'
import { drawingSchema } from './drawing.ts'
import { entryId, nameText } from './primitives.ts'
import { entrySchema } from './record.ts'

export const siteFormat = 'groundweave-site'
export const siteVersion = 2

/** A site file: what was drawn, and what happened. Everything else is computed from it. */
export const siteSchema = z
  .strictObject({
    format: z.literal(siteFormat),
    version: z.literal(siteVersion),
    id: entryId,
    name: nameText,
    drawing: drawingSchema,
    /** Append-only; entries are never changed or removed. */
    record: z.array(entrySchema).max(limits.recordEntries).readonly(),
  })
  .readonly()

export type Site = z.infer<typeof siteSchema>
