import { z } from 'zod'
import { limits } from '../limits.ts'
import {
  asBuiltSchema,
  conductorSchema,
  differingJointSchema,
  earthBarSchema,
  electrodeSchema,
  enclosureSchema,
  extraJointSchema,
} from './equipment.ts'
import { deviceSchema, lessonSchema, sourceSchema } from './faults.ts'
import { jointKindSchema } from './jointKind.ts'
import { accessSchema, aisleSchema, criterionSchema, obstacleSchema, planSchema } from './planning.ts'
import { bearingDeg, celsius, entryId, longText, nameText, storedId } from './primitives.ts'
import { rowSchema } from './row.ts'
import { tableTypeSchema } from './tableType.ts'

/** What holds for the site as a whole. */
export const factsSchema = z
  .strictObject({
    units: z.enum(['metric', 'us']),
    soilOhmM: z.number().positive().max(1_000_000),
    soilSource: longText,
    /** Temperature of metal and conductors where an entry gives none. */
    ambientC: celsius,
    /** Geographic place of the drawing's origin and the bearing of its y axis. */
    anchor: z
      .strictObject({
        latitudeDeg: z.number().min(-90).max(90),
        longitudeDeg: z.number().min(-180).max(180),
        bearingDeg,
      })
      .readonly()
      .nullable(),
    /** What the drawing's own sheet says: its number and revision. */
    drawingRevision: nameText,
    /** Above these volts between clips or to earth no resistance is taken. */
    mostVolts: z.number().positive().max(1000),
    note: longText,
  })
  .readonly()

/** The next id of each sort; ids are counted up and never given twice. */
const nextIdsSchema = z
  .strictObject({
    row: storedId,
    enclosure: storedId,
    earthBar: storedId,
    electrode: storedId,
    conductor: storedId,
    extraJoint: storedId,
    asBuilt: storedId,
    aisle: storedId,
    obstacle: storedId,
  })
  .readonly()

const list = <T extends z.ZodType>(item: T, most: number = limits.items) => z.array(item).max(most).readonly()

/** The half of a site that is drawn, and can be undone. */
export const drawingSchema = z
  .strictObject({
    revision: entryId,
    parent: entryId.nullable(),
    facts: factsSchema,
    nextIds: nextIdsSchema,
    jointKinds: list(jointKindSchema, 500),
    tableTypes: list(tableTypeSchema, 500),
    rows: list(rowSchema, limits.rows),
    enclosures: list(enclosureSchema),
    earthBars: list(earthBarSchema),
    electrodes: list(electrodeSchema),
    conductors: list(conductorSchema),
    extraJoints: list(extraJointSchema),
    differingJoints: list(differingJointSchema),
    asBuilt: list(asBuiltSchema),
    access: list(accessSchema, 50),
    aisles: list(aisleSchema),
    obstacles: list(obstacleSchema),
    criteria: list(criterionSchema, 500),
    plans: list(planSchema, 500),
    sources: list(sourceSchema, 500),
    devices: list(deviceSchema, 500),
    lessons: list(lessonSchema, 500),
  })
  .readonly()

export type Drawing = z.infer<typeof drawingSchema>
export type SiteFacts = z.infer<typeof factsSchema>
export type NextIds = z.infer<typeof nextIdsSchema>
