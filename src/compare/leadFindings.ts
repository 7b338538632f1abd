import { median, medianDeviation } from '../base/orderStatistics.ts'
import { madToSd } from '../base/smallGroups.ts'
import { studentQuantile } from '../base/studentT.ts'
import type { LeadFinding } from '../model/comparison.ts'
import { assumptions } from '../reading/assumptions.ts'
import { soundContact } from '../reading/contact.ts'
import type { Gathered, Measured } from './gather.ts'
import { shortedOffset, type Offset } from './offsets.ts'
import { fitLine } from './shifts.ts'
import { medianSd } from './standing.ts'

/** 5 and 95 % of a normal variable. */
const reachOf90 = 1.645
const fewestForDrift = 6
const leastHours = 0.5
const fewestReadings = 4
/** Readings between two pauses. */
const itemsPerSlice = 1024

/**
 * What the readings of an interval have in common above what the drawing predicts, in ohm: their middle, with its own
 * standard error, what the level of joint kinds leaves open of the network (0.4 in ln), and half of what clips scatter. The
 * middle, for bad joints only add. Null of fewer than four.
 */
function offsetByReadings(readings: readonly Measured[]): Offset | null {
  const excess = readings.flatMap(({ readOhm, expectedOhm }) =>
    readOhm === null ? [] : [readOhm - expectedOhm],
  )
  if (excess.length < fewestReadings) return null
  const spread = Math.max(madToSd * medianDeviation(excess), 1e-6)
  const levelOhm = assumptions.kindLevelLnSd * median(readings.map(({ networkOhm }) => networkOhm))
  return {
    meanOhm: median(excess),
    sdOhm: Math.hypot(spread * medianSd(excess.length), levelOhm, soundContact.sdOhm / 2),
  }
}

/**
 * What an interval's offset looks like. `seemsNotNulled`: the lead's own ohms lie in the interval, zero does not, and the
 * lead has ohms enough to tell the two apart. `offset`: clearly more than nulling leaves; `nulledTooFar`: clearly below zero.
 */
function verdictOf(offset: Offset, leadOhm: number, expected: Offset): LeadFinding['verdict'] {
  const { meanOhm, sdOhm } = offset
  const reach = 2.6 * sdOhm
  if (leadOhm > 2 * reach && Math.abs(meanOhm - leadOhm) < reach + 0.15 * leadOhm) return 'seemsNotNulled'
  const allowed = 2.6 * Math.hypot(sdOhm, expected.sdOhm)
  if (meanOhm < -allowed) return 'nulledTooFar'
  if (meanOhm > allowed) return 'offset'
  return sdOhm > Math.max(expected.sdOhm * 2, leadOhm / 4) ? 'undecided' : 'asExpected'
}

/** Change of the excess with time since the interval began, large ones pulled in to 2.5 spreads. */
function driftOf(readings: readonly Measured[], startedAt: string): LeadFinding['drift'] {
  const counted = readings.filter(({ readOhm }) => readOhm !== null)
  if (counted.length < fewestForDrift) return null
  const hours = counted.map(({ atMs }) => (atMs - Date.parse(startedAt)) / 3_600_000)
  if (Math.max(...hours) - Math.min(...hours) < leastHours) return null
  const excess = counted.map(({ readOhm, expectedOhm }) => (readOhm ?? 0) - expectedOhm)
  const middle = median(excess)
  const most = 2.5 * madToSd * medianDeviation(excess, middle)
  const line = fitLine(
    hours,
    excess.map((ohm) => Math.max(-most, Math.min(most, ohm - middle))),
  )
  if (!line) return null
  const { slope, slopeSd, degrees } = line
  const reach = studentQuantile(0.05, degrees) * slopeSd
  return {
    ohmPerHour: slope,
    low: slope - reach,
    high: slope + reach,
    isClear: Math.abs(slope) > studentQuantile(0.005, degrees) * slopeSd,
  }
}

/**
 * What shorted leads and readings say of the offset of every interval with a lead, in order of time. Without shorted leads
 * an offset cannot be told from ohms that every path of the interval has: the interval is as wide as that leaves it.
 */
export function* leadFindings({
  measured,
  intervals,
  shorted,
}: Gathered): Generator<number, readonly LeadFinding[]> {
  const ofInterval = new Map<number, Measured[]>()
  for (const [k, item] of measured.entries()) {
    if (k % itemsPerSlice === 0) yield 0
    const those = ofInterval.get(item.interval)
    if (those) those.push(item)
    else ofInterval.set(item.interval, [item])
  }
  const findings: LeadFinding[] = []
  for (const [k, interval] of intervals.entries()) {
    yield k / intervals.length
    if (interval.lead === null) continue
    const readings = ofInterval.get(k) ?? []
    const checks = shorted.get(k) ?? []
    const byChecks = shortedOffset(checks)
    const offset = byChecks ?? offsetByReadings(readings)
    if (!offset) continue
    const isNulled = interval.entry !== null
    const expected = { meanOhm: interval.offsetMeanOhm, sdOhm: interval.offsetSdOhm }
    const found = verdictOf(offset, interval.leadOhm, expected)
    // a lead that nobody nulled is expected to be in the readings
    const verdict = !isNulled && found === 'offset' ? 'seemsNotNulled' : found
    findings.push({
      nulling: interval.entry,
      visit: interval.visit,
      kit: interval.kit,
      lead: interval.lead,
      startedAt: interval.startedAt,
      readings: readings.length,
      checks: checks.length,
      leadOhm: interval.leadOhm,
      by: byChecks ? 'checks' : 'readings',
      offsetOhm: offset.meanOhm,
      lowOhm: offset.meanOhm - reachOf90 * offset.sdOhm,
      highOhm: offset.meanOhm + reachOf90 * offset.sdOhm,
      verdict,
      drift: driftOf(readings, interval.startedAt),
    })
  }
  return findings
}
