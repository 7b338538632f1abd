import { z } from 'zod'
import { limits } from '../limits.ts'
import {
  addressText,
  areaMm2,
  celsius,
  conductorMaterial,
  entryId,
  instant,
  lengthM,
  longText,
  nameText,
  positiveOhm,
  sha256,
  slug,
} from './primitives.ts'

/** Identity of an entry, injected from outside: who wrote it, as which in that device's count, and when. */
const identity = {
  id: entryId,
  device: entryId,
  counter: z.int().min(0),
  at: instant,
}
const inVisit = { ...identity, visit: entryId }

/**
 * A measuring instrument as it was on the day. Its error is ±(gainError × reading + digits × resolution),
 * taken as a bound that is rarely exceeded.
 */
export const kitSchema = z
  .strictObject({
    id: slug,
    name: nameText,
    serial: nameText,
    method: z.enum(['twoWire', 'fourWire', 'loopClamp', 'earthElectrode']),
    testCurrentA: z.number().positive().max(10_000),
    resolutionOhm: z.number().positive().max(1000),
    gainError: z.number().min(0).max(1),
    digits: z.number().min(0).max(100),
    /** Above this it shows over range. */
    mostOhm: z.number().positive().max(limits.readingOhm),
    calibrationDue: z.iso.date().nullable(),
    /** What it read of a resistor whose ohms are known, when that was last done. */
    lastCheck: z
      .strictObject({
        on: z.iso.date(),
        referenceOhm: positiveOhm,
        readOhm: z.number().min(0).max(limits.readingOhm),
      })
      .readonly()
      .nullable(),
  })
  .readonly()

/** A measuring lead: its own ohms follow from length, size and material. */
export const leadSchema = z
  .strictObject({ id: slug, name: nameText, lengthM, areaMm2, material: conductorMaterial })
  .readonly()

/** What is noted of a visit as a whole. */
const visitFacts = {
  party: z.array(nameText).max(50).readonly(),
  purpose: longText,
  kits: z.array(kitSchema).max(50).readonly(),
  leads: z.array(leadSchema).max(50).readonly(),
  weather: nameText,
  ambientC: celsius.nullable(),
  inverter: z.enum(['unknown', 'off', 'running']),
  isolators: z.enum(['unknown', 'open', 'closed']),
  /** Number of the lock or tag that keeps the isolators open; empty where there is none. */
  lockOut: nameText,
  isolation: longText,
}

const visitOpened = z.strictObject({ ...identity, entry: z.literal('visit'), ...visitFacts })

/** What is noted of a visit from now on; instruments and leads that were used before stay in its lists. */
const amendment = z.strictObject({ ...inVisit, entry: z.literal('amendment'), ...visitFacts })

const ohmOrOver = z.discriminatedUnion('form', [
  z.strictObject({ form: z.literal('ohm'), ohm: z.number().min(0).max(limits.readingOhm) }),
  /** Over range: at least this many ohms. */
  z.strictObject({ form: z.literal('over'), atLeastOhm: z.number().positive().max(limits.readingOhm) }),
])

/** Leads nulled: the offset that remains, and its drift, belong to the readings that follow. */
const nulling = z.strictObject({
  ...inVisit,
  entry: z.literal('nulling'),
  kit: slug,
  lead: slug,
  leadC: celsius.nullable(),
  note: longText,
})

/** Leads shorted at their far end and read, to see how much offset is left. */
const leadCheck = z.strictObject({
  ...inVisit,
  entry: z.literal('leadCheck'),
  kit: slug,
  lead: slug,
  result: ohmOrOver,
  note: longText,
})

const volts = {
  directV: z.number().min(-100_000).max(100_000),
  alternatingV: z.number().min(0).max(100_000),
}

/** Volts between the clips, and from the first clip to earth, before any ohms are taken there. */
const voltsCheck = z.strictObject({
  ...inVisit,
  entry: z.literal('volts'),
  from: addressText,
  to: addressText,
  ...volts,
  toEarth: z.strictObject(volts).readonly().nullable(),
})

/** Where a clip or probe was put, and on what surface. */
export const spotSchema = z
  .strictObject({
    part: addressText,
    spot: z.enum(['face', 'cutEdge', 'boltHead', 'lug', 'conductor', 'stud', 'unknown']),
    surface: z.enum(['bare', 'coated', 'pierced']),
  })
  .readonly()

const reading = z.strictObject({
  ...inVisit,
  entry: z.literal('reading'),
  method: z.enum(['twoWire', 'fourWire', 'loopClamp', 'earthElectrode']),
  kit: slug,
  /** Null where no long lead was used (four-wire clips, loop clamp). */
  lead: slug.nullable(),
  from: spotSchema,
  /** The second point; for a loop clamp the same part, for an electrode test `earth`. */
  to: spotSchema,
  /** Loop clamp: the joint or wire that the jaws were closed around. */
  around: addressText.nullable(),
  result: ohmOrOver,
  reverseOhm: z.number().min(0).max(limits.readingOhm).nullable(),
  unsteady: z
    .strictObject({ leastOhm: z.number().min(0), mostOhm: z.number().min(0).max(limits.readingOhm) })
    .readonly()
    .nullable(),
  testCurrentA: z.number().positive().max(10_000).nullable(),
  metalC: celsius.nullable(),
  trackerDeg: z.number().min(-90).max(90).nullable(),
  /** The reading that this one repeats after the clips were taken off and seated again. */
  repeats: entryId.nullable(),
  /** What was done about the reading that this one repeats, to tell a bad test from a bad joint. */
  trying: z.enum(['clip', 'lead', 'polarity', 'seat']).nullable(),
  /** Earth-electrode test: metres from the electrode to the current and to the potential spike. */
  spikesM: z.strictObject({ current: lengthM, potential: lengthM }).readonly().nullable(),
  plan: slug.nullable(),
  planPair: z.int().min(1).nullable(),
  photos: z.array(sha256).max(50).readonly(),
  note: longText,
})

