import { portion } from '../../base/portion.ts'
import type { Asked, PairInstance } from './chooseTypes.ts'
import { endCover, neededEnds, type NeededEnds } from './ends.ts'
import { fewest } from './fewest.ts'
import { leafBound } from './leafBound.ts'
import { lightEffort } from './search.ts'

export interface EndBound {
  /** No choice beyond what is required has fewer candidates. */
  readonly bound: number
  readonly ends: NeededEnds
}

/**
 * A bound from where candidates end, whatever they show. `told`: classes that all candidates together tell apart, where these
 * are to be told apart; null where all joints are only to be shown. Much faster than a choice.
 */
export function* endBound(
  instance: PairInstance,
  asked: Asked,
  told: Int32Array | null,
): Generator<number, EndBound> {
  const ends = yield* portion(neededEnds(instance, asked, told !== null), 0, 0.5)
  const { bound } = yield* portion(fewest(endCover(instance, ends), lightEffort()), 0.5, 0.5)
  return { ends, bound: told ? Math.max(bound, leafBound(instance, asked, told, ends)) : bound }
}
