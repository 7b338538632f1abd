import type { ReadingAnswer } from '../model/answers.ts'
import type { ReadingLook, ReadingVerdicts } from './readingLook.ts'

/** What is told of readings on the map: what was found, or how many times what was expected they read. */
export type ReadingsBy = 'finding' | 'times'

/** A reading as a multiple of what a sound array as drawn would read with its instrument and lead. */
export interface TimesLook {
  readonly look: ReadingLook
  /** Read ÷ expected; null where there is nothing to divide, or the spread leaves no difference to tell. */
  readonly times: number | null
}

/** Nearer than this factor is near; the steps above are of some three times each. */
const nearWithin = 1.5
const highFrom = 3
const farFrom = 10
/** Standard deviations of what is expected within which a multiple says nothing. */
const spreads = 2

/**
 * The look of a reading by read ÷ expected. Where the instrument's digits, clips and joints explain the difference, a multiple
 * would be noise: 20 mΩ of 5 mΩ ± 15 mΩ is near. What has no value, or none that counts, keeps its own look.
 */
export function timesLookOf(entry: string, { locate }: Pick<ReadingVerdicts, 'locate'>): TimesLook {
  const located = locate.get(entry)
  if (!located) return { look: 'waiting', times: null }
  const { verdict } = located
  if (verdict === 'setAside' || verdict === 'noMetalPath' || verdict === 'overRange')
    return { look: verdict, times: null }
  return timesOf(located)
}

function timesOf({ readOhm, expectedOhm, spreadOhm }: ReadingAnswer): TimesLook {
  if (readOhm === null || !Number.isFinite(expectedOhm)) return { look: 'setAside', times: null }
  const isTold = Math.abs(readOhm - expectedOhm) > spreads * spreadOhm
  const times = expectedOhm > 0 ? readOhm / expectedOhm : Infinity
  if (times <= nearWithin && times >= 1 / nearWithin) return { look: 'timesNear', times }
  if (!isTold) return { look: 'timesNear', times: null }
  if (times < 1) return { look: 'timesBelow', times }
  return { look: times < highFrom ? 'timesRaised' : times < farFrom ? 'timesHigh' : 'timesFar', times }
}
