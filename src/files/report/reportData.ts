import type { JudgedReading, LocateAnswer, ReadingAnswer } from '../../model/answers.ts'
import { defectsOf } from '../../model/record/defects.ts'
import { retestVerdicts } from '../../model/record/retestVerdicts.ts'
import { countedEntries, effectiveRecord, type EffectiveEntry } from '../../model/record/effectiveRecord.ts'
import type { Criterion } from '../../model/schema/planning.ts'
import type { Entry, EntryOf, Kit } from '../../model/schema/record.ts'
import { shownSteps } from '../../text/shownSteps.ts'
import { changesOf, reportSignatures } from './reportChanges.ts'
import { nullingsOf, visitsOf } from './reportVisits.ts'
import type {
  ReadingGroup,
  ReportCriterion,
  ReportData,
  ReportInput,
  ReportReading,
  ReportState,
} from './reportTypes.ts'
import { siteOfVisits } from './siteOfVisits.ts'

/**
 * Everything that a report of some visits tells, as facts and numbers without words. Nothing is computed here but counts:
 * ohms are those of the record and of the answers. O(entries log entries + readings).
 */
export function reportData(input: ReportInput): ReportData {
  const { site: whole, judge, madeAt } = input
  const numbers = readingNumbers(whole.record)
  const site = siteOfVisits(whole, input.visits)
  const locate = atRecordPlaces(input.locate, numbers)
  const effective = effectiveRecord(site.record)
  const readings = readingsOf(effective, { locate, judged: byEntry(judge.readings), numbers })
  const counted = readings.filter(({ state }) => state !== 'withdrawn')
  const entries = <K extends Entry['entry']>(sort: K) => countedEntries(site.record, sort)
  return {
    site,
    madeAt,
    isAllVisits: site === whole,
    locate,
    comparison: input.comparison ?? null,
    visits: visitsOf(effective, readings),
    nullings: nullingsOf(site.record, locate),
    volts: entries('volts'),
    criteria: criteriaOf(site.drawing.criteria, counted),
    groups: groupsOf(site.drawing.criteria, counted),
    withdrawn: readings.filter(({ state }) => state === 'withdrawn'),
    counts: countStates(readings),
    looks: entries('look'),
    repairs: entries('repair'),
    retests: counted.filter(({ reading }) => reading.repeats !== null || reading.trying !== null),
    defects: defectsOf(site.record, retestVerdicts(judge.readings, input.locate.readings)),
    notes: entries('note'),
    changes: changesOf(effective, numbers),
    signatures: reportSignatures(site, input.digestOf ?? (() => null)),
  }
}

/** The number of every reading of a record: its place among them in canonical order, from 1. */
export function readingNumbers(record: readonly Entry[]): ReadonlyMap<string, number> {
  const numbers = new Map<string, number>()
  for (const { entry } of effectiveRecord(record))
    if (entry.entry === 'reading') numbers.set(entry.id, numbers.size + 1)
  return numbers
}

function byEntry<T extends { readonly entry: string }>(list: readonly T[]): ReadonlyMap<string, T> {
  return new Map(list.map((one) => [one.entry, one]))
}

/**
 * The answer with every reading at its place in the whole record, so that sentences call it by the number that the screen
 * has. Places of readings that the answer does not know stay empty: they have no entry.
 */
function atRecordPlaces(answer: LocateAnswer, numbers: ReadonlyMap<string, number>): LocateAnswer {
  const first = answer.readings.at(0)
  if (first === undefined || answer.readings.length === numbers.size) return answer
  const empty: ReadingAnswer = {
    ...first,
    entry: '',
    kit: '',
    readOhm: null,
    verdict: 'setAside',
    repeats: null,
  }
  const readings = Array.from({ length: numbers.size }, () => empty)
  for (const reading of answer.readings) {
    const number = numbers.get(reading.entry)
    if (number !== undefined) readings[number - 1] = reading
  }
  return { ...answer, readings }
}

interface Known {
  readonly locate: LocateAnswer
  readonly judged: ReadonlyMap<string, JudgedReading>
  readonly numbers: ReadonlyMap<string, number>
}

