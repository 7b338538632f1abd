import { setUpsOfPlan } from '../../model/queries/planSetUps.ts'
import type { Plan } from '../../model/schema/planning.ts'

type Pair = Plan['pairs'][number]

/** A line of the list of pairs: a pair, or the head of a set-up. */
export type PlanLine =
  | { readonly kind: 'pair'; readonly pair: Pair; readonly place: number }
  | { readonly kind: 'setUp'; readonly number: number; readonly at: string; readonly first: number }

/** Pairs with the heads of their set-ups; without, where the first clip moves at every pair. O(pairs). */
export function planLinesOf(pairs: readonly Pair[]): readonly PlanLine[] {
  const setUps = setUpsOfPlan(pairs)
  const hasHeads = setUps.some((setUp) => setUp.pairs > 1)
  return setUps.flatMap(({ at, first, pairs: count }, k): PlanLine[] => [
    ...(hasHeads ? [{ kind: 'setUp', number: k + 1, at, first } as const] : []),
    ...pairs
      .slice(first, first + count)
      .map((pair, i) => ({ kind: 'pair', pair, place: first + i }) as const),
  ])
}

export function keyOfLine(line: PlanLine): string {
  return line.kind === 'pair' ? `pair ${line.pair.id}` : `set-up ${line.first}`
}
