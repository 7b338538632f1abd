import { portion } from '../../base/portion.ts'
import type { PairBound } from '../../model/planning.ts'
import { askedBeyond, choosePairs, withoutFirst, type ChosenPairs } from './choosePairs.ts'
import type { PairInstance } from './chooseTypes.ts'
import { attainableDemand, everyCandidate } from './coverSets.ts'
import { endBound } from './endBound.ts'
import { instancePieces } from './instancePieces.ts'
import { partitionBy } from './partition.ts'
import { someCandidates } from './someCandidates.ts'

/** Sites with fewer joints are chosen for as a whole at once: it costs seconds and may find a pair or two less. */
const manyJoints = 1000

/** A choice so close above its bound is taken without looking for a better one. */
const closeEnough = 1.02

/**
 * `choosePairs`, first from the near candidates alone where these show and tell apart all that all do: without those that
 * tie rows together a site falls into small pieces, which are chosen for to the least. Where that is not within 2 % of
 * what the ends prove for all candidates, all are chosen from too, and fewer pairs count. `isNear` by candidate; required ones
 * count as near. Sites of less than `fewest` joints are chosen for whole. Yields its fraction done.
 */
export function* chooseNearFirst(
  instance: PairInstance,
  required: number,
  tellApart: number,
  isNear: Uint8Array,
  fewest = manyJoints,
): Generator<number, ChosenPairs> {
  if (instance.shown.joints < fewest) return yield* choosePairs(instance, required, tellApart)
  const kept = nearOf(isNear, required)
  const near = someCandidates(instance, kept)
  if (kept.length === isNear.length || !attainsAsMuch(near, instance))
    return yield* choosePairs(instance, required, tellApart)
  yield 0.05
  const first = yield* portion(choosePairs(near, required, tellApart), 0.05, 0.4)
  const chosen = first.chosen.map((c) => kept[c])
  const bound = yield* portion(boundByEnds(instance, required, tellApart), 0.45, 0.1)
  if (chosen.length <= closeEnough * bound.pairs) return { chosen, bound }
  const all = yield* portion(choosePairs(instance, required, tellApart), 0.55, 0.45)
  return all.chosen.length < chosen.length ? all : { chosen, bound: all.bound }
}

function nearOf(isNear: Uint8Array, required: number): Int32Array {
  const kept: number[] = []
  for (let c = 0; c < isNear.length; c++) if (c < required || isNear[c] === 1) kept.push(c)
  return Int32Array.from(kept)
}

/** Whether all of some candidates show as much, as often, and tell apart as much as all of the whole. */
function attainsAsMuch(some: PairInstance, whole: PairInstance): boolean {
  const own = attainableDemand(some.shown)
  if (attainableDemand(whole.shown).some((demand, e) => own[e] < demand)) return false
  return classesOf(some) === classesOf(whole)
}

function classesOf(instance: PairInstance): number {
  const { demand, joints } = instance.shown
  const asked = { need: demand, classOf: new Int32Array(joints) }
  return partitionBy(instance, asked, everyCandidate(instance.shown)).classes
}

/** What no plan from these candidates can go below, by where pairs end: the sum over pieces, the required ones with it. */
function* boundByEnds(
  instance: PairInstance,
  required: number,
  tellApart: number,
): Generator<number, PairBound> {
  let pairs = required
  const pieces = yield* portion(instancePieces(instance, required), 0, 0.3)
  for (const [k, piece] of pieces.entries()) {
    const asked = askedBeyond(piece.instance, piece.required)
    const rest = withoutFirst(piece.instance, piece.required)
    const told = tellApart === 1 ? partitionBy(rest, asked, everyCandidate(rest.shown)).classOf : null
    pairs += (yield* portion(endBound(rest, asked, told), 0.3 + (0.7 * k) / pieces.length, 0)).bound
    if (k % 64 === 0) yield 0.3 + (0.7 * k) / pieces.length
  }
  return { pairs, by: tellApart === 1 ? 'path' : 'ends' }
}
