import type { LocateAnswer } from '../../model/answers.ts'
import { countedEntries, type EffectiveEntry } from '../../model/record/effectiveRecord.ts'
import type { Entry, EntryOf, Kit } from '../../model/schema/record.ts'
import type { KitWarning, ReportKit, ReportNulling, ReportReading, ReportVisit } from './reportTypes.ts'

const visitIdOf = (entry: Entry): string => (entry.entry === 'visit' ? entry.id : entry.visit)

/** The visits in order, with what was used in them and how often. */
export function visitsOf(
  effective: readonly EffectiveEntry[],
  readings: readonly ReportReading[],
): readonly ReportVisit[] {
  const spans = new Map<string, { from: string; to: string; amendments: number }>()
  for (const { entry } of effective) {
    const id = visitIdOf(entry)
    const span = spans.get(id)
    const isAmended = entry.entry === 'amendment' ? 1 : 0
    if (!span) spans.set(id, { from: entry.at, to: entry.at, amendments: isAmended })
    else spans.set(id, { ...span, to: entry.at, amendments: span.amendments + isAmended })
  }
  const visits = effective.flatMap(({ entry }) => (entry.entry === 'visit' ? [entry] : []))
  return visits.map((visit, k) => {
    const own = readings.filter(({ reading }) => reading.visit === visit.id)
    return {
      visit,
      number: k + 1,
      ...(spans.get(visit.id) ?? { from: visit.at, to: visit.at, amendments: 0 }),
      readings: own.length,
      kits: visit.kits.map((kit) => reportKit(kit, visit, own)),
      leads: visit.leads,
    }
  })
}

function reportKit(kit: Kit, visit: EntryOf<'visit'>, readings: readonly ReportReading[]): ReportKit {
  return {
    kit,
    warnings: kitWarnings(kit, visit.at.slice(0, 10)),
    readings: readings.filter(({ reading }) => reading.kit === kit.id).length,
  }
}

/** What speaks against an instrument on a day, `2031-05-04`. Its stated error is ±(gain × ohms + digits × step). */
export function kitWarnings(kit: Kit, day: string): readonly KitWarning[] {
  const { calibrationDue, lastCheck } = kit
  const warnings: KitWarning[] = []
  if (calibrationDue === null) warnings.push({ warning: 'noCalibration' })
  else if (calibrationDue < day) warnings.push({ warning: 'calibrationPast', due: calibrationDue })
  if (lastCheck === null) return [...warnings, { warning: 'noCheck' }]
  const byOhm = lastCheck.readOhm - lastCheck.referenceOhm
  const allowedOhm = kit.gainError * lastCheck.readOhm + kit.digits * kit.resolutionOhm
  // half a step is what its last digit cannot tell
  if (Math.abs(byOhm) > allowedOhm + 0.5 * kit.resolutionOhm)
    warnings.push({ warning: 'checkOff', byOhm, allowedOhm })
  return warnings
}

/** Each nulling with the checks of its leads that were made before the next one. */
export function nullingsOf(record: readonly Entry[], locate: LocateAnswer): readonly ReportNulling[] {
  const visits = new Map(countedEntries(record, 'visit').map((visit) => [visit.id, visit]))
  const nullings = countedEntries(record, 'nulling')
  const checks = countedEntries(record, 'leadCheck')
  return locate.nullings.map((answer, k): ReportNulling => {
    const nulling = nullings.find(({ id }) => id === answer.entry) ?? null
    const visit = nulling === null ? null : visits.get(nulling.visit)
    const isSame = (other: { visit: string; kit: string; lead: string }) =>
      nulling !== null &&
      other.visit === nulling.visit &&
      other.kit === nulling.kit &&
      other.lead === nulling.lead
    const begins = nulling === null ? Infinity : Date.parse(nulling.at)
    const ends = Math.min(
      Infinity,
      ...nullings.filter(isSame).flatMap(({ at }) => (Date.parse(at) > begins ? [Date.parse(at)] : [])),
    )
    return {
      answer,
      number: k + 1,
      nulling,
      kitName: visit?.kits.find(({ id }) => id === answer.kit)?.name ?? answer.kit,
      leadName: visit?.leads.find(({ id }) => id === answer.lead)?.name ?? answer.lead,
      checks: checks.filter(
        (check) => isSame(check) && Date.parse(check.at) >= begins && Date.parse(check.at) < ends,
      ),
    }
  })
}
