import { defectsOf, type Defect, type ProposedStep } from '../../model/record/defects.ts'
import { countedEntries, effectiveRecord } from '../../model/record/effectiveRecord.ts'
import { retestVerdicts } from '../../model/record/retestVerdicts.ts'
import type { SuspectGroup } from '../../model/answers.ts'
import type { Problem } from '../../model/problem.ts'
import type { Entry, EntryOf } from '../../model/schema/record.ts'
import type { Site } from '../../model/schema/site.ts'
import type { AppState } from '../../state/appState.ts'
import { openedDefect, writtenStep } from '../../state/fieldEntries.ts'
import { leaningOf, strongestFirst } from '../../text/evidenceText.ts'
import { measuringSetup } from '../measuringSetup.ts'
import { takePair } from '../nextTakeOver.ts'
import type { PairDraft } from '../pairDraft.svelte.ts'
import { visitToWriteIn } from '../visitToWriteIn.ts'

/** At most so many joints of a group are named in a defect; the schema's limit. */
const mostJoints = 50

/** Writes one entry of the visit that goes on; where there is none for today, one is opened. */
export function writeInVisit(
  { session, identity }: Pick<AppState, 'session' | 'identity'>,
  make: (site: Site, visit: string) => Entry,
): Problem | null {
  const { site } = session
  if (!site) return null
  const setup = measuringSetup(site, { kit: null, lead: null }, identity.now())
  const visit = visitToWriteIn(session, identity, setup)
  if (!visit.ok) return visit.error
  return session.site ? session.append(make(session.site, visit.value.id)) : null
}

/** The defects of the open site; while the network is asked anew, no reading proves anything. */
export function defectsNow({ session, results }: Pick<AppState, 'session' | 'results'>): readonly Defect[] {
  const { site } = session
  if (!site) return []
  const { judge, locate, isCurrent } = results
  const verdicts =
    isCurrent && judge && locate ? retestVerdicts(judge.readings, locate.readings) : new Map<string, never>()
  return defectsOf(site.record, verdicts)
}

/** Records steps one after the other; stops at the first that cannot be. */
export function recordSteps(
  app: Pick<AppState, 'session' | 'identity'>,
  { defect }: Defect,
  steps: readonly ProposedStep[],
  note: string,
): Problem | null {
  for (const step of steps) {
    const trouble = writeInVisit(app, (site, visit) =>
      writtenStep(site, app.identity, visit, defect.id, step, note),
    )
    if (trouble) return trouble
  }
  return null
}

/** Makes a suspect group a defect: its joints, and the readings that speak for it, the strongest first. */
export function openDefect(app: Pick<AppState, 'session' | 'identity'>, group: SuspectGroup): Problem | null {
  const joints = group.joints.slice(0, mostJoints).map(({ joint }) => joint)
  const proof = strongestFirst(group)
    .filter((one) => leaningOf(one) === 'for')
    .map(({ entry }) => entry)
  return writeInVisit(app, (site, visit) =>
    openedDefect(site, app.identity, visit, { joints, proof, note: '' }),
  )
}

/** The first reading of the proof that was taken between two parts: its pair is read again. */
export function retestOf(record: readonly Entry[], { defect }: Defect): EntryOf<'reading'> | null {
  const readings = new Map(countedEntries(record, 'reading').map((reading) => [reading.id, reading]))
  for (const id of defect.proof) {
    const reading = readings.get(id)
    if (reading?.method === 'twoWire' || reading?.method === 'fourWire') return reading
  }
  return null
}

/** Begins the pair that spoke for the defect: a reading of its own, which repeats none from before the repair. */
export function startRetest(
  app: AppState,
  draft: PairDraft,
  { from, to, kit, lead }: EntryOf<'reading'>,
): void {
  takePair(app, draft, { from: from.part, to: to.part, kit, lead })
}

/** Looks and repairs that count at any of some joints, in canonical order. */
export function workAt(
  record: readonly Entry[],
  joints: readonly string[],
): readonly (EntryOf<'look'> | EntryOf<'repair'>)[] {
  return effectiveRecord(record).flatMap(({ entry, withdrawnBy }) =>
    !withdrawnBy && (entry.entry === 'look' || entry.entry === 'repair') && joints.includes(entry.joint)
      ? [entry]
      : [],
  )
}

/** Places of readings in the record, from 1: the numbers that all sentences use. */
export function readingNumbers(record: readonly Entry[]): ReadonlyMap<string, number> {
  const readings = effectiveRecord(record).filter(({ entry }) => entry.entry === 'reading')
  return new Map(readings.map(({ entry }, k) => [entry.id, k + 1]))
}

/** Torque that was last said to be required: at the joint itself, else anywhere. */
export function lastTorqueAsked(record: readonly Entry[], joint: string): number | null {
  const said = countedEntries(record, 'look').filter(({ torqueAskedNm }) => torqueAskedNm !== null)
  return (said.findLast((look) => look.joint === joint) ?? said.at(-1))?.torqueAskedNm ?? null
}
