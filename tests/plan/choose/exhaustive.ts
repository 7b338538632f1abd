import fc from 'fast-check'
import {
  attainableDemand,
  coverSetsOf,
  timesShownBy,
  type CoverSets,
} from '../../../src/plan/choose/coverSets.ts'

/** Whether the chosen meet every demand as far as all candidates together can. */
export function meetsAll(sets: CoverSets, chosen: Iterable<number>): boolean {
  const times = timesShownBy(sets, chosen)
  return attainableDemand(sets).every((demand, e) => times[e] >= demand)
}

/** The least number of candidates that meet all demands, by trying every choice: at most 20 candidates. */
export function leastByTrying(
  sets: CoverSets,
  isEnough = (chosen: number[]) => meetsAll(sets, chosen),
): number {
  let least = Infinity
  for (let mask = 0; mask < 1 << sets.candidates; mask++) {
    const chosen: number[] = []
    for (let c = 0; c < sets.candidates; c++) if (mask & (1 << c)) chosen.push(c)
    if (chosen.length < least && isEnough(chosen)) least = chosen.length
  }
  return least
}

/** Small sets at random, some joints needed twice, some not at all, some shown by nothing. */
export const smallSets = (mostCandidates = 11): fc.Arbitrary<CoverSets> =>
  fc.integer({ min: 1, max: 9 }).chain((joints) =>
    fc
      .record({
        lists: fc.array(fc.uniqueArray(fc.integer({ min: 0, max: joints - 1 }), { maxLength: 5 }), {
          minLength: 1,
          maxLength: mostCandidates,
        }),
        demand: fc.array(fc.constantFrom(1, 1, 1, 2, 0), { minLength: joints, maxLength: joints }),
      })
      .map(({ lists, demand }) => coverSetsOf(joints, lists, demand)),
  )
