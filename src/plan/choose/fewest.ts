import { portion } from '../../base/portion.ts'
import { attainableDemand, subSetsOf, type CoverSets } from './coverSets.ts'
import { exchanged } from './exchange.ts'
import { greedyCover, withoutSpare } from './greedyCover.ts'
import { linearProgramme } from './linearProgramme.ts'
import { areAlike, keyOfPiece, piecesOf } from './pieces.ts'
import { reduced } from './reduce.ts'
import { relaxed } from './relaxation.ts'
import { fullEffort, searched, type SearchEffort } from './search.ts'

/** A small choice that meets all demands as far as they can be met, and a number that no such choice goes below. */
export interface Fewest {
  /** Ascending. */
  readonly chosen: readonly number[]
  readonly bound: number
  /** Whether the bound of some piece was proved by weighing every choice, not by prices alone. */
  readonly isSearched: boolean
}

/**
 * The fewest candidates that meet all demands: independent pieces, alike ones solved once; reductions; then for each piece
 * that is left greedy, prices with a bound, exchanges, linear programme and search, as far as bound and choice do not meet.
 * Proved least where `bound` is the number chosen. Yields its fraction done.
 */
export function* fewest(sets: CoverSets, effort = fullEffort()): Generator<number, Fewest> {
  const all = subSetsOf(sets, attainableDemand(sets), new Uint8Array(sets.candidates).fill(1))
  const pieces = yield* portion(piecesOf(all.sets), 0, 0.05)
  const known = new Map<number, { readonly sets: CoverSets; readonly answer: Fewest }[]>()
  const chosen: number[] = []
  let bound = 0
  let isSearched = false
  let done = 0
  const entries = Math.max(1, all.sets.joint.length)
  for (const piece of pieces) {
    const key = keyOfPiece(piece.sets)
    const alike = known.get(key) ?? []
    known.set(key, alike)
    let answer = alike.find((one) => areAlike(one.sets, piece.sets))?.answer
    if (!answer) {
      answer = yield* portion(
        fewestOfPiece(piece.sets, effort),
        0.05 + (0.95 * done) / entries,
        (0.95 * piece.sets.joint.length) / entries,
      )
      alike.push({ sets: piece.sets, answer })
    }
    done += piece.sets.joint.length
    for (const c of answer.chosen) chosen.push(all.candidateOf[piece.candidateOf[c]])
    bound += answer.bound
    isSearched ||= answer.isSearched
  }
  return { chosen: chosen.sort((a, b) => a - b), bound, isSearched }
}

function* fewestOfPiece(sets: CoverSets, effort: SearchEffort): Generator<number, Fewest> {
  const left = yield* portion(reduced(sets), 0, 0.2)
  const chosen = [...left.forced]
  let bound = chosen.length
  let isSearched = false
  for (const core of yield* portion(piecesOf(left.sets), 0.2, 0)) {
    const answer = yield* portion(fewestOfCore(core.sets, effort), 0.2, 0.8)
    for (const c of answer.chosen) chosen.push(left.candidateOf[core.candidateOf[c]])
    bound += answer.bound
    isSearched ||= answer.isSearched
  }
  return { chosen: withoutSpare(sets, attainableDemand(sets), chosen), bound, isSearched }
}

/** Each step only where bound and choice do not meet yet. */
function* fewestOfCore(sets: CoverSets, effort: SearchEffort): Generator<number, Fewest> {
  const greedy = withoutSpare(sets, sets.demand, greedyCover(sets, sets.demand.slice()))
  const relaxation = yield* portion(relaxed(sets, greedy), 0, 0.3)
  const better = yield* portion(exchanged(sets, relaxation.chosen, relaxation.bound), 0.3, 0.2)
  if (effort.steps <= 0 || relaxation.bound >= better.length)
    return { chosen: better, bound: relaxation.bound, isSearched: false }
  const { price, bound } = yield* portion(linearProgramme(sets, relaxation, better), 0.5, 0.2)
  if (bound >= better.length) return { chosen: better, bound, isSearched: false }
  const { chosen, isLeast } = yield* portion(searched(sets, better, price, bound, effort), 0.7, 0.3)
  return isLeast
    ? { chosen, bound: chosen.length, isSearched: chosen.length > bound }
    : { chosen, bound, isSearched: false }
}
