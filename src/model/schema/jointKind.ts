import { z } from 'zod'
import { longText, nameText, positiveOhm, probability, slug } from './primitives.ts'

/**
 * One row of the joint catalogue: the median resistance of sound joints of the kind, the standard
 * deviation of its natural logarithm, and the share found bad in a new array. `medianOhm` is null where
 * the resistance follows from material, size and length (wires, member bodies) or from soil.
 */
export const jointKindSchema = z
  .strictObject({
    id: slug,
    name: nameText,
    /** `relied` joints are there to bond; `incidental` ones happen to conduct today. */
    purpose: z.enum(['relied', 'incidental']),
    medianOhm: positiveOhm.nullable(),
    lnSpread: z.number().min(0).max(4),
    defectRate: probability,
    source: longText,
  })
  .readonly()

export type JointKind = z.infer<typeof jointKindSchema>