/** A reading or check that was entered wrongly: the corrected values stand beside the first ones. */
const correction = z.strictObject({
  ...inVisit,
  entry: z.literal('correction'),
  of: entryId,
  result: ohmOrOver.nullable(),
  from: spotSchema.nullable(),
  to: spotSchema.nullable(),
  reason: longText,
})

/** An entry that is not to be counted; it stays readable. */
const withdrawal = z.strictObject({
  ...inVisit,
  entry: z.literal('withdrawal'),
  of: entryId,
  reason: longText,
})

const look = z.strictObject({
  ...inVisit,
  entry: z.literal('look'),
  joint: addressText,
  /** One or more; `sound` stands alone. */
  findings: z
    .array(
      z.enum([
        'sound',
        'loose',
        'corroded',
        'coatingNotPierced',
        'washerMissing',
        'dissimilarMetals',
        'partMissing',
        'broken',
        'other',
      ]),
    )
    .min(1)
    .max(9)
    .readonly(),
  torqueAskedNm: z.number().positive().max(10_000).nullable(),
  torqueFoundNm: z.number().min(0).max(10_000).nullable(),
  torqueSetNm: z.number().min(0).max(10_000).nullable(),
  photos: z.array(sha256).max(50).readonly(),
  note: longText,
})

const repair = z.strictObject({
  ...inVisit,
  entry: z.literal('repair'),
  joint: addressText,
  done: z.enum(['retorqued', 'cleaned', 'replaced', 'added', 'temporaryBond', 'other']),
  by: nameText,
  torqueSetNm: z.number().min(0).max(10_000).nullable(),
  /** The coating around the joint: whether it was made good again. */
  coating: z.enum(['notTouched', 'madeGood', 'stillOpen']),
  photos: z.array(sha256).max(50).readonly(),
  note: longText,
})

/** A defect with a number of its own, at one joint or at several that are not told apart. */
const defect = z.strictObject({
  ...inVisit,
  entry: z.literal('defect'),
  /** Counted up on each device; two devices may have given one number, and then both are told apart by device. */
  number: z.int().min(1).max(limits.recordEntries),
  joints: z.array(addressText).min(1).max(50).readonly(),
  /** Entries that speak for it. */
  proof: z.array(entryId).max(1000).readonly(),
  note: longText,
})

/** What became of a defect, with the entries that prove it. The latest step holds. */
const defectStep = z.strictObject({
  ...inVisit,
  entry: z.literal('defectStep'),
  of: entryId,
  state: z.enum(['suspected', 'confirmed', 'repaired', 'retested', 'dismissed']),
  /** Where the bad joint was found, out of those suspected; null where this step does not say. */
  joint: addressText.nullable(),
  proof: z.array(entryId).max(1000).readonly(),
  note: longText,
})

const note = z.strictObject({
  ...inVisit,
  entry: z.literal('note'),
  about: addressText.nullable(),
  text: longText,
})

/**
 * A signature stands for the entries that it names, with a digest of them and of the drawing they were read on. For
 * a point of a plan at which one waits or is watched it names that pair, too.
 */
const signature = z.strictObject({
  ...inVisit,
  entry: z.literal('signature'),
  role: z.enum(['tester', 'contractor', 'witness', 'ownersEngineer']),
  name: nameText,
  /** Revision of the drawing, and what the drawing's sheet calls it. */
  drawing: entryId,
  drawingRevision: nameText,
  plan: slug.nullable(),
  planPair: z.int().min(1).nullable(),
  note: longText,
  entries: z.array(entryId).max(limits.recordEntries).readonly(),
  digest: sha256,
})

export const entrySchema = z
  .discriminatedUnion('entry', [
    visitOpened,
    amendment,
    nulling,
    leadCheck,
    voltsCheck,
    reading,
    correction,
    withdrawal,
    look,
    repair,
    defect,
    defectStep,
    note,
    signature,
  ])
  .readonly()

export type Entry = z.infer<typeof entrySchema>
export type EntryOf<K extends Entry['entry']> = Extract<Entry, { entry: K }>
export type Kit = z.infer<typeof kitSchema>
export type Lead = z.infer<typeof leadSchema>
export type OhmOrOver = EntryOf<'reading'>['result']
export type VisitFacts = Omit<EntryOf<'visit'>, keyof typeof identity | 'entry'>
export type Spot = EntryOf<'reading'>['from']
