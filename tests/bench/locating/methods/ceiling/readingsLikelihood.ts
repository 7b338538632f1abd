import { present } from '../../../../../src/base/assert.ts'
import type { Kit, Lead } from '../../../../../src/model/schema/record.ts'
import type { Site } from '../../../../../src/model/schema/site.ts'
import { falseLowRate } from '../../../../generator/assumedValues.ts'
import { poorRate } from '../../../../generator/drawContact.ts'
import { assumed } from '../../generator/assumed.ts'
import { offsetStates, type OffsetState } from './offsetStates.ts'
import { shownChance, type ShownChance } from './shownChance.ts'

/** A reading as it stands in the record, and what it shares with others. */
export interface RecordedReading {
  readonly from: string
  readonly to: string
  /** Infinity for over range. */
  readonly shownOhm: number
  readonly chance: ShownChance
  readonly hours: number
  /** Readings whose result this one may hold. */
  readonly partners: readonly number[]
}

interface Interval {
  readonly states: readonly OffsetState[]
  /** Readings set-up by set-up: a broken lead lasts to the end of one. */
  readonly setUps: readonly (readonly number[])[]
}

export interface Recorded {
  readonly kit: Kit
  readonly readings: readonly RecordedReading[]
  readonly intervals: readonly Interval[]
}

const hoursOf = (instant: string) => Date.parse(instant) / 3_600_000

/** What the two-wire readings of a visit are, as the generator took them. */
export function recordedReadings({ record }: Site): Recorded {
  const visit = present(
    record.find((entry) => entry.entry === 'visit'),
    'a record opens with a visit',
  )
  const [kit] = visit.kits
  const lead: Lead = visit.leads[0]
  const readings: (RecordedReading & { partners: number[] })[] = []
  const intervals: { states: readonly OffsetState[]; setUps: number[][] }[] = [
    { states: offsetStates(lead, false), setUps: [] },
  ]
  let since = hoursOf(visit.at)
  let from = ''
  let before = -1
  for (const entry of record) {
    if (entry.entry === 'nulling') {
      intervals.push({ states: offsetStates(lead, true), setUps: [] })
      since = hoursOf(entry.at)
      from = ''
    }
    if (entry.entry !== 'reading' || entry.method !== 'twoWire') {
      before = -1
      continue
    }
    const p = readings.length
    const interval = intervals[intervals.length - 1]
    if (entry.from.part !== from) interval.setUps.push([])
    from = entry.from.part
    interval.setUps[interval.setUps.length - 1].push(p)
    readings.push({
      from,
      to: entry.to.part,
      shownOhm: entry.result.form === 'over' ? Infinity : entry.result.ohm,
      chance: shownChance(kit, poorRate([entry.from, entry.to], entry.repeats !== null)),
      hours: hoursOf(entry.at) - since,
      partners: before >= 0 && entry.repeats === null ? [before] : [],
    })
    if (before >= 0 && entry.repeats === null) readings[before].partners.push(p)
    before = entry.repeats === null ? p : -1
  }
  return { kit, readings, intervals: intervals.filter(({ setUps }) => setUps.length > 0) }
}

/** What no two-wire instrument here shows. */
const unfeltOhm = 1e-3

/** Chance of all readings where nothing is bad, kept so that a fault costs only what it changes. */
export interface ReadingsLikelihood {
  readonly soundLog: number
  /** Its ratio to that of the sound array, with these ohms of the pairs. */
  ratio(networkOhm: Float64Array): number
}

/** For one array and one gain of the instrument; the lead is summed over, readings given it are independent. */
export function readingsLikelihood(
  { kit, readings, intervals }: Recorded,
  soundOhm: Float64Array,
  gain: number,
): ReadingsLikelihood {
  const shown = (p: number, ohm: number) => {
    const { shownOhm, chance } = readings[p]
    if (shownOhm === Infinity) return chance.over(kit.mostOhm / gain - ohm)
    return shownOhm === 0 ? chance.zero(-ohm) : chance.cell(shownOhm / gain - ohm)
  }
  const offsetOf = (p: number, { startOhm, perHourOhm }: OffsetState) =>
    startOhm + perHourOhm * readings[p].hours
  const ownShare = (p: number) => (1 - falseLowRate) * (1 - readings[p].partners.length * assumed.swappedRate)
  const swappedShare = (1 - falseLowRate) * assumed.swappedRate
  /** Per state and reading: with its own ohms, with each partner's, and false low. */
  const kept = intervals.map(({ states }) =>
    states.map((state) =>
      readings.map(({ partners }, p) => {
        const offset = offsetOf(p, state)
        const own = shown(p, soundOhm[p] + offset)
        const swapped = partners.map((q) => shown(p, soundOhm[q] + offset))
        const low = falseLowRate * shown(p, offset)
        const all = ownShare(p) * own + swappedShare * swapped.reduce((x, y) => x + y, 0) + low
        return { offset, own, swapped, low, all }
      }),
    ),
  )
  const sound = intervals.map(({ states, setUps }, k) =>
    states.reduce((sum, { chance }, s) => {
      const value = (p: number) => kept[k][s][p].all
      return (
        sum + chance * setUps.reduce((product, setUp) => product * setUpChance(setUp, value, readings), 1)
      )
    }, 0),
  )
  return {
    soundLog: sound.reduce((sum, each) => sum + Math.log(Math.max(each, 1e-300)), 0),
    ratio(networkOhm) {
      let product = 1
      const moved = readings.map((_, p) => Math.abs(networkOhm[p] - soundOhm[p]) > unfeltOhm)
      const changed = moved.map((isMoved, p) => isMoved || readings[p].partners.some((q) => moved[q]))
      for (const [k, { states, setUps }] of intervals.entries()) {
        if (!setUps.some((setUp) => setUp.some((p) => changed[p]))) continue
        let sum = 0
        for (let s = 0; s < states.length; s++) {
          const value = (p: number) => {
            const known = kept[k][s][p]
            if (!changed[p]) return known.all
            const { partners } = readings[p]
            let chance = ownShare(p) * (moved[p] ? shown(p, networkOhm[p] + known.offset) : known.own)
            for (let n = 0; n < partners.length; n++) {
              const q = partners[n]
              chance += swappedShare * (moved[q] ? shown(p, networkOhm[q] + known.offset) : known.swapped[n])
            }
            return chance + known.low
          }
          let each = states[s].chance
          for (const setUp of setUps) each *= setUpChance(setUp, value, readings)
          sum += each
        }
        product *= sum / Math.max(sound[k], 1e-300)
      }
      return product
    },
  }
}

/** All readings of a set-up: the lead whole, or broken from one of them on, which all then show over range. */
function setUpChance(
  setUp: readonly number[],
  value: (p: number) => number,
  readings: readonly RecordedReading[],
): number {
  let whole = 1
  for (const p of setUp) whole *= value(p)
  if (readings[setUp[setUp.length - 1]].shownOhm !== Infinity) return (1 - assumed.brokenLeadRate) * whole
  const each = setUp.map(value)
  let broken = 0
  for (let from = setUp.length - 1; from >= 0 && readings[setUp[from]].shownOhm === Infinity; from--) {
    let before = 1
    for (let n = 0; n < from; n++) before *= each[n]
    broken += before / setUp.length
  }
  return (1 - assumed.brokenLeadRate) * whole + assumed.brokenLeadRate * broken
}
