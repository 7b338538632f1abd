import type { StoredAddress } from './storedAddresses.ts'
import type { Entry } from '../schema/record.ts'
import type { Site } from '../schema/site.ts'

/** How much stands where an address is stored: readings, pairs of plans … each counted once, not by its addresses. */
export interface OrphanCounts {
  /** Of the record: it is kept, and left out of the network. */
  readonly readings: number
  readonly voltages: number
  readonly looks: number
  readonly repairs: number
  readonly notes: number
  readonly corrections: number
  /** Of the drawing, kept: they would name nothing. */
  readonly planPairs: number
  readonly differingJoints: number
  readonly asBuilt: number
  readonly lessonSteps: number
  /** Of the drawing, let go with what they were fastened to. */
  readonly landings: number
  readonly extraJoints: number
  readonly sources: number
}

type Counted = keyof OrphanCounts

const ofEntry: Partial<Record<Entry['entry'], Counted>> = {
  reading: 'readings',
  volts: 'voltages',
  look: 'looks',
  repair: 'repairs',
  note: 'notes',
  correction: 'corrections',
}

const ofSection: Readonly<Record<string, Counted>> = {
  plans: 'planPairs',
  differingJoints: 'differingJoints',
  asBuilt: 'asBuilt',
  lessons: 'lessonSteps',
  conductors: 'landings',
  extraJoints: 'extraJoints',
  sources: 'sources',
}

/** Keys down to the holder: a pair of a plan, a step of a lesson, a point of a conductor, an item of any other list. */
function holderOf(path: StoredAddress['path']): string {
  const deep = ['plans', 'lessons', 'conductors'].includes(String(path[1]))
  return path.slice(0, path[0] === 'record' ? 2 : deep ? 5 : 3).join(' ')
}

/**
 * What an edit would leave without a part or joint (`orphansOf`), counted by where it is stored. Nullings and lead
 * checks store no address and so are never among them. O(orphans).
 */
export function countOrphans(site: Site, orphans: readonly StoredAddress[]): OrphanCounts {
  const counts = {
    readings: 0,
    voltages: 0,
    looks: 0,
    repairs: 0,
    notes: 0,
    corrections: 0,
    planPairs: 0,
    differingJoints: 0,
    asBuilt: 0,
    lessonSteps: 0,
    landings: 0,
    extraJoints: 0,
    sources: 0,
  }
  const seen = new Set<string>()
  for (const { path } of orphans) {
    const holder = holderOf(path)
    if (seen.has(holder)) continue
    seen.add(holder)
    const isRecord = path[0] === 'record'
    const counted = isRecord ? ofEntry[site.record[Number(path[1])].entry] : ofSection[path[1]]
    if (counted) counts[counted]++
  }
  return counts
}
