import { z } from 'zod'
import { limits } from '../limits.ts'
import {
  addressText,
  areaMm2,
  bearingDeg,
  conductorMaterial,
  lengthM,
  longText,
  nameText,
  pointM,
  positiveOhm,
  slug,
  storedId,
} from './primitives.ts'

/** Inverter housings, combiner boxes, trays: metal with one potential. Address E1, E2 … */
export const enclosureSchema = z
  .strictObject({
    id: storedId,
    label: nameText,
    atM: pointM,
    widthM: lengthM,
    depthM: lengthM,
    bearingDeg,
  })
  .readonly()

/** Bars where earthing and bonding conductors meet. Address B1, B2 … */
export const earthBarSchema = z.strictObject({ id: storedId, label: nameText, atM: pointM }).readonly()

const electrodeBase = { id: storedId, label: nameText, measuredOhm: positiveOhm.nullable() }

/**
 * Metal buried to make contact with soil. Address G1, G2 … Where a resistance to remote earth was
 * measured, it stands in `measuredOhm` and is used instead of the computed one.
 */
export const electrodeSchema = z
  .discriminatedUnion('form', [
    z.strictObject({ ...electrodeBase, form: z.literal('rod'), atM: pointM, lengthM, diameterM: lengthM }),
    z.strictObject({
      ...electrodeBase,
      form: z.literal('plate'),
      atM: pointM,
      areaM2: lengthM,
      depthM: lengthM,
    }),
    z.strictObject({
      ...electrodeBase,
      form: z.literal('strip'),
      pathM: z.array(pointM).min(2).max(limits.pointsPerPath).readonly(),
      closed: z.boolean(),
      diameterM: lengthM,
      depthM: lengthM,
    }),
  ])
  .readonly()

/**
 * A conductor runs through its points in order. A point that lands on a part is a joint (lug or clamp) to
 * it; the first and the last point, and every landing, are parts of the conductor (address C5.2: conductor
 * 5, point 2), with the conductor's own metal between them.
 */
export const conductorSchema = z
  .strictObject({
    id: storedId,
    label: nameText,
    material: conductorMaterial,
    areaMm2,
    /** Catalogue size such as `mm2-16` or `awg-6`, where one was chosen. */
    size: z.string().max(40).nullable(),
    closed: z.boolean(),
    points: z
      .array(
        z
          .strictObject({
            id: storedId,
            atM: pointM,
            landing: z.strictObject({ part: addressText, kind: slug }).readonly().nullable(),
          })
          .readonly(),
      )
      .min(2)
      .max(limits.pointsPerPath)
      .readonly(),
    nextPoint: storedId,
    /** Total length where it was measured; else the drawn length is used. */
    lengthM: lengthM.nullable(),
  })
  .readonly()

/** A metal path that no table type or conductor describes: fence, tray, drive shaft. Address J1, J2 … */
export const extraJointSchema = z
  .strictObject({
    id: storedId,
    label: nameText,
    from: addressText,
    to: addressText,
    kind: slug,
    /** Replaces the kind's median; required where the kind has none. */
    medianOhm: positiveOhm.nullable(),
  })
  .readonly()

/** A joint of a table, row or conductor that is designed otherwise than its pattern says. */
export const differingJointSchema = z
  .strictObject({
    joint: addressText,
    /** `absent`: the pattern puts a joint here, the design does not. */
    change: z.enum(['absent', 'other']),
    kind: slug.nullable(),
    medianOhm: positiveOhm.nullable(),
  })
  .readonly()

/** What was found otherwise than drawn; the drawing itself stays as designed. */
export const asBuiltSchema = z
  .strictObject({
    id: storedId,
    found: z.discriminatedUnion('form', [
      z.strictObject({ form: z.literal('jointAbsent'), joint: addressText }),
      z.strictObject({
        form: z.literal('jointOther'),
        joint: addressText,
        kind: slug.nullable(),
        medianOhm: positiveOhm.nullable(),
      }),
      z.strictObject({
        form: z.literal('jointAdded'),
        from: addressText,
        to: addressText,
        kind: slug,
        medianOhm: positiveOhm.nullable(),
      }),
      z.strictObject({ form: z.literal('other'), about: addressText }),
    ]),
    on: z.iso.date().nullable(),
    note: longText,
  })
  .readonly()

export type Enclosure = z.infer<typeof enclosureSchema>
export type EarthBar = z.infer<typeof earthBarSchema>
export type Electrode = z.infer<typeof electrodeSchema>
export type Conductor = z.infer<typeof conductorSchema>
export type ConductorPoint = Conductor['points'][number]
export type ExtraJoint = z.infer<typeof extraJointSchema>
export type DifferingJoint = z.infer<typeof differingJointSchema>
export type AsBuilt = z.infer<typeof asBuiltSchema>
