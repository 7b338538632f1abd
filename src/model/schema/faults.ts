import { z } from 'zod'
import { addressText, longText, nameText, slug } from './primitives.ts'

const volts = z.number().positive().max(100_000)
const amperes = z.number().positive().max(1_000_000)

/** What can drive a fault current through the bond network. */
export const sourceSchema = z
  .discriminatedUnion('form', [
    z.strictObject({
      id: slug,
      form: z.literal('pvString'),
      name: nameText,
      openCircuitV: volts,
      shortCircuitA: amperes,
      modulesInSeries: z.int().min(1).max(100),
      stringsInParallel: z.int().min(1).max(10_000),
      referencing: z.enum(['floating', 'earthedNegative', 'earthedPositive', 'transformerless']),
    }),
    z.strictObject({
      id: slug,
      form: z.literal('ac'),
      name: nameText,
      phaseV: volts,
      frequencyHz: z.number().positive().max(1000),
      sourceOhm: z.number().positive().max(10_000),
      returnPart: addressText.nullable(),
    }),
  ])
  .readonly()

/** What is meant to notice or to interrupt a fault current. */
export const deviceSchema = z
  .strictObject({
    id: slug,
    name: nameText,
    form: z.enum(['fuse', 'circuitBreaker', 'residualCurrent', 'groundFaultFuse', 'insulationMonitor']),
    /** Class as the product standard writes it: gG, gPV, B, C, D … */
    characteristic: nameText,
    ratedA: amperes.nullable(),
    protects: slug.nullable(),
    note: longText,
  })
  .readonly()

export const lessonSchema = z
  .strictObject({
    id: slug,
    title: nameText,
    steps: z
      .array(z.strictObject({ text: longText, about: addressText.nullable() }).readonly())
      .max(200)
      .readonly(),
  })
  .readonly()

export type FaultSource = z.infer<typeof sourceSchema>
export type ProtectiveDevice = z.infer<typeof deviceSchema>
export type Lesson = z.infer<typeof lessonSchema>
