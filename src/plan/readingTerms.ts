import type { PlanKit } from '../model/planning.ts'
import type { Kit } from '../model/schema/record.ts'
import { soundContact } from '../reading/contact.ts'
import { digitsSdOhm, gainSd } from '../reading/kitError.ts'
import { leadOhm } from '../reading/leadOhm.ts'
import { leadOffsetOhm } from '../reading/nulling.ts'

/** What instrument, clips and a nulled lead add to a single reading that is not spoiled. */
export interface ReadingTerms {
  /** What two sound clips add on average, in ohm; 0 for four-wire. */
  readonly addedOhm: number
  /** Standard deviation without the gain and without the scatter of joints: no reading has less. */
  readonly floorSdOhm: number
  /** Of the gain, as a share of the reading. */
  readonly gainSd: number
}

export function readingTerms({ kit, lead }: Pick<PlanKit, 'kit' | 'lead'>, ambientC: number): ReadingTerms {
  const digits = digitsSdOhm(kit)
  if (kit.method !== 'twoWire') return { addedOhm: 0, floorSdOhm: digits, gainSd: gainSd(kit) }
  const offset = leadOffsetOhm(lead ? leadOhm(lead, ambientC) : 0, true)
  return {
    addedOhm: soundContact.meanOhm,
    floorSdOhm: Math.hypot(digits, soundContact.sdOhm, offset.sd),
    gainSd: gainSd(kit),
  }
}

/** A four-wire tester to which leads of any length are at hand: what a finer kit could show. */
export function finerTerms(kit: Kit): ReadingTerms {
  return readingTerms({ kit, lead: null }, 20)
}
