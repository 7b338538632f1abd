import type { Entry, EntryOf } from '../schema/record.ts'
import { changesJoint } from './changesJoint.ts'
import { effectiveRecord, type EffectiveEntry } from './effectiveRecord.ts'
import type { RetestVerdict } from './retestVerdicts.ts'

export type DefectState = EntryOf<'defectStep'>['state']

/** One state that a defect was given, with what became of its proof since. */
export interface DefectStage {
  readonly step: EntryOf<'defectStep'>
  /** Withdrawals of the step or of its proof, and corrections of its proof that came after it; empty: the step stands. */
  readonly overturnedBy: readonly string[]
}

export type Outstanding =
  /** Repaired, and no reading since shows it. */
  | { readonly what: 'retest' }
  /** The entries that a state rested on were corrected or withdrawn. */
  | { readonly what: 'reopened'; readonly step: string; readonly by: readonly string[] }
  /** A reading after the repair is above its criterion or out of line. */
  | { readonly what: 'retestBad'; readonly reading: string }
  | OpenWork

/** What a repair left to be done at its joint. */
export interface OpenWork {
  /** `coating`: still open; `temporaryBond`: put across the joint, and nothing else done there since. */
  readonly what: 'coating' | 'temporaryBond'
  readonly joint: string
  readonly repair: string
}

export interface Defect {
  readonly defect: EntryOf<'defect'>
  /** `D3`; where two devices gave one number `D3a`, `D3b` in canonical order. */
  readonly label: string
  /** The last state that stands; `suspected` before any. */
  readonly state: DefectState
  /** All that were recorded, in canonical order. */
  readonly history: readonly DefectStage[]
  /** Joints it is about: the one that it was found at, once that is known. */
  readonly joints: readonly string[]
  readonly outstanding: readonly Outstanding[]
  /** The withdrawal of the entry that opened it, or null. */
  readonly withdrawnBy: string | null
  /** Steps that entries of the record prove and that were not recorded yet, in order; one tap records them. */
  readonly proposed: readonly ProposedStep[]
}

export interface ProposedStep {
  readonly state: DefectState
  readonly joint: string | null
  readonly proof: readonly string[]
}

/** Whether something is still to be done about it. */
export function isOpenDefect({ state, withdrawnBy }: Defect): boolean {
  return withdrawnBy === null && state !== 'retested' && state !== 'dismissed'
}

/** The number that the next defect gets: above all that this record has. */
export function nextDefectNumber(record: readonly Entry[]): number {
  return (
    1 + record.reduce((most, entry) => (entry.entry === 'defect' ? Math.max(most, entry.number) : most), 0)
  )
}

/**
 * The defects of a record, ascending by number, the same for every order in which its parts were merged.
 * @param judged what each reading says as a retest (`retestVerdicts`); readings that it does not know prove nothing yet
 */
export function defectsOf(
  record: readonly Entry[],
  judged: ReadonlyMap<string, RetestVerdict>,
): readonly Defect[] {
  const ordered = effectiveRecord(record)
  const all: Timeline = {
    ordered,
    place: new Map(ordered.map(({ original }, k) => [original.id, k])),
    judged,
    openWork: openWork(record),
  }
  const opened = ordered.filter(({ original }) => original.entry === 'defect')
  const labels = labelsOf(opened.map(({ original }) => original as EntryOf<'defect'>))
  return opened
    .map((one) => defectOf(one, labels.get(one.original.id) ?? '', all))
    .sort(
      (a, b) =>
        a.defect.number - b.defect.number || all.place.get(a.defect.id)! - all.place.get(b.defect.id)!,
    )
}

/** Coatings that are still open and temporary bonds that are still across, by joint, in canonical order. */
export function openWork(record: readonly Entry[]): readonly OpenWork[] {
  const coatings = new Map<string, OpenWork>()
  const bonds = new Map<string, OpenWork>()
  for (const { entry, withdrawnBy } of effectiveRecord(record)) {
    if (entry.entry !== 'repair' || withdrawnBy) continue
    const { joint, id: repair } = entry
    if (entry.coating === 'stillOpen') coatings.set(joint, { what: 'coating', joint, repair })
    if (entry.coating === 'madeGood') coatings.delete(joint)
    if (entry.done === 'temporaryBond') bonds.set(joint, { what: 'temporaryBond', joint, repair })
    else bonds.delete(joint)
  }
  return [...coatings.values(), ...bonds.values()]
}

