import { inPortions, portion } from '../../base/portion.ts'
import type { CoverSets, SubSets } from './coverSets.ts'

/**
 * The independent pieces of some sets: no candidate shows joints of two of them. In the order of their first joints. Yields
 * its fraction done.
 */
export function* piecesOf(sets: CoverSets): Generator<number, SubSets[]> {
  const { joints, candidates, offset, joint } = sets
  const parent = Int32Array.from({ length: joints }, (_, e) => e)
  const rootOf = (e: number) => {
    while (parent[e] !== e) {
      parent[e] = parent[parent[e]]
      e = parent[e]
    }
    return e
  }
  const joinBy = (first: number, end: number) => {
    for (let c = first; c < end; c++)
      for (let i = offset[c] + 1; i < offset[c + 1]; i++) {
        const a = rootOf(joint[offset[c]])
        const b = rootOf(joint[i])
        if (a !== b) parent[Math.max(a, b)] = Math.min(a, b)
      }
  }
  yield* portion(inPortions(candidates, joinBy), 0, 0.4)
  const pieceOf = new Int32Array(joints).fill(-1)
  const jointsOf: number[][] = []
  for (let e = 0; e < joints; e++) {
    const root = rootOf(e)
    if (pieceOf[root] < 0) pieceOf[root] = jointsOf.push([]) - 1
    pieceOf[e] = pieceOf[root]
    jointsOf[pieceOf[e]].push(e)
  }
  const candidatesOf: number[][] = jointsOf.map(() => [])
  const enter = (first: number, end: number) => {
    for (let c = first; c < end; c++)
      if (offset[c + 1] > offset[c]) candidatesOf[pieceOf[joint[offset[c]]]].push(c)
  }
  yield* portion(inPortions(candidates, enter), 0.4, 0.2)
  const numberOf = new Int32Array(joints)
  const pieces: SubSets[] = []
  let entries = 0
  for (const [p, own] of jointsOf.entries()) {
    const piece = pieceWith(sets, own, candidatesOf[p], numberOf)
    pieces.push(piece)
    entries += piece.sets.joint.length
    if (p % 64 === 63) yield 0.6 + (0.4 * entries) / joint.length
  }
  return pieces
}

function pieceWith(
  { demand, offset, joint }: CoverSets,
  own: readonly number[],
  candidates: readonly number[],
  numberOf: Int32Array,
): SubSets {
  own.forEach((e, i) => (numberOf[e] = i))
  const start = new Int32Array(candidates.length + 1)
  candidates.forEach((c, i) => (start[i + 1] = start[i] + offset[c + 1] - offset[c]))
  const inner = new Int32Array(start[candidates.length])
  candidates.forEach((c, i) => {
    for (let at = offset[c]; at < offset[c + 1]; at++) inner[start[i] + at - offset[c]] = numberOf[joint[at]]
  })
  return {
    sets: {
      joints: own.length,
      candidates: candidates.length,
      demand: Uint8Array.from(own, (e) => demand[e]),
      offset: start,
      joint: inner,
    },
    jointOf: Int32Array.from(own),
    candidateOf: Int32Array.from(candidates),
  }
}

/** Whether two pieces are one and the same but for the numbers of their joints and candidates in the whole. */
export function areAlike(a: CoverSets, b: CoverSets): boolean {
  return (
    a.joints === b.joints &&
    a.candidates === b.candidates &&
    areEqual(a.demand, b.demand) &&
    areEqual(a.offset, b.offset) &&
    areEqual(a.joint, b.joint)
  )
}

export function areEqual(a: Int32Array | Uint8Array, b: Int32Array | Uint8Array): boolean {
  if (a.length !== b.length) return false
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false
  return true
}

/** A number by which alike pieces are found; pieces that differ may share it. */
export function keyOfPiece({ joints, candidates, demand, offset, joint }: CoverSets): number {
  let key = Math.imul(joints, 0x9e3779b1) ^ Math.imul(candidates, 0x85ebca77)
  for (const numbers of [demand, offset, joint])
    for (let i = 0; i < numbers.length; i++) key = Math.imul(key ^ numbers[i], 0x01000193) ^ (key >>> 15)
  return key >>> 0
}
