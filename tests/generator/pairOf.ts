import { present } from '../../src/base/assert.ts'
import type { Plan } from '../../src/model/schema/planning.ts'

/** The id that a plan gives to a pair of points. */
export function pairOf(plan: Plan, { from, to }: { readonly from: string; readonly to: string }): number {
  const pair = plan.pairs.find((each) => each.from === from && each.to === to)
  return present(pair, `the plan has no pair from ${from} to ${to}`).id
}
