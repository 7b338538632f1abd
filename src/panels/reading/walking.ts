import {
  holdBefore,
  nextOfWalk,
  planOf,
  walkOf,
  type Walk,
  type WalkPair,
} from '../../model/queries/planWalk.ts'
import type { Plan } from '../../model/schema/planning.ts'
import type { AppState } from '../../state/appState.ts'
import type { PairDraft } from '../pairDraft.svelte.ts'
import { startPair } from '../toWorkspace.ts'

type Touched = Pick<AppState, 'session' | 'selection' | 'results'>

/** The walk that is on; null where none is. */
export function walkNow({ session }: Pick<AppState, 'session'>, draft: PairDraft): Walk | null {
  const { site } = session
  const plan = site ? planOf(site.drawing, draft.extras.plan) : null
  if (!site || !plan) return null
  const { walkedAfter, passedOver } = draft.extras
  const after = site.record.findIndex(({ id }) => id === walkedAfter)
  return walkOf(plan, after < 0 ? site.record : site.record.slice(after + 1), new Set(passedOver))
}

/** A hold point that is not released. */
export interface Held {
  readonly plan: Plan
  readonly hold: WalkPair
}

/** The hold point that a reading between two parts waits for, of whatever plan; null where none. */
export function heldPair(
  app: Pick<AppState, 'session'>,
  draft: PairDraft,
  from: string,
  to: string,
): Held | null {
  const { site } = app.session
  const walked = walkNow(app, draft)
  for (const plan of site?.drawing.plans ?? []) {
    if (!site || plan.pairs.every(({ point }) => point !== 'hold')) continue
    const walk = plan.id === walked?.plan.id ? walked : walkOf(plan, site.record, new Set())
    const hold = holdBefore(walk, from, to)
    if (hold) return { plan, hold }
  }
  return null
}

/** Puts a pair of the walk into the form and on the map. */
export function goToPair(app: Touched, draft: PairDraft, { pair }: WalkPair): void {
  draft.noteDown({ planPair: pair.id })
  draft.fromText = ''
  draft.toText = ''
  startPair(app, pair.from)
  app.selection.endPair(pair.to)
  draft.callForm()
}

/** On to the next pair that is left; where the walk is held or at its end, it stays where it is. */
export function goOnWalking(app: Touched, draft: PairDraft): void {
  const walk = walkNow(app, draft)
  if (!walk || walk.heldAt) return
  const at = walk.pairs.find(({ pair }) => pair.id === draft.extras.planPair)?.place ?? 0
  const next = nextOfWalk(walk, at)
  if (next) goToPair(app, draft, next)
}

/** Begins a walk or goes on with it; a plan of which nothing is left is begun anew. */
export function beginWalk(app: Touched, draft: PairDraft, plan: string): void {
  draft.noteDown({ plan, planPair: null, passedOver: [], walkedAfter: null })
  if (walkNow(app, draft)?.left === 0) {
    draft.noteDown({ walkedAfter: app.session.site?.record.at(-1)?.id ?? null })
  }
  goOnWalking(app, draft)
}

/** Passes over the pair that one stands at. */
export function passOver(app: Touched, draft: PairDraft): void {
  const { planPair, passedOver } = draft.extras
  if (planPair !== null) draft.noteDown({ passedOver: [...new Set([...passedOver, planPair])] })
  goOnWalking(app, draft)
}

/** To the pair before in the plan, whether or not it was read. */
export function goBack(app: Touched, draft: PairDraft): void {
  const walk = walkNow(app, draft)
  const at = walk?.pairs.findIndex(({ pair }) => pair.id === draft.extras.planPair) ?? -1
  if (walk && at > 0) goToPair(app, draft, walk.pairs[at - 1])
}
