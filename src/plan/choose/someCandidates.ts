import type { PairInstance, Signs } from './chooseTypes.ts'
import type { CoverSets } from './coverSets.ts'

/** The instance of these candidates alone, ascending; joints keep their numbers, candidates get their place in `kept`. */
export function someCandidates(instance: PairInstance, kept: Int32Array): PairInstance {
  const { shown, signs, weight, minutes, from, to } = instance
  const sets = someOf(signs, kept)
  const ownSigns: Signs = { ...sets, level: entriesOf(signs.level, signs, sets, kept) }
  return {
    signs: ownSigns,
    shown: { ...(shown.joint === signs.joint ? sets : someOf(shown, kept)), demand: shown.demand },
    weight,
    minutes: Float64Array.from(kept, (c) => minutes[c]),
    from: kept.map((c) => from[c]),
    to: kept.map((c) => to[c]),
  }
}

type Rows = Omit<CoverSets, 'demand'>

function someOf(sets: Rows, kept: Int32Array): Rows {
  const offset = new Int32Array(kept.length + 1)
  kept.forEach((c, i) => (offset[i + 1] = offset[i] + sets.offset[c + 1] - sets.offset[c]))
  const own = { joints: sets.joints, candidates: kept.length, offset }
  return { ...own, joint: entriesOf(sets.joint, sets, own, kept) }
}

function entriesOf<A extends Int32Array | Uint8Array>(
  entries: A,
  whole: Pick<Rows, 'offset'>,
  { offset }: Pick<Rows, 'offset'>,
  kept: Int32Array,
): A {
  const own = entries.slice(0, offset[kept.length]) as A
  kept.forEach((c, i) => own.set(entries.subarray(whole.offset[c], whole.offset[c + 1]), offset[i]))
  return own
}
