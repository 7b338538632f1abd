import type { NextAction } from '../model/answers.ts'
import type { AppState } from '../state/appState.ts'
import { nextTexts } from '../text/nextPanelText.ts'
import type { PairDraft } from './pairDraft.svelte.ts'
import { startPair, toWorkspace } from './toWorkspace.ts'

/** Takes the pair of an action over into Measure, with the instrument and lead that it was reckoned with. */
export function takePair(
  app: AppState,
  draft: PairDraft,
  { from, to, kit, lead }: Pick<NextAction, 'from' | 'to' | 'kit' | 'lead'>,
): void {
  if (from === undefined || to === undefined || !linkEnds(app, draft, from, to)) return
  if (kit !== undefined) draft.kit = kit
  if (lead !== undefined && lead !== null) draft.lead = lead
  draft.callForm()
}

/** The same reading again: its ends, and the clips where they were, to be seated afresh. */
export function repeatReading(app: AppState, draft: PairDraft, { entry }: NextAction): void {
  const reading = app.session.site?.record.find(({ id }) => id === entry)
  if (reading?.entry !== 'reading') return
  if (!linkEnds(app, draft, reading.from.part, reading.to.part)) return
  draft.repeats = reading.id
  draft.fromClip = reading.from
  draft.toClip = reading.to
  draft.callForm()
}

/** Takes over what comes before all else, a pair or a repeat, as the tag on the map offers it. */
export function takeNext(app: AppState, draft: PairDraft): void {
  const action = app.results.isNextCurrent ? app.results.next?.actions.at(0) : undefined
  if (action?.kind === 'pair') takePair(app, draft, action)
  if (action?.kind === 'repeat') repeatReading(app, draft, action)
}

/** To where the leads are nulled, with the words for it. */
export function checkLeads(app: AppState): void {
  toWorkspace(app, 'measure')
  app.announcer.say(nextTexts.leadsSaid)
}

/** What was being typed of another pair does not belong to this one. */
function linkEnds(app: AppState, draft: PairDraft, from: string, to: string): boolean {
  toWorkspace(app, 'measure')
  startPair(app, from)
  if (!app.selection.endPair(to)) return false
  app.selection.pointAtPair(null)
  draft.clearValue()
  draft.fromText = ''
  draft.toText = ''
  return true
}