interface Timeline {
  readonly ordered: readonly EffectiveEntry[]
  readonly place: ReadonlyMap<string, number>
  readonly judged: ReadonlyMap<string, RetestVerdict>
  readonly openWork: readonly OpenWork[]
}

/** `D1`, `D2`; several of one number get letters in canonical order, whether or not they are withdrawn. */
function labelsOf(defects: readonly EntryOf<'defect'>[]): ReadonlyMap<string, string> {
  const labels = new Map<string, string>()
  for (const { id, number } of defects) {
    const alike = defects.filter((one) => one.number === number)
    const suffix = alike.length > 1 ? letters(alike.findIndex((one) => one.id === id)) : ''
    labels.set(id, `D${number}${suffix}`)
  }
  return labels
}

function letters(k: number): string {
  const last = String.fromCharCode(97 + (k % 26))
  return k < 26 ? last : letters(Math.floor(k / 26) - 1) + last
}

function defectOf({ original, withdrawnBy }: EffectiveEntry, label: string, all: Timeline): Defect {
  const defect = original as EntryOf<'defect'>
  const history = all.ordered.flatMap(({ original: step, withdrawnBy: by }): DefectStage[] => {
    if (step.entry !== 'defectStep' || step.of !== defect.id) return []
    return [{ step, overturnedBy: by ? [by.id] : overturned(step, all) }]
  })
  const standing = history.filter(({ overturnedBy }) => overturnedBy.length === 0).map(({ step }) => step)
  const state = standing.at(-1)?.state ?? 'suspected'
  const found = standing.findLast(({ joint }) => joint !== null)?.joint ?? null
  const joints = found === null ? defect.joints : [found]
  const proposed = withdrawnBy ? [] : propose(defect, standing, all)
  return {
    defect,
    label,
    state,
    history,
    joints,
    outstanding: withdrawnBy ? [] : outstandingOf(defect, state, joints, history, standing, all),
    withdrawnBy: withdrawnBy?.id ?? null,
    proposed,
  }
}

/** What has been said since of the entries that a step rests on; what was said before was known to who wrote it. */
function overturned(step: EntryOf<'defectStep'>, { ordered, place }: Timeline): readonly string[] {
  const written = place.get(step.id)!
  return step.proof.flatMap((id) => {
    const k = place.get(id)
    if (k === undefined) return []
    const { corrections, withdrawnBy } = ordered[k]
    const later = corrections.filter((one) => place.get(one.id)! > written)
    return [...(withdrawnBy ? [withdrawnBy.id] : []), ...later.map((one) => one.id)]
  })
}

function outstandingOf(
  defect: EntryOf<'defect'>,
  state: DefectState,
  joints: readonly string[],
  history: readonly DefectStage[],
  standing: readonly EntryOf<'defectStep'>[],
  all: Timeline,
): readonly Outstanding[] {
  const found: Outstanding[] = []
  const last = history.at(-1)
  // a step that was itself taken back was taken back on purpose; one whose proof fell reopens the defect
  if (
    last &&
    last.overturnedBy.length > 0 &&
    all.ordered[all.place.get(last.step.id)!].withdrawnBy === null
  ) {
    found.push({ what: 'reopened', step: last.step.id, by: last.overturnedBy })
  }
  if (state === 'repaired') {
    const latest = retestsAfter(defect, joints, lastRepaired(standing, all) ?? -1, all).at(-1)
    const isBad = latest && all.judged.get(latest.id) === 'bad'
    found.push(isBad ? { what: 'retestBad', reading: latest.id } : { what: 'retest' })
  }
  return [...found, ...all.openWork.filter(({ joint }) => defect.joints.includes(joint))]
}

/** Readings after a place that count, over the same two parts as one of the proof or with the jaws round a joint. */
function retestsAfter(
  defect: EntryOf<'defect'>,
  joints: readonly string[],
  from: number,
  { ordered, place }: Timeline,
): readonly EntryOf<'reading'>[] {
  const pairs = new Set(
    defect.proof.flatMap((id) => {
      const entry = ordered[place.get(id) ?? -1]?.entry
      return entry?.entry === 'reading' && entry.around === null ? [endsOf(entry)] : []
    }),
  )
  return ordered.slice(from + 1).flatMap(({ entry, withdrawnBy }) => {
    if (entry.entry !== 'reading' || withdrawnBy) return []
    const isOfIt = entry.around === null ? pairs.has(endsOf(entry)) : joints.includes(entry.around)
    return isOfIt ? [entry] : []
  })
}

