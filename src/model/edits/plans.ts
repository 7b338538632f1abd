import { fail, ok } from '../../base/result.ts'
import { problem } from '../problem.ts'
import { byId } from '../queries/byId.ts'
import type { Plan } from '../schema/planning.ts'
import type { Site } from '../schema/site.ts'
import { asEdit, commitDrawing, notThere, replaceItem } from './edit.ts'
import { addingNamed, removingItem } from './listEdits.ts'

export const { can: canRemovePlan, edit: removePlan } = removingItem('plans')

const adding = addingNamed('plans')

/** An empty plan. */
const emptyPlan = (args: AddPlan): Plan => ({ ...args, pairs: [], nextPair: 1 })

export type AddPlan = Pick<Plan, 'id' | 'name' | 'note'>
export const canAddPlan = (site: Site, args: AddPlan) => adding.can(site, emptyPlan(args))
export const addPlan = (args: AddPlan) => adding.edit(emptyPlan(args))

export interface ChangePlan {
  readonly plan: string
  readonly changes: Partial<Pick<Plan, 'name' | 'note'>>
}

export const { can: canChangePlan, edit: changePlan } = asEdit<ChangePlan>((site, { plan, changes }) => {
  const old = byId(site.drawing.plans).get(plan)
  if (!old) return notThere('plan', plan)
  return commitDrawing(site, { plans: replaceItem(site.drawing.plans, old, changes) })
})

type Pair = Plan['pairs'][number]

/** Without a step and a point, it has none. */
export type NewPair = Pick<Pair, 'from' | 'to' | 'required'> & Partial<Pick<Pair, 'step' | 'point'>>

export interface AddPairs {
  readonly plan: string
  readonly pairs: readonly NewPair[]
}

/** Adds pairs at the end of a plan, in their order. */
export const { can: canAddPairs, edit: addPairs } = asEdit<AddPairs>((site, args) => {
  const plan = byId(site.drawing.plans).get(args.plan)
  if (!plan) return notThere('plan', args.plan)
  if (args.pairs.length === 0) return ok(site)
  const added = args.pairs.map((pair, k) => ({
    id: plan.nextPair + k,
    step: '',
    point: 'none' as const,
    ...pair,
  }))
  const changes = { pairs: [...plan.pairs, ...added], nextPair: plan.nextPair + added.length }
  return commitDrawing(site, { plans: replaceItem(site.drawing.plans, plan, changes) })
})

export interface OnePair {
  readonly plan: string
  readonly pair: number
}

export interface RemovePairs {
  readonly plan: string
  readonly pairs: readonly number[]
}

/** Takes pairs out of a plan; readings that name them keep the number, which is not given again. */
export const { can: canRemovePairs, edit: removePairs } = asEdit<RemovePairs>((site, args) => {
  const plan = byId(site.drawing.plans).get(args.plan)
  if (!plan) return notThere('plan', args.plan)
  const known = byId(plan.pairs)
  const missing = args.pairs.find((pair) => !known.has(pair))
  if (missing !== undefined) return notThere('pair', missing)
  if (args.pairs.length === 0) return ok(site)
  const gone = new Set(args.pairs)
  const pairs = plan.pairs.filter(({ id }) => !gone.has(id))
  return commitDrawing(site, { plans: replaceItem(site.drawing.plans, plan, { pairs }) })
})

export interface RequirePair extends OnePair {
  readonly required: boolean
}

/** Pins a pair that a contract asks for, or unpins it. */
export const { can: canRequirePair, edit: requirePair } = asEdit<RequirePair>((site, args) => {
  const plan = byId(site.drawing.plans).get(args.plan)
  if (!plan) return notThere('plan', args.plan)
  const pair = byId(plan.pairs).get(args.pair)
  if (!pair) return notThere('pair', args.pair)
  const pairs = replaceItem(plan.pairs, pair, { required: args.required })
  return commitDrawing(site, { plans: replaceItem(site.drawing.plans, plan, { pairs }) })
})

export interface ChangePair extends OnePair {
  readonly changes: Partial<Pick<Pair, 'step' | 'point'>>
}

/** What the contract's test plan says of a pair: its step, and whether it is a witness or hold point. */
export const { can: canChangePair, edit: changePair } = asEdit<ChangePair>((site, args) => {
  const plan = byId(site.drawing.plans).get(args.plan)
  if (!plan) return notThere('plan', args.plan)
  const pair = byId(plan.pairs).get(args.pair)
  if (!pair) return notThere('pair', args.pair)
  const pairs = replaceItem(plan.pairs, pair, args.changes)
  return commitDrawing(site, { plans: replaceItem(site.drawing.plans, plan, { pairs }) })
})

export interface LayPairs {
  readonly plan: string
  readonly pairs: readonly NewPair[]
}

/**
 * Puts pairs in place of those of a plan, in their order. A pair between two parts that the plan has already, whichever
 * way round, stays that pair, with its number, step and point: readings name it. A required pair that is not among them
 * stays at the head.
 */
export const { can: canLayPairs, edit: layPairs } = asEdit<LayPairs>((site, args) => {
  const plan = byId(site.drawing.plans).get(args.plan)
  if (!plan) return notThere('plan', args.plan)
  const before = new Map<string, Pair[]>()
  for (const pair of plan.pairs) before.set(endsOf(pair), [...(before.get(endsOf(pair)) ?? []), pair])
  let { nextPair } = plan
  const laid = args.pairs.map((pair): Pair => {
    const old = before.get(endsOf(pair))?.shift()
    if (!old) return { step: '', point: 'none', ...pair, id: nextPair++ }
    return { ...old, from: pair.from, to: pair.to, required: old.required || pair.required }
  })
  const left = new Set([...before.values()].flat())
  const kept = plan.pairs.filter((pair) => pair.required && left.has(pair))
  const changes = { pairs: [...kept, ...laid], nextPair }
  return commitDrawing(site, { plans: replaceItem(site.drawing.plans, plan, changes) })
})

const endsOf = ({ from, to }: Pick<Pair, 'from' | 'to'>) => (from < to ? `${from} ${to}` : `${to} ${from}`)

export interface OrderPairs {
  readonly plan: string
  /** Ids of all pairs of the plan, in their new order. */
  readonly order: readonly number[]
}

/** Puts the pairs of a plan into another order. */
export const { can: canOrderPairs, edit: orderPairs } = asEdit<OrderPairs>((site, { plan, order }) => {
  const old = byId(site.drawing.plans).get(plan)
  if (!old) return notThere('plan', plan)
  const known = byId(old.pairs)
  const unknown = order.find((id) => !known.has(id))
  if (unknown !== undefined) return notThere('pair', unknown)
  if (new Set(order).size !== old.pairs.length || order.length !== old.pairs.length) {
    const reason = 'an order of pairs names each pair of the plan once'
    return fail(problem('value.inconsistent', { reason }, { path: ['order'] }))
  }
  if (order.every((id, k) => old.pairs[k].id === id)) return ok(site)
  const pairs = order.map((id) => known.get(id)!)
  return commitDrawing(site, { plans: replaceItem(site.drawing.plans, old, { pairs }) })
})
