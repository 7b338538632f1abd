import { portion } from '../../base/portion.ts'
import type { PairBound } from '../../model/planning.ts'
import type { Asked, PairInstance } from './chooseTypes.ts'
import { attainableDemand } from './coverSets.ts'
import { endBound } from './endBound.ts'
import { fewest, type Fewest } from './fewest.ts'
import { arePiecesAlike, instancePieces, type InstancePiece } from './instancePieces.ts'
import { lazyGreedy } from './lazyGreedy.ts'
import { Partition, partitionBy } from './partition.ts'
import { keyOfPiece } from './pieces.ts'
import { fullEffort, type SearchEffort } from './search.ts'
import { withSharedEnds } from './sharedEnds.ts'
import { someCandidates } from './someCandidates.ts'
import { spareOut } from './spareOut.ts'
import { toldApart } from './toldApart.ts'

export interface ChosenPairs {
  /** Candidates, ascending, the required ones among them. */
  readonly chosen: readonly number[]
  readonly bound: PairBound
}

interface ChosenOfPiece extends Fewest {
  readonly isByEnds: boolean
}

/**
 * Chooses candidates that show all joints as often as the instance asks and any candidates can. Candidates 0 …
 * `required` − 1 are in. `tellApart` 0: as few as can be found. 1: as few as can be found that tell apart every two
 * joints that any candidates do. Between: those of 0, and more until that part is gained of what entropy 1 gains over it.
 * The bound is on the number of pairs of any plan with the required ones that does as much. Yields its fraction done.
 */
export function* choosePairs(
  instance: PairInstance,
  required: number,
  tellApart: number,
): Generator<number, ChosenPairs> {
  const effort = fullEffort()
  const known = new Map<number, { readonly piece: InstancePiece; readonly answer: ChosenOfPiece }[]>()
  const chosen = Array.from({ length: required }, (_, c) => c)
  const total = { bound: required, isByEnds: true, isSearched: false }
  const entries = Math.max(1, instance.signs.joint.length)
  let done = 0
  for (const piece of yield* portion(instancePieces(instance, required), 0, 0.1)) {
    const { joint } = piece.instance.signs
    const key = keyOfPiece(piece.instance.shown)
    const alike = known.get(key) ?? []
    known.set(key, alike)
    let answer = alike.find((one) => arePiecesAlike(one.piece, piece))?.answer
    if (!answer) {
      const job = chosenOfPiece(piece, tellApart, effort)
      answer = yield* portion(job, 0.1 + (0.9 * done) / entries, (0.9 * joint.length) / entries)
      alike.push({ piece, answer })
    }
    done += joint.length
    yield 0.1 + (0.9 * done) / entries
    for (const c of answer.chosen) chosen.push(piece.candidateOf[c])
    total.bound += answer.bound
    total.isByEnds &&= answer.isByEnds
    total.isSearched ||= answer.isSearched
  }
  chosen.sort((a, b) => a - b)
  const by = total.isByEnds
    ? tellApart === 1
      ? 'path'
      : 'ends'
    : total.isSearched
      ? 'search'
      : 'linearProgramme'
  return { chosen, bound: { pairs: total.bound, by } }
}

/** What is asked of a piece beyond its first `required` candidates. */
export function askedBeyond({ shown, signs, weight }: PairInstance, required: number): Asked {
  const need = attainableDemand(shown)
  const partition = new Partition(signs, weight)
  for (let c = 0; c < required; c++) {
    partition.take(c)
    for (let i = shown.offset[c]; i < shown.offset[c + 1]; i++)
      if (need[shown.joint[i]] > 0) need[shown.joint[i]]--
  }
  return { need, classOf: partition.classOf }
}

/** The instance without its first candidates. */
export function withoutFirst(instance: PairInstance, count: number): PairInstance {
  if (count === 0) return instance
  const rest = Int32Array.from({ length: instance.shown.candidates - count }, (_, c) => c + count)
  return someCandidates(instance, rest)
}

/** What is chosen in a piece beside what is required there. */
function* chosenOfPiece(
  piece: InstancePiece,
  tellApart: number,
  effort: SearchEffort,
): Generator<number, ChosenOfPiece> {
  const asked = askedBeyond(piece.instance, piece.required)
  const instance = withoutFirst(piece.instance, piece.required)
  const answer = yield* chosenBeyond(instance, asked, tellApart, effort)
  return { ...answer, chosen: answer.chosen.map((c) => c + piece.required) }
}

function* chosenBeyond(
  instance: PairInstance,
  asked: Asked,
  tellApart: number,
  effort: SearchEffort,
): Generator<number, ChosenOfPiece> {
  const sets = { ...instance.shown, demand: asked.need }
  const detecting = yield* portion(fewest(sets, effort), 0, tellApart > 0 ? 0.3 : 0.8)
  const share = tellApart > 0 ? 0.3 : 0.8
  const chosen = yield* portion(withSharedEnds(instance, asked.need, detecting.chosen), share, 0)
  if (tellApart === 0) {
    const ends = yield* portion(endBound(instance, asked, null), 0.8, 0.2)
    const bound = Math.max(detecting.bound, ends.bound)
    return { ...detecting, chosen, bound, isByEnds: ends.bound === bound }
  }
  const whole = yield* portion(toldApart(instance, asked, effort), 0.3, 0.7)
  if (tellApart === 1) return whole
  const between = partWay(instance, asked, chosen, whole.chosen, tellApart)
  const isAll = whole.chosen.length <= between.length
  return { ...detecting, chosen: isAll ? whole.chosen : between, isByEnds: false }
}

/** A choice, and more until it has gained the part `tellApart` of what the `whole` gains over it. */
function partWay(
  instance: PairInstance,
  asked: Asked,
  chosen: readonly number[],
  whole: readonly number[],
  tellApart: number,
): readonly number[] {
  const partition = partitionBy(instance, asked, chosen)
  const all = partitionBy(instance, asked, whole).bits
  const enough = partition.bits + tellApart * (all - partition.bits) - 1e-9
  if (partition.bits >= enough) return chosen
  const more = lazyGreedy(
    instance.signs.candidates,
    (c) => partition.gain(c),
    (c) => {
      partition.take(c)
      return partition.bits < enough
    },
  )
  return spareOut(instance, asked, [...chosen, ...more])
}
