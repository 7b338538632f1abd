import type { EntryOf } from '../schema/record.ts'

/**
 * Whether a repair makes the joint another one than was read before. A temporary bond lies beside it, and a coating that is
 * made good afterwards lies over it: the joint is as it was.
 */
export function changesJoint({ done, coating, torqueSetNm }: EntryOf<'repair'>): boolean {
  if (done === 'temporaryBond') return false
  return !(done === 'other' && coating === 'madeGood' && torqueSetNm === null)
}
