import { z } from 'zod'
import { kitSchema, leadSchema } from './record.ts'

const counts = z.int().min(0).max(100_000)
const text = z.string().max(1000)
const result = z.discriminatedUnion('form', [
  z.object({ form: z.literal('ohm'), ohm: z.number() }),
  z.object({ form: z.literal('over'), atLeastOhm: z.number() }),
])
/** What is kept on a device of a drill that goes on; no part of the site file. */
export const keptDrillSchema = z.object({
  site: text,
  start: z.object({
    countIncidental: z.boolean(),
    asBuilt: z.boolean(),
    hiding: z.discriminatedUnion('by', [
      z.object({ by: z.literal('seed'), seed: z.number() }),
      z.object({
        by: z.literal('trainer'),
        seed: z.number(),
        joint: text,
        addedOhm: z.number().nullable(),
      }),
    ]),
    kit: kitSchema,
    lead: leadSchema.nullable(),
    mayAsk: z.object({ suspects: z.boolean(), next: z.boolean() }),
  }),
  stood: z.object({
    nullings: counts,
    readings: z.array(
      z.object({ from: text, to: text, how: z.enum(['new', 'again', 'reseat']), nullings: counts, result }),
    ),
    called: z.array(
      z.discriminatedUnion('call', [
        z.object({ call: z.literal('joint'), joint: text, isRight: z.boolean() }),
        z.object({ call: z.literal('badTest'), reading: counts, isRight: z.boolean() }),
      ]),
    ),
    asked: z.array(z.object({ question: z.enum(['suspects', 'next']), readings: counts })),
  }),
})
