import type { Plan } from '../../src/model/schema/planning.ts'

/** A plan that reaches each list of points from its reference point, pair ids counted from 1. */
export function planOf(
  id: string,
  name: string,
  note: string,
  setUps: readonly { readonly from: string; readonly to: readonly string[] }[],
): Plan {
  const pairs = setUps
    .flatMap(({ from, to }) => to.map((end) => ({ from, to: end })))
    .map(({ from, to }, k) => ({ id: k + 1, from, to, required: false, step: '', point: 'none' as const }))
  return { id, name, note, pairs, nextPair: pairs.length + 1 }
}
