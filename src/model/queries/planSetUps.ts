import type { Plan } from '../schema/planning.ts'

/** Pairs of a plan that follow one another and begin at the same part: there the first clip stays on. */
export interface PlanSetUp {
  /** The part of the first clip. */
  readonly at: string
  /** Place of its first pair in the plan, from 0, and how many there are. */
  readonly first: number
  readonly pairs: number
}

/** O(pairs). */
export function setUpsOfPlan(pairs: readonly Pick<Plan['pairs'][number], 'from'>[]): readonly PlanSetUp[] {
  const setUps: { at: string; first: number; pairs: number }[] = []
  pairs.forEach(({ from }, k) => {
    const last = setUps.at(-1)
    if (last?.at === from) last.pairs++
    else setUps.push({ at: from, first: k, pairs: 1 })
  })
  return setUps
}
