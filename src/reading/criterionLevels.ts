import type { JudgedReading } from '../model/answers.ts'
import type { Criterion } from '../model/schema/planning.ts'
import { pairResistance } from '../network/pairResistance.ts'
import type { PreparedNetwork } from '../network/prepare.ts'

/** A criterion held against a pair, its levels with the conductors added; all null where none applies. */
export type Levels = Omit<JudgedReading, 'entry' | 'verdict' | 'lowCurrent'>

export const noLevels: Levels = {
  criterion: null,
  investigateOhm: null,
  rejectOhm: null,
  conductorOhm: 0,
  otherQuantity: false,
}

/**
 * Levels for a pair of parts, given by their numbers:
 *
 *     level = criterion's own + R_p   where conductors are to be added, R_p the pair's median network
 *
 * Nothing is added to a pair that no metal joins: soil is no conductor of the path. O(columns on two paths).
 */
export function levelsFor(
  prepared: PreparedNetwork,
  criterion: Criterion | null,
  a: number,
  b: number,
): Levels {
  if (!criterion) return noLevels
  const { metal } = prepared.network
  const isJoined = metal.islands.of[a] === metal.islands.of[b]
  const conductorOhm = criterion.addConductor && isJoined ? pairResistance(prepared.solver.factor, a, b) : 0
  const added = (ohm: number | null) => (ohm === null ? null : ohm + conductorOhm)
  return {
    criterion: criterion.id,
    investigateOhm: added(criterion.investigateAboveOhm),
    rejectOhm: added(criterion.rejectAboveOhm),
    conductorOhm,
    otherQuantity: criterion.quantity !== 'bondingPath',
  }
}
