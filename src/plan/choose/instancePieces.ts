import { portion } from '../../base/portion.ts'
import type { PairInstance, Signs } from './chooseTypes.ts'
import { attainableDemand, type CoverSets } from './coverSets.ts'
import { areEqual, piecesOf } from './pieces.ts'

/** An independent piece of an instance: no candidate of another feels its joints. */
export interface InstancePiece {
  readonly instance: PairInstance
  /** So many of its first candidates are required. */
  readonly required: number
  /** Its candidates by their numbers in the whole. */
  readonly candidateOf: Int32Array
}

/**
 * Pieces of an instance of which the first `required` candidates are required, in the order of their first joints. Parts
 * are numbered by first use, so that pieces that differ in nothing but their place come out the same. Yields its fraction
 * done.
 */
export function* instancePieces(
  instance: PairInstance,
  required: number,
): Generator<number, readonly InstancePiece[]> {
  const { shown, signs } = instance
  const whole: CoverSets = { ...signs, demand: attainableDemand(shown) }
  const numberOf = new Int32Array(signs.joints)
  const pieces: InstancePiece[] = []
  const subsets = yield* portion(piecesOf(whole), 0, 0.5)
  let entries = 0
  for (const { sets, jointOf, candidateOf } of subsets) {
    jointOf.forEach((e, i) => (numberOf[e] = i))
    const level = new Uint8Array(sets.joint.length)
    candidateOf.forEach((c, i) =>
      level.set(signs.level.subarray(signs.offset[c], signs.offset[c + 1]), sets.offset[i]),
    )
    const ends = new Map<number, number>()
    const ownSigns: Signs = { ...sets, level }
    pieces.push({
      instance: {
        shown: shown.joint === signs.joint ? sets : shownOf(shown, sets, candidateOf, numberOf),
        signs: ownSigns,
        weight: Float64Array.from(jointOf, (e) => instance.weight[e]),
        minutes: Float64Array.from(candidateOf, (c) => instance.minutes[c]),
        from: candidateOf.map((c) => numbered(ends, instance.from[c])),
        to: candidateOf.map((c) => numbered(ends, instance.to[c])),
      },
      required: candidateOf.filter((c) => c < required).length,
      candidateOf,
    })
    entries += sets.joint.length
    if (pieces.length % 64 === 0) yield 0.5 + (0.5 * entries) / signs.joint.length
  }
  return pieces
}

function shownOf(
  shown: CoverSets,
  { joints, candidates, demand }: CoverSets,
  candidateOf: Int32Array,
  numberOf: Int32Array,
): CoverSets {
  const offset = new Int32Array(candidates + 1)
  candidateOf.forEach((c, i) => (offset[i + 1] = offset[i] + shown.offset[c + 1] - shown.offset[c]))
  const joint = new Int32Array(offset[candidates])
  candidateOf.forEach((c, i) => {
    for (let at = shown.offset[c]; at < shown.offset[c + 1]; at++)
      joint[offset[i] + at - shown.offset[c]] = numberOf[shown.joint[at]]
  })
  return { joints, candidates, demand, offset, joint }
}

function numbered(known: Map<number, number>, own: number): number {
  const number = known.get(own) ?? known.size
  known.set(own, number)
  return number
}

/** Whether two pieces differ in nothing but their place. Minutes may differ by what rounding does to a distance. */
export function arePiecesAlike(one: InstancePiece, other: InstancePiece): boolean {
  const [a, b] = [one.instance, other.instance]
  return (
    areEqual(a.shown.offset, b.shown.offset) &&
    areEqual(a.shown.joint, b.shown.joint) &&
    one.required === other.required &&
    areEqual(a.shown.demand, b.shown.demand) &&
    areEqual(a.signs.offset, b.signs.offset) &&
    areEqual(a.signs.joint, b.signs.joint) &&
    areEqual(a.signs.level, b.signs.level) &&
    areEqual(a.from, b.from) &&
    areEqual(a.to, b.to) &&
    areNear(a.weight, b.weight) &&
    areNear(a.minutes, b.minutes)
  )
}

function areNear(a: Float64Array, b: Float64Array): boolean {
  return (
    a.length === b.length && a.every((value, i) => Math.abs(value - b[i]) <= 1e-6 * (1 + Math.abs(value)))
  )
}
