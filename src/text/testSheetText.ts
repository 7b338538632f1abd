import type { Criterion, Plan } from '../model/schema/planning.ts'
import type { PlanKit } from '../model/planning.ts'
import { formatOhm } from './ohms.ts'
import { describePlanKit } from './planSightText.ts'
import { describeSource, scopeWords } from './reportText.ts'
import { formatCounted, type Units } from './units.ts'
import { printable } from './where.ts'

/** Labels of the sheet that is filled in by hand. */
export const sheetTexts = {
  title: 'Test sheet',
  freePairs: 'Free pairs',
  head: [
    'Date',
    'Party',
    'Purpose',
    'Weather, air',
    'Inverter (off / running)',
    'Isolators (open / closed)',
    'Lock or tag no.',
    'Proved dead by, at',
    'Instrument, serial no.',
    'Calibration due',
    'Test current',
    'Checked on … Ω, read',
    'Lead: length, mm²',
    'Sheet … of …',
  ],
  nullings: 'Leads shorted at their far end',
  nullingRows: ['Start', 'Middle', 'End'],
  nullingColumns: ['', 'Time', 'Shown before nulling', 'Shown after nulling', 'Lead temp.', 'Initials'],
  columns: [
    'No.',
    'Step',
    'From',
    'To',
    'Point',
    'Sound: about',
    'Level',
    'V DC',
    'V AC',
    'Ohms',
    'Retest',
    'Remarks',
    'Initials',
  ],
  sources: 'Levels and where they come from',
  cautions: 'Before any reading',
  voltsFirst: 'Volts first, between the two points and to earth.',
  noPairs: 'This plan has no pair.',
  noPath: 'no path',
  map: 'Where the pairs are',
} as const

export const pointWords: Readonly<Record<Plan['pairs'][number]['point'], string>> = {
  none: '',
  witness: 'W',
  hold: 'H',
}

export const pointNote =
  'H: hold point, no further reading before it is signed. W: witness point, somebody is told and may watch.'

/** `Set-up 3: first clip on Main earth bar (B1), 7 pairs`. */
export function describeSheetSetUp(number: number, at: string, pairs: number): string {
  return `Set-up ${number}: first clip stays on ${at}, ${formatCounted(pairs, 'pair')}`
}

/** How much there is to do, and what it was planned with. */
export function describeSheetSize(
  pairs: number,
  setUps: number,
  kit: PlanKit | null,
  units: Units,
): readonly string[] {
  return [
    `${formatCounted(pairs, 'pair')} from ${formatCounted(setUps, 'set-up')}.`,
    ...(kit === null
      ? []
      : [
          `Planned for: ${describePlanKit(kit, units).replace(/^With /, '')}`,
          'Sound: what a sound array reads there.',
        ]),
  ]
}

/** `a: 500 mΩ + wire`: the letter of the source below, and the level. */
export function describeSheetLevel(letter: string, criterion: Criterion): string {
  const { investigateAboveOhm, rejectAboveOhm, addConductor } = criterion
  const levels = [
    investigateAboveOhm === null ? '' : formatOhm(investigateAboveOhm),
    rejectAboveOhm === null ? '' : `reject ${formatOhm(rejectAboveOhm)}`,
  ].filter((level) => level !== '')
  return `${letter}: ${levels.join('; ')}${addConductor ? ' + wire' : ''}`
}

export function describeSheetSource(letter: string, criterion: Criterion): string {
  const wire = criterion.addConductor
    ? ' What the conductors of the path come to by computation is added (“+ wire”).'
    : ''
  return `${letter}: ${printable(criterion.name, 200)} (${scopeWords[criterion.scope]}). ${describeSource(criterion)}.${wire}`.replace(
    '..',
    '.',
  )
}