function endsOf({ from, to }: EntryOf<'reading'>): string {
  return [from.part, to.part].sort().join(' ')
}

/** What the record proves beyond the steps that stand: at most found, repaired and retested, in this order. */
function propose(
  defect: EntryOf<'defect'>,
  standing: readonly EntryOf<'defectStep'>[],
  all: Timeline,
): readonly ProposedStep[] {
  const state = standing.at(-1)?.state ?? 'suspected'
  if (state === 'dismissed' || state === 'retested') return []
  const proposed: ProposedStep[] = []
  const again = standing.findLast((step) => step.state === 'suspected')
  const start = again ? all.place.get(again.id)! : provedUpTo(defect, all)
  let found = standing.findLast(({ joint }) => joint !== null)?.joint ?? null
  const joints = () => (found === null ? defect.joints : [found])
  if (state === 'suspected') {
    const finding = firstFinding(defect, again ? start : -1, all)
    if (finding) {
      found = finding.joint
      proposed.push({ state: 'confirmed', joint: found, proof: [finding.entry] })
    }
  }
  const last = state === 'repaired' ? lastRepaired(standing, all) : null
  const from = Math.max(start, last ?? -1)
  const repair = all.ordered
    .slice(from + 1)
    .findLast(
      ({ entry, withdrawnBy }) =>
        !withdrawnBy && entry.entry === 'repair' && changesJoint(entry) && joints().includes(entry.joint),
    )?.entry
  if (repair?.entry === 'repair') {
    found = repair.joint
    proposed.push({ state: 'repaired', joint: found, proof: [repair.id] })
  }
  const repairedAt = repair ? all.place.get(repair.id)! : last
  if (repairedAt === null || hasTemporaryBond(joints(), all)) return proposed
  // the latest reading decides: one that is in line again after a bad one closes it, the other way round does not
  const retest = retestsAfter(defect, joints(), repairedAt, all).at(-1)
  if (retest && all.judged.get(retest.id) === 'good') {
    proposed.push({ state: 'retested', joint: found, proof: [retest.id] })
  }
  return proposed
}

/** While a temporary bond lies across a joint, no reading says anything of it. */
function hasTemporaryBond(joints: readonly string[], { openWork }: Timeline): boolean {
  return openWork.some(({ what, joint }) => what === 'temporaryBond' && joints.includes(joint))
}

/** Place of the last entry that speaks for a defect: what comes after it can have put it right. */
function provedUpTo(defect: EntryOf<'defect'>, { place }: Timeline): number {
  const proof = defect.proof.flatMap((id) => place.get(id) ?? [])
  return proof.length > 0 ? Math.max(...proof) : place.get(defect.id)!
}

/** Place of the last repair that a standing step names, or of that step; null where no step says repaired. */
function lastRepaired(
  standing: readonly EntryOf<'defectStep'>[],
  { ordered, place }: Timeline,
): number | null {
  const step = standing.findLast(({ state }) => state === 'repaired')
  if (!step) return null
  const repairs = step.proof.filter((id) => ordered[place.get(id) ?? -1]?.original.entry === 'repair')
  return Math.max(...(repairs.length > 0 ? repairs : [step.id]).map((id) => place.get(id)!))
}

/** The first look that found something, or clamp reading out of line, at a joint that was not repaired before the defect. */
function firstFinding(
  defect: EntryOf<'defect'>,
  from: number,
  { ordered, judged, place }: Timeline,
): { readonly joint: string; readonly entry: string } | null {
  let findings: { readonly joint: string; readonly entry: string }[] = []
  ordered.forEach(({ entry, withdrawnBy }, k) => {
    if (withdrawnBy || k <= from) return
    if (entry.entry === 'repair' && changesJoint(entry) && k < place.get(defect.id)!) {
      findings = findings.filter(({ joint }) => joint !== entry.joint)
    } else if (entry.entry === 'look' && !entry.findings.includes('sound')) {
      findings.push({ joint: entry.joint, entry: entry.id })
    } else if (entry.entry === 'reading' && entry.around !== null && judged.get(entry.id) === 'bad') {
      findings.push({ joint: entry.around, entry: entry.id })
    }
  })
  return findings.find(({ joint }) => defect.joints.includes(joint)) ?? null
}
