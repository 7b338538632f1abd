import fc from 'fast-check'
import { coverSetsOf } from '../../../src/plan/choose/coverSets.ts'
import type { PairInstance } from '../../../src/plan/choose/chooseTypes.ts'

/** An instance whose candidates feel what they show, at level 1 or as given. */
export function pairInstanceOf(
  joints: number,
  pairs: readonly { readonly from: number; readonly to: number; readonly shows: readonly number[] }[],
  options: { readonly demand?: number; readonly level?: (c: number, e: number) => number } = {},
): PairInstance {
  const shown = coverSetsOf(
    joints,
    pairs.map(({ shows }) => shows),
    options.demand ?? 1,
  )
  const level = new Uint8Array(shown.joint.length).fill(1)
  if (options.level)
    for (let c = 0; c < shown.candidates; c++)
      for (let i = shown.offset[c]; i < shown.offset[c + 1]; i++) level[i] = options.level(c, shown.joint[i])
  return {
    shown,
    signs: { ...shown, level },
    weight: new Float64Array(joints).fill(0.01),
    minutes: new Float64Array(pairs.length).fill(1.5),
    from: Int32Array.from(pairs, ({ from }) => from),
    to: Int32Array.from(pairs, ({ to }) => to),
  }
}

/** All pairs of nodes of a tree (parent of each node but the first), showing the joints between them: joint e joins node e + 1 and its parent. */
export function treeInstance(
  parents: readonly number[],
  options: { readonly mostJoints?: number; readonly demand?: number } = {},
): PairInstance {
  const up = (node: number): number[] => (node === 0 ? [] : [node - 1, ...up(parents[node - 1])])
  const pairs = []
  for (let from = 0; from <= parents.length; from++)
    for (let to = from + 1; to <= parents.length; to++) {
      const [a, b] = [up(from), up(to)]
      const shows = [...a.filter((e) => !b.includes(e)), ...b.filter((e) => !a.includes(e))]
      if (shows.length <= (options.mostJoints ?? Infinity)) pairs.push({ from, to, shows })
    }
  return pairInstanceOf(parents.length, pairs, { demand: options.demand })
}

export const smallPairInstances: fc.Arbitrary<PairInstance> = fc.integer({ min: 1, max: 7 }).chain((joints) =>
  fc
    .record({
      pairs: fc.array(
        fc.record({
          from: fc.integer({ min: 0, max: 3 }),
          to: fc.integer({ min: 4, max: 7 }),
          shows: fc.uniqueArray(fc.integer({ min: 0, max: joints - 1 }), { minLength: 1, maxLength: 5 }),
        }),
        { minLength: 1, maxLength: 9 },
      ),
      demand: fc.constantFrom(1, 1, 2),
      levels: fc.array(fc.integer({ min: 1, max: 2 }), { minLength: 63, maxLength: 63 }),
    })
    .map(({ pairs, demand, levels }) =>
      pairInstanceOf(joints, pairs, { demand, level: (c, e) => levels[7 * c + e] }),
    ),
)
