import type { EntryOf } from '../model/schema/record.ts'
import type { Volts, VoltsReading } from './volts.ts'
import { formatVolts, greatestVolts } from './volts.ts'
import { formatClock } from './days.ts'

/** Sentences of the check of volts that comes before ohms. */
export const voltsTexts = {
  title: 'Volts before ohms',
  between: 'Between the clips',
  direct: 'DC',
  alternating: 'AC',
  zeroRow: 'Both 0.0 V',
  allZero: 'All four read 0.0 V',
  enter: 'Enter the volts',
  needsNumber: 'Type the volts that the meter shows, such as 0.3; 0 where it shows nought.',
  notNegative: 'AC volts have no sign.',
  tooMany: 'More than 100 000 V cannot be entered.',
  high: 'Volts entered: too many for ohms at this set-up.',
  entered: 'Volts entered. Ohms can be entered at this set-up.',
  list: 'Volts of this visit',
  tooHigh: 'more than this site allows for ohms',
  withdraw: 'Withdraw …',
  again: 'Withdraw and enter again …',
  withdrawTitle: 'Withdraw these volts?',
  askWithdraw:
    'They stay in the record with the reason, and count no longer. Ohms are locked at this set-up until volts are read again.',
  act: 'Withdraw',
  actAgain: 'Withdraw, then enter again',
  withdrawn: 'Volts withdrawn. Ohms are locked at that set-up until volts are read again.',
} as const

/** Why volts are asked for before ohms. */
export function describeVoltsAsk(
  why: 'first' | 'withdrawn' | 'isolation' | 'old' | 'noEarth' | null,
  earth: string,
): string {
  switch (why) {
    case 'isolation':
      return 'Ohms are locked here until volts are read again: the isolation was noted otherwise since.'
    case 'old':
      return 'Ohms are locked here until volts are read again: the last check is more than 4 hours old.'
    case 'withdrawn':
      return 'Ohms are locked here until volts are read again: the last check was withdrawn.'
    case 'noEarth':
      return `Ohms are locked here until volts are read to ${earth} as well: the last check has none.`
    default:
      return 'Ohms are locked here until volts are read, DC and AC: this is a new set-up.'
  }
}

/** Names of both rows of volts: between the clips and to earth, or from an electrode to both spikes in the soil. */
export function nameVoltsRows(
  isElectrode: boolean,
  from: string,
  earth: string,
): readonly [clips: string, toEarth: string] {
  return isElectrode
    ? [`From ${from} to the potential spike`, `From ${from} to the current spike`]
    : [voltsTexts.between, `From the clip at ${from} to ${earth}`]
}

/** Why ohms are locked at a set-up where a check of volts was above what the site allows. */
export function describeTooHigh(
  check: EntryOf<'volts'>,
  mostVolts: number,
  from: string,
  earth: string,
  isElectrode = false,
): string {
  const { where, volts, kind } = greatestVolts(readingOf(check))
  const [clips, toEarth] = nameVoltsRows(isElectrode, from, earth)
  const row = where === 'clips' ? clips : toEarth
  const place = row.charAt(0).toLowerCase() + row.slice(1)
  return (
    `${formatVolts(volts)} ${kind} ${place} at ${formatClock(check.at)}: more than ${formatVolts(mostVolts)}, the most ` +
    `at which ohms are read on this site.`
  )
}

/** Beside the volts of an electrode test: why they are read, and between what. */
export const electrodeVolts =
  'The tester drives its current through the electrode and the spikes: a standing voltage between them is read first ' +
  '(common practice).'

/** What to do then, beside the volts. */
export const tooHighAdvice = {
  title: 'Stop: volts are present',
  act:
    'This part is energised or faulted. Keep hands off, stop here, keep others away and follow the procedure of the ' +
    'site: a qualified person finds the cause. Do not read ohms, and do not take off a bond.',
  again: (mostVolts: number) =>
    `Ohms stay locked at this set-up until volts are read again and none is above ${formatVolts(mostVolts)}.`,
} as const

/** What a check at a set-up showed, in one line. */
export function describeVolts(check: EntryOf<'volts'>, earthWord: string, isElectrode = false): string {
  const of = ({ directV, alternatingV }: Volts) =>
    `${formatVolts(directV)} DC, ${formatVolts(alternatingV)} AC`
  const [clips, toEarth] = isElectrode
    ? ['to the potential spike', 'to the current spike']
    : ['between the clips', `to ${earthWord}`]
  const earth = check.toEarth ? of(check.toEarth) : 'not read'
  return `Volts at ${formatClock(check.at)}: ${clips} ${of(check)}; ${toEarth} ${earth}.`
}

function readingOf(check: EntryOf<'volts'>): VoltsReading {
  return {
    clips: { directV: check.directV, alternatingV: check.alternatingV },
    toEarth: check.toEarth ?? { directV: 0, alternatingV: 0 },
  }
}