function readingsOf(effective: readonly EffectiveEntry[], known: Known): readonly ReportReading[] {
  const { judged, numbers } = known
  const answers = byEntry(known.locate.readings)
  const kits = new Map(
    effective.flatMap(({ entry }) =>
      entry.entry === 'visit' ? [[entry.id, new Map(entry.kits.map((kit) => [kit.id, kit]))] as const] : [],
    ),
  )
  const kitOf = ({ visit, kit }: EntryOf<'reading'>): Kit | null => kits.get(visit)?.get(kit) ?? null
  const all = effective.flatMap((one) =>
    one.entry.entry === 'reading' ? [{ ...one, entry: one.entry }] : [],
  )
  const steps = shownSteps(all.map(({ entry }) => entry))
  return all.map(({ entry, corrections, withdrawnBy }): ReportReading => {
    const answer = withdrawnBy ? null : (answers.get(entry.id) ?? null)
    const verdict = withdrawnBy ? null : (judged.get(entry.id) ?? null)
    const kit = kitOf(entry)
    return {
      entry: entry.id,
      number: numbers.get(entry.id) ?? 0,
      reading: entry,
      kit,
      readOhm: entry.result.form === 'ohm' ? entry.result.ohm : null,
      atLeastOhm: entry.result.form === 'over' ? entry.result.atLeastOhm : null,
      stepOhm: steps.get(entry.kit) ?? null,
      state: withdrawnBy ? 'withdrawn' : stateOf(answer, verdict),
      answer,
      judged: verdict,
      isCorrected: corrections.length > 0,
    }
  })
}

/** What is wrong with a reading itself comes before the criterion. */
function stateOf(answer: ReadingAnswer | null, judged: JudgedReading | null): ReportState {
  if (!answer || answer.verdict === 'setAside') return 'notCounted'
  if (answer.verdict === 'noMetalPath') return 'noMetalPath'
  if (answer.overRange) return 'overRange'
  if (!judged || judged.verdict === 'none') return 'noCriterion'
  const isAbove = judged.verdict !== 'within'
  return isAbove && answer.isLeadIn && answer.verdict === 'inLine' ? 'leadIn' : judged.verdict
}

function countStates(readings: readonly ReportReading[]): Readonly<Record<ReportState, number>> {
  const counts = {
    within: 0,
    investigate: 0,
    reject: 0,
    leadIn: 0,
    overRange: 0,
    noMetalPath: 0,
    noCriterion: 0,
    notCounted: 0,
    withdrawn: 0,
  }
  for (const { state } of readings) counts[state] += 1
  return counts
}

function criteriaOf(
  criteria: readonly Criterion[],
  readings: readonly ReportReading[],
): readonly ReportCriterion[] {
  return criteria.map((criterion) => {
    const held = readings.filter(({ judged }) => judged?.criterion === criterion.id)
    return {
      criterion,
      readings: held.length,
      lowCurrent: held.filter(({ judged }) => (judged?.lowCurrent ?? null) !== null).length,
      isOtherQuantity: criterion.quantity !== 'bondingPath',
    }
  })
}

/** Readings held against one criterion and taken in one way stand together, in the order of the drawing's criteria. */
function groupsOf(
  criteria: readonly Criterion[],
  readings: readonly ReportReading[],
): readonly ReadingGroup[] {
  const places = new Map<string | null, number>([
    ...criteria.map(({ id }, k) => [id, k] as const),
    [null, criteria.length],
  ])
  const groups = new Map<string, { criterion: Criterion | null; readings: ReportReading[] }>()
  for (const one of readings) {
    const id = one.judged?.criterion ?? null
    const key = `${places.get(id) ?? criteria.length} ${one.reading.method}`
    const group = groups.get(key)
    if (group) group.readings.push(one)
    else groups.set(key, { criterion: criteria.find((each) => each.id === id) ?? null, readings: [one] })
  }
  return [...groups]
    .sort(([a], [b]) => parseInt(a, 10) - parseInt(b, 10) || (a < b ? -1 : 1))
    .map(([, group]) => ({ ...group, method: group.readings[0].reading.method }))
}
