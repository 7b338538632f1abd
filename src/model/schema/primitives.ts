import { z } from 'zod'
import { limits } from '../limits.ts'
import { materialIds } from '../materials.ts'

export const nameText = z.string().max(limits.nameLength)
export const longText = z.string().max(limits.textLength)
/** A short name that a person does not read: table types, joint kinds, criteria, plans. */
export const slug = z.string().regex(/^[a-z][A-Za-z0-9-]{0,39}$/, {
  error: 'a short name: a small letter, then up to 39 letters, digits or hyphens',
})
/** Stored ids of rows, tables, conductors … are counted up and never reused. */
export const storedId = z.int().min(1).max(2_000_000_000)
export const entryId = z.uuid()
export const metres = z.number().min(-limits.coordinateM).max(limits.coordinateM)
export const lengthM = z.number().positive().max(limits.coordinateM)
export const pointM = z.strictObject({ x: metres, y: metres }).readonly()
export const positiveOhm = z.number().positive().max(limits.readingOhm)
export const areaMm2 = z.number().positive().max(1_000_000)
export const celsius = z.number().min(-90).max(200)
/** Clockwise from north, in degrees. */
export const bearingDeg = z.number().min(0).lt(360)
export const probability = z.number().min(0).max(1)
/** An address is checked for its form where it is resolved, with a sentence that names it. */
export const addressText = z.string().min(1).max(80)
/** ISO 8601 with a zone, so that entries of two devices can be put in order. */
export const instant = z.iso.datetime({ offset: true })
export const sha256 = z.string().regex(/^[0-9a-f]{64}$/)

export const conductorMaterial = z.enum(materialIds)

export type PointM = z.infer<typeof pointM>
