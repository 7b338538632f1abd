import { z } from 'zod'
import { limits } from '../limits.ts'
import { addressText, longText, nameText, pointM, positiveOhm, slug, storedId } from './primitives.ts'

export const partKind = z.enum([
  'frame',
  'longMember',
  'crossMember',
  'post',
  'enclosure',
  'earthBar',
  'electrode',
  'conductorEnd',
])

/** Whether parts of a kind can be reached with a probe, and what the probe meets there. */
export const accessSchema = z
  .strictObject({ part: partKind, reachable: z.boolean(), surface: z.enum(['bare', 'coated']) })
  .readonly()

export const aisleSchema = z
  .strictObject({ id: storedId, pathM: z.array(pointM).min(2).max(limits.pointsPerPath).readonly() })
  .readonly()

export const obstacleSchema = z
  .strictObject({
    id: storedId,
    name: nameText,
    outlineM: z.array(pointM).min(3).max(limits.pointsPerPath).readonly(),
  })
  .readonly()

/**
 * Levels for a class of pairs. `quantity` keeps bonding, electrode and type-test values apart: they are
 * different quantities and are not compared with each other.
 */
export const criterionSchema = z
  .strictObject({
    id: slug,
    name: nameText,
    scope: z.enum(['pathToEarthBar', 'neighbours', 'sameTable', 'anyPair']),
    quantity: z.enum(['bondingPath', 'electrodeToEarth', 'typeTest']),
    investigateAboveOhm: positiveOhm.nullable(),
    rejectAboveOhm: positiveOhm.nullable(),
    /** The computed resistance of the conductors on the path is added to the levels. */
    addConductor: z.boolean(),
    testCurrentA: z.number().positive().max(10_000).nullable(),
    source: longText,
    edition: nameText,
    /** Clause of the source, or of the contract that asks for it. */
    clause: nameText,
    /**
     * An electrode's or a type test's levels held against bonding pairs all the same: someone chose so after being
     * told that it is another quantity, and every verdict by it says so.
     */
    againstPairs: z.boolean(),
  })
  .readonly()

export const planSchema = z
  .strictObject({
    id: slug,
    name: nameText,
    note: longText,
    pairs: z
      .array(
        z
          .strictObject({
            id: storedId,
            from: addressText,
            to: addressText,
            /** Asked for by a contract: stays in the plan whatever else is proposed. */
            required: z.boolean(),
            /** Step of the test as the contract's test plan names it; empty where it names none. */
            step: nameText,
            /** `witness`: somebody is told and may watch; `hold`: no further reading before it is signed. */
            point: z.enum(['none', 'witness', 'hold']),
          })
          .readonly(),
      )
      .max(limits.items)
      .readonly(),
    nextPair: storedId,
  })
  .readonly()

export type PartKind = z.infer<typeof partKind>
export type Access = z.infer<typeof accessSchema>
export type Criterion = z.infer<typeof criterionSchema>
export type Plan = z.infer<typeof planSchema>
export type Aisle = z.infer<typeof aisleSchema>
export type Obstacle = z.infer<typeof obstacleSchema>
