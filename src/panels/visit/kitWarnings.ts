import type { Kit } from '../../model/schema/record.ts'
import { describeExpired, describeOffCheck } from '../../text/visitCardText.ts'
import { boundOhm, kitTrouble } from './kitState.ts'

/** What is said of an instrument in the card, and beside each value that is entered with it. */
export function kitWarnings(kit: Kit | null, now: string): readonly string[] {
  if (!kit) return []
  const { isExpired, isOff } = kitTrouble(kit, now)
  return [
    ...(isExpired ? [describeExpired(kit)] : []),
    ...(isOff && kit.lastCheck ? [describeOffCheck(kit, boundOhm(kit, kit.lastCheck.referenceOhm))] : []),
  ]
}
