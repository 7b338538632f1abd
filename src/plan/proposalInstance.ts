import { inPortions, portion } from '../base/portion.ts'
import { partInTable } from '../layout/partIndex.ts'
import { straightM } from '../walk/reach.ts'
import { readingMin, type Persons } from '../walk/effort.ts'
import type { Network } from '../network/compile.ts'
import type { Candidates } from './candidates.ts'
import type { PairInstance } from './choose/chooseTypes.ts'
import type { PartPair } from './ownPairs.ts'
import type { PairView } from './sighting.ts'

/** What is chosen from, in the numbers of `choose/`, and the pair that each of its candidates is. */
export interface ProposalInstance {
  readonly instance: PairInstance
  /** So many of its first candidates are required pairs. */
  readonly required: number
  readonly pairs: readonly PartPair[]
  /** By candidate: 0 where the pair goes from one row to another. */
  readonly isNear: Uint8Array
}

/**
 * The instance of a choice: required pairs first, in their order and each once, then all candidates that are not among
 * them. Joints that nothing shows are left out, the others keep their order. Two joints are taken to be told apart by a
 * pair that shows one of them and not the other; how strongly it shows them is not made use of, as nobody knows by how
 * many ohms a joint went bad. Yields its fraction done.
 */
export function* proposalInstance(
  network: Network,
  candidates: Candidates,
  requiredViews: readonly PairView[],
  terms: { readonly timesShown: 1 | 2; readonly persons: Persons },
): Generator<number, ProposalInstance> {
  const { count, a, b, start, edge } = candidates
  const keyOf = (one: PartPair) => one.a * network.graph.nodeCount + one.b
  const required = [...new Map(requiredViews.map((view) => [keyOf(view), view])).values()]
  const isRequired = new Set(required.map(keyOf))
  const kept: number[] = []
  const keep = (first: number, end: number) => {
    for (let k = first; k < end; k++) if (!isRequired.has(a[k] * network.graph.nodeCount + b[k])) kept.push(k)
  }
  yield* portion(inPortions(count, keep), 0, 0.2)
  const shownBy = required.map(shownEdges)
  const numberOf = new Int32Array(network.edgeCount).fill(-1)
  for (const edges of shownBy) for (const e of edges) numberOf[e] = 0
  for (const e of edge) numberOf[e] = 0
  yield 0.3
  const jointOf: number[] = []
  numberOf.forEach((seen, e) => {
    if (seen === 0) numberOf[e] = jointOf.push(e) - 1
  })
  const offset = new Int32Array(required.length + kept.length + 1)
  shownBy.forEach((edges, k) => (offset[k + 1] = offset[k] + edges.length))
  kept.forEach((k, i) => {
    offset[required.length + i + 1] = offset[required.length + i] + start[k + 1] - start[k]
  })
  const joint = new Int32Array(offset[offset.length - 1])
  shownBy.forEach((edges, k) => edges.forEach((e, i) => (joint[offset[k] + i] = numberOf[e])))
  const pairs: PartPair[] = required.map((view) => ({ a: view.a, b: view.b }))
  const enter = (first: number, end: number) => {
    for (let i = first; i < end; i++) {
      const k = kept[i]
      const at = offset[required.length + i]
      for (let s = start[k]; s < start[k + 1]; s++) joint[at + s - start[k]] = numberOf[edge[s]]
      pairs.push({ a: a[k], b: b[k] })
    }
  }
  yield* portion(inPortions(kept.length, enter), 0.3, 0.4)
  const minutes = new Float64Array(pairs.length)
  const time = (first: number, end: number) => {
    for (let c = first; c < end; c++) minutes[c] = minutesOf(network, pairs[c], terms.persons)
  }
  yield* portion(inPortions(pairs.length, time), 0.7, 0.2)
  const shown = {
    joints: jointOf.length,
    candidates: pairs.length,
    demand: new Uint8Array(jointOf.length).fill(terms.timesShown),
    offset,
    joint,
  }
  return {
    instance: {
      shown,
      signs: { ...shown, level: new Uint8Array(joint.length).fill(1) },
      weight: Float64Array.from(jointOf, (e) => network.defectRate[e]),
      minutes,
      from: Int32Array.from(pairs, (pair) => pair.a),
      to: Int32Array.from(pairs, (pair) => pair.b),
    },
    required: required.length,
    pairs,
    isNear: Uint8Array.from(pairs, ({ a, b }) => (isAcrossRows(network, a, b) ? 0 : 1)),
  }
}

function isAcrossRows({ index }: Network, a: number, b: number): boolean {
  if (a >= index.enclosureStart || b >= index.enclosureStart) return false
  const rowOf = (part: number) => index.rows.runs.row[partInTable(index, part).run]
  return rowOf(a) !== rowOf(b)
}

function shownEdges({ edge, riseOhm, leastRiseOhm }: PairView): Int32Array {
  return edge.filter((_, k) => riseOhm[k] >= leastRiseOhm)
}

/** Of a reading from a set-up that stands: to the far end and back. */
function minutesOf({ index }: Network, { a, b }: PartPair, persons: Persons): number {
  return readingMin({ wayM: 2 * straightM(index, a, b), movesReference: false, changesLead: false, persons })
}
