import type { Edit } from '../../model/edits/edit.ts'
import { addPairs, addPlan, canAddPairs, canAddPlan } from '../../model/edits/plans.ts'
import { freeSlug } from '../../model/freeSlug.ts'
import type { Site } from '../../model/schema/site.ts'
import type { AppState } from '../../state/appState.ts'
import { pairPick } from '../../state/planMarks.ts'
import { openNameBook } from '../../text/places.ts'
import { describeAdded, describeTwice, planSteps, planTexts } from '../../text/planText.ts'
import { describeProblem } from '../../text/problems.ts'
import { changeOf, makeChange, type Change } from '../draw/change.ts'

/** A new plan with a name that no other has. */
export function newPlan(site: Site): { readonly id: string; readonly name: string } {
  const { plans } = site.drawing
  const names = new Set(plans.map(({ name }) => name))
  let number = plans.length + 1
  while (names.has(`${planTexts.firstName} ${number}`)) number++
  const name = `${planTexts.firstName} ${number}`
  const taken = plans.map(({ id }) => id)
  return { id: freeSlug(name, 'plan', taken), name }
}

/** Makes an empty plan and goes to it. */
export function makePlan(app: AppState): string | null {
  const { site } = app.session
  if (!site) return null
  const plan = newPlan(site)
  const change = changeOf(canAddPlan, addPlan, { ...plan, note: '' }, planSteps.add(plan.name))
  const trouble = makeChange(app, change)
  if (trouble === null) app.planDesk.choose(plan.id)
  return trouble
}

/**
 * Adds a pair at the end of the plan that is worked on; where there is none, a plan is made with it, as one step. A
 * pair that the plan has already is picked instead. Says what was done, or why not.
 */
export function addPlanPair(app: AppState, from: string, to: string): void {
  const { session, planDesk, selection, announcer } = app
  const { site } = session
  if (!site) return
  const old = planDesk.plan?.pairs.findIndex((pair) => isSamePair(pair, { from, to })) ?? -1
  if (old >= 0) {
    selection.pick(pairPick(planDesk.plan!.pairs[old].id))
    return announcer.say(describeTwice(old + 1))
  }
  const made = planDesk.plan ? null : newPlan(site)
  const plan = planDesk.plan?.id ?? made!.id
  const start: Edit = made ? addPlan({ ...made, note: '' }) : (same) => same
  const args = { plan, pairs: [{ from, to, required: false }] }
  const place = (planDesk.plan?.pairs.length ?? 0) + 1
  const change: Change = {
    can: (before) => canAddPairs(start(before), args),
    edit: (before) => addPairs(args)(start(before)),
    label: planSteps.addPair(place),
  }
  const can = change.can(site)
  if (can !== true) return announcer.say(describeProblem(can))
  makeChange(app, change)
  const pair = planDesk.plan?.pairs.at(-1)
  if (!pair || !session.site) return
  selection.pick(pairPick(pair.id))
  announcer.say(describeAdded(openNameBook(session.site.drawing), pair, place))
}

interface Ends {
  readonly from: string
  readonly to: string
}

/** Between the same two parts, whichever way round. */
export function isSamePair(a: Ends, b: Ends): boolean {
  return (a.from === b.from && a.to === b.to) || (a.from === b.to && a.to === b.from)
}
