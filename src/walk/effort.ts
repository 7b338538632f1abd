/**
 * What the things that a working party does next take, in minutes of one person with one lead. Judgement from
 * memory, low confidence; all of it can be changed here.
 */
export const effort = {
  /** A reading with the first clip where it is: seat the second one, read, write down. */
  sameReferenceMin: 1.5,
  /** Taking the first clip and the instrument to another place, before the reading itself. */
  moveReferenceMin: 4,
  walkMPerS: 1,
  lookMin: 1,
  /** Torque and check, on top of the look. */
  retorqueMin: 2,
  leadCheckMin: 1,
  /** Nulling again where another lead or instrument is taken. */
  renullMin: 2,
  digMin: 120,
} as const

export type Persons = 1 | 2

/**
 * What two persons do otherwise, one at each clip. Judgement from memory too.
 *
 * - One person clips at the first point, carries the instrument on the lead to every far end, and comes back for the
 *   clip before moving on.
 * - Two persons: the first stays at the first clip, reads and writes while the second seats the other one; the second winds
 *   the lead up on the way back, then both move on, and the first prepares the next point meanwhile. They go the same
 *   ways as one would; a reading and a move take less.
 */
export const effortOfTwo = {
  sameReferenceMin: 1,
  moveReferenceMin: 2.5,
} as const

/** Minutes on foot for so many metres. */
export function walkMin(wayM: number): number {
  return wayM / effort.walkMPerS / 60
}

export interface ReadingEffort {
  readonly wayM: number
  readonly movesReference: boolean
  readonly changesLead: boolean
  /** One where nothing is said. */
  readonly persons?: Persons
}

/** Minutes of one reading between two points, or of a repeat with the clips seated afresh. */
export function readingMin({ wayM, movesReference, changesLead, persons = 1 }: ReadingEffort): number {
  const { sameReferenceMin, moveReferenceMin } = persons === 1 ? effort : effortOfTwo
  return (
    sameReferenceMin +
    (movesReference ? moveReferenceMin : 0) +
    (changesLead ? effort.renullMin : 0) +
    walkMin(wayM)
  )
}

/** Minutes of a reading with the leads shorted at their far end. */
export function leadCheckMin(wayM: number): number {
  return effort.leadCheckMin + walkMin(wayM)
}

/** Minutes of looking at so many joints; what is buried is dug out first. */
export function lookMin(wayM: number, joints: number, isBuried: boolean): number {
  return joints * (effort.lookMin + (isBuried ? effort.digMin : 0)) + walkMin(wayM)
}

/** Minutes of looking at so many joints and setting their torque. */
export function retorqueMin(wayM: number, joints: number, isBuried: boolean): number {
  return lookMin(wayM, joints, isBuried) + joints * effort.retorqueMin
}
