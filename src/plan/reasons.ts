import { portion } from '../base/portion.ts'
import { likeTables, jointAtPlace, placesOf, type LikeTables } from './likeTables.ts'
import { canGoBad } from './sighting.ts'
import { whyHidden, whys, type HiddenTerms } from './hidden.ts'

/** Why each joint would be hidden if no pair of the plan showed it: number in `whys` by edge, 255 for what cannot fail. */
export type Reasons = Uint8Array

/**
 * Reasons of all joints, whatever the plan. Joints of like tables have like reasons: each class of tables is looked at once,
 * in its first table, equipment joint by joint. A few solves for each joint looked at.
 */
export function* reasonsOf(terms: HiddenTerms): Generator<number, Reasons> {
  const { network } = terms.book.sighting.prepared
  const { index, edgeCount, edgeOfJoint } = network
  const tables = yield* portion(likeTables(network), 0, 0.1)
  const reasons = new Uint8Array(edgeCount).fill(255)
  const first = firstOfClass(tables)
  const isLooked = new Uint8Array(index.jointCount)
  let done = 0
  for (let c = 0; c < tables.classCount; c++) {
    const table = first[c]
    for (let place = 0; place < placesOf(index, tables, table); place++) {
      const soFar = 0.1 + (0.6 * c) / tables.classCount
      yield* portion(look(jointAtPlace(index, tables, table, place)), soFar, 0)
      if (++done % 64 === 0) yield soFar
    }
  }
  for (let t = 0; t < tables.tableCount; t++) {
    const like = first[tables.classOf[t]]
    const places = Math.min(placesOf(index, tables, t), placesOf(index, tables, like))
    for (let place = 0; place < places; place++) {
      const joint = jointAtPlace(index, tables, t, place)
      const edge = edgeOfJoint[joint]
      const known = edgeOfJoint[jointAtPlace(index, tables, like, place)]
      if (edge >= 0 && known >= 0) reasons[edge] = reasons[known]
      isLooked[joint] = 1
    }
    if (t % 256 === 255) yield 0.7 + (0.1 * t) / tables.tableCount
  }
  for (let joint = 0; joint < index.jointCount; joint++) {
    if (isLooked[joint] === 1) continue
    const soFar = 0.8 + (0.2 * joint) / index.jointCount
    yield* portion(look(joint), soFar, 0)
    if (joint % 64 === 0) yield soFar
  }
  return reasons

  function* look(joint: number): Generator<number, void> {
    const edge = edgeOfJoint[joint]
    if (edge < 0 || !canGoBad(network, edge)) return
    const { why } = yield* whyHidden(terms, edge)
    reasons[edge] = whys.indexOf(why)
  }
}

/** The first table of each class. */
export function firstOfClass({ classOf, classCount, tableCount }: LikeTables): Int32Array {
  const first = new Int32Array(classCount).fill(-1)
  for (let t = tableCount - 1; t >= 0; t--) first[classOf[t]] = t
  return first
}
