import { z } from 'zod'
import { pointM } from './schema/primitives.ts'

const size = z.number().nonnegative()
const part = z.string().max(200)
const module = z.int().nonnegative()
const setupSchema = z.object({
  at: part.nullable(),
  source: part.nullable(),
  moduleFromNegative: module.nullable(),
  earthed: z.union([z.literal(['bar', 'remoteEarth']), z.object({ part })]),
  earthingOhm: size,
  second: z.object({ part, moduleFromNegative: module, sameString: z.boolean() }).nullable(),
  insulationOhm: size,
  capacitanceF: size,
  light: size,
  conductorOhm: size,
  countIncidental: z.boolean(),
  altered: z.array(z.object({ joint: part, ohm: size.nullable() })).max(1000),
  person: z
    .object({
      hand: part,
      other: part.nullable(),
      surface: z.object({ ohmM: size, thicknessM: size }).nullable(),
      shoeOhm: size,
      isWet: z.boolean(),
      armReachM: size,
    })
    .nullable(),
})
/** A fault that is looked at as it is kept on a device, of no site file; `state/keptFault.ts` says what its fields are. */
export const keptFaultSchema = z.object({
  setup: setupSchema,
  watched: z.array(z.object({ from: part, to: part })).max(1000),
  showsChange: z.boolean(),
  isPaused: z.boolean(),
  // a fault that was kept before these two were has neither
  showsGround: z.boolean().default(false),
  place: z
    .union([z.strictObject({ atM: pointM }), z.strictObject({ besidePart: part })])
    .nullable()
    .default(null),
})
