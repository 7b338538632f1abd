import type { Drawing } from '../model/schema/drawing.ts'
import type { EntryOf, Spot } from '../model/schema/record.ts'
import { tryingNames } from './checksText.ts'
import { nameLead, spotNames, surfaceNames } from './entryText.ts'
import type { Fact } from './inspectText.ts'
import { formatReadOhm } from './ohms.ts'
import { methodNames } from './readingListText.ts'
import { formatLength, formatTemperature, type Units } from './units.ts'
import { printable } from './where.ts'

type Reading = EntryOf<'reading'>
type Visit = Pick<EntryOf<'visit'>, 'kits' | 'leads'>

/** Words of what a reading holds and of the readings beside it. */
export const heldTexts = {
  repeats: 'Read more than once',
  counted: 'counted',
  withdrawn: 'withdrawn',
  columns: { number: 'Reading', time: 'Time', read: 'Read', how: 'How' },
} as const

/** The number of a reading, for the button that picks it. */
export function nameNumbered(number: number): string {
  return `Reading ${number}`
}

/** What was tried with a reading that repeats another; null where nothing was noted. */
export function describeTried({ trying }: Reading): string | null {
  return trying === null ? null : tryingNames[trying]
}

/** The instrument by its name in the visit, or as the reading names it; its serial number where one is noted. */
export function nameKitOf({ kit }: Reading, visit: Visit | null): string {
  const known = visit?.kits.find(({ id }) => id === kit)
  const name = printable(known?.name ?? '').trim() || printable(kit)
  const serial = printable(known?.serial ?? '').trim()
  return serial === '' ? name : `${name}, serial ${serial}`
}

/** All that was noted when a reading was taken, and only what was. */
export function heldFacts(
  reading: Reading,
  visit: Visit | null,
  drawing: Pick<Drawing, 'plans'>,
  units: Units,
): Fact[] {
  const tried = describeTried(reading)
  return [
    { name: 'Method', value: methodNames[reading.method] },
    { name: 'Instrument', value: nameKitOf(reading, visit) },
    ...leadFacts(reading, visit, units),
    ...spotFacts(reading),
    ...valueFacts(reading),
    ...surroundings(reading, units),
    ...(tried === null ? [] : [{ name: 'Tried', value: tried }]),
    ...planFacts(reading, drawing),
    ...given('Note', printable(reading.note, 10_000).trim()),
  ]
}

function given(name: string, value: string): Fact[] {
  return value === '' ? [] : [{ name, value }]
}

function leadFacts({ lead }: Reading, visit: Visit | null, units: Units): Fact[] {
  if (lead === null) return []
  const known = visit?.leads.find(({ id }) => id === lead)
  return [{ name: 'Lead', value: known ? nameLead(known, units) : printable(lead) }]
}

/** Of a loop clamp both spots are one; the far end of an electrode test is no spot of the array. */
function spotFacts({ method, from, to }: Reading): Fact[] {
  const isPair = method === 'twoWire' || method === 'fourWire'
  return isPair
    ? [...spotFact('First spot', from), ...spotFact('Second spot', to)]
    : method === 'earthElectrode'
      ? spotFact('Spot', from)
      : []
}

function spotFact(name: string, { spot, surface }: Spot): Fact[] {
  return spot === 'unknown' ? [] : [{ name, value: `${spotNames[spot]}, ${surfaceNames[surface]}` }]
}

function valueFacts({ reverseOhm, unsteady, testCurrentA }: Reading): Fact[] {
  return [
    ...(reverseOhm === null ? [] : [{ name: 'The other way round', value: formatReadOhm(reverseOhm) }]),
    ...(unsteady === null
      ? []
      : [
          {
            name: 'Did not hold still',
            value: `${formatReadOhm(unsteady.leastOhm)} to ${formatReadOhm(unsteady.mostOhm)}`,
          },
        ]),
    ...(testCurrentA === null ? [] : [{ name: 'Test current', value: `${testCurrentA} A` }]),
  ]
}

function surroundings({ metalC, trackerDeg, spikesM }: Reading, units: Units): Fact[] {
  return [
    ...(metalC === null ? [] : [{ name: 'Metal', value: formatTemperature(metalC, units) }]),
    ...(trackerDeg === null ? [] : [{ name: 'Tracker', value: `${trackerDeg}°` }]),
    ...(spikesM === null
      ? []
      : [
          { name: 'Potential spike', value: `${formatLength(spikesM.potential, units)} away` },
          { name: 'Current spike', value: `${formatLength(spikesM.current, units)} away` },
        ]),
  ]
}

/** A plan that is not drawn any more is named as the reading names it. */
function planFacts({ plan, planPair }: Reading, { plans }: Pick<Drawing, 'plans'>): Fact[] {
  if (plan === null) return []
  const known = plans.find(({ id }) => id === plan)
  const name = printable(known?.name ?? '').trim() || printable(plan)
  const index = known?.pairs.findIndex(({ id }) => id === planPair) ?? -1
  const step = printable(known?.pairs[index]?.step ?? '').trim()
  const pair = index < 0 ? '' : `, pair ${index + 1}${step === '' ? '' : ` (${step})`}`
  return [{ name: 'Plan', value: `${name}${pair}` }]
}
