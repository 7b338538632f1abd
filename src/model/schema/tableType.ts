import { z } from 'zod'
import { limits } from '../limits.ts'
import { areaMm2, conductorMaterial, lengthM, nameText, slug } from './primitives.ts'

/**
 * Stations number the places along a table where long members are entered: station 1 is the outer edge of
 * the first module, station k the gap between modules k − 1 and k, station across + 1 the outer edge of
 * the last. A long member is one part per station, joined by its own metal or by a splice.
 */
const station = z
  .int()
  .min(1)
  .max(limits.modulesAcross + 1)

const modules = z
  .strictObject({
    high: z.int().min(1).max(limits.modulesHigh),
    across: z.int().min(1).max(limits.modulesAcross),
    longSideM: lengthM,
    shortSideM: lengthM,
    orientation: z.enum(['portrait', 'landscape']),
    gapAcrossM: z.number().min(0).max(10),
    gapHighM: z.number().min(0).max(10),
  })
  .readonly()

const longMember = z
  .strictObject({
    /** Module rows (1 = lowest) whose frames rest on this member. */
    carries: z.array(z.int().min(1).max(limits.modulesHigh)).max(limits.modulesHigh).readonly(),
    /** Distance of the member from the table's lower edge, measured in the plane of the modules. */
    upM: z.number().min(0).max(100),
    material: conductorMaterial,
    areaMm2,
    /** A splice joins station s to station s + 1 for each s listed here. */
    spliceAfter: z.array(station).max(limits.modulesAcross).readonly(),
  })
  .readonly()

const crossMembers = z
  .strictObject({
    stations: z.array(station).min(1).max(limits.posts).readonly(),
    /** How each cross member is joined to every long member it crosses. */
    bracketKind: slug,
  })
  .readonly()

const posts = z
  .strictObject({
    stations: z.array(station).min(1).max(limits.posts).readonly(),
    /** One line of posts, or a front and a rear line. */
    lines: z.union([z.literal(1), z.literal(2)]),
    support: z.enum(['fixed', 'pivot']),
    /** Parallel joints from each post to the structure it carries; none where a polymer bush isolates it. */
    bondKinds: z.array(slug).max(3).readonly(),
    /** Buried length and equivalent diameter of a post that stands in soil. */
    soil: z.strictObject({ buriedM: lengthM, diameterM: lengthM }).readonly().nullable(),
  })
  .readonly()

const frameBond = z
  .strictObject({
    /** Clamps per frame on each long member below it; a clamp in the gap serves the frames on both sides. */
    clamps: z
      .strictObject({ perMember: z.union([z.literal(1), z.literal(2)]), kind: slug })
      .readonly()
      .nullable(),
    /** Links from frame to frame: along the table, up the table, or both. */
    links: z
      .strictObject({ direction: z.enum(['across', 'high', 'both']), kind: slug })
      .readonly()
      .nullable(),
  })
  .readonly()

export const tableTypeSchema = z
  .strictObject({
    id: slug,
    name: nameText,
    mounting: z.enum(['fixedTilt', 'tracker', 'flushRoof']),
    tiltDeg: z.number().min(0).max(90),
    modules,
    longMembers: z.array(longMember).min(1).max(limits.longMembers).readonly(),
    crossMembers: crossMembers.nullable(),
    posts: posts.nullable(),
    frameBond,
  })
  .readonly()

export type TableType = z.infer<typeof tableTypeSchema>
export type LongMember = TableType['longMembers'][number]
