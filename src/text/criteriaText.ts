import type { ExpectAnswer, JudgedReading } from '../model/answers.ts'
import { catalogueRowOf, type KindOfTest, type Sureness } from '../model/criteriaCatalogue.ts'
import type { Criterion } from '../model/schema/planning.ts'
import type { Fact } from './inspectText.ts'
import { formatOhm } from './ohms.ts'
import { printable, quoted } from './where.ts'

/** Sentences and words of criteria. */
export const criteriaTexts = {
  title: 'Criteria',
  intro:
    'What readings are held against. Which level holds is for the contract, local code and the responsible person: the ' +
    'same bond is judged at 1 mΩ by one source and at 0.5 Ω by another.',
  none: 'No criterion is set: readings are held against what a sound array reads alone.',
  add: 'Add a criterion',
  fromCatalogue: 'Add from the catalogue',
  choose: 'choose …',
  name: 'Name',
  scope: 'Holds for',
  quantity: 'Quantity',
  source: 'Source',
  edition: 'Edition',
  clause: 'Clause, of the source or of the contract',
  removeStep: 'remove a criterion',
  addStep: 'add a criterion',
  of: 'a criterion',
  own: 'Add one of your own',
  ownName: 'Criterion of this site',
  ownSource: 'Of this site: say here where the level comes from.',
  remove: 'Remove',
  investigate: 'Investigate above',
  reject: 'Reject above',
  noLimit: 'No numeric limit: listed for what it asks, and held against no reading.',
  addConductor: 'Add the computed conductors',
  testCurrent: 'Test current asked',
  againstPairs: 'Hold pairs against it all the same',
  useAnyway: 'Use it for pairs',
  leave: 'Hold no pairs against it',
  notForPairs: 'Not held against pairs.',
  show: 'Criterion …',
  levels: 'Levels',
  kind: 'Kind of test',
  sure: 'How sure',
  noCurrent: 'none stated',
  notGiven: 'not given',
  change: 'Change it …',
  changing:
    'A change holds for the whole site: every reading is held against the new levels, and what was signed before is open again.',
  back: 'Back to the reading',
} as const

export const quantityNames: Readonly<Record<Criterion['quantity'], string>> = {
  bondingPath: 'bonding path',
  electrodeToEarth: 'electrode to earth',
  typeTest: 'type test of a sample',
}

export const scopeNames: Readonly<Record<Criterion['scope'], string>> = {
  sameTable: 'two parts of one table',
  neighbours: 'neighbouring metal',
  pathToEarthBar: 'path to an earth bar',
  anyPair: 'any pair',
}

export const sureNames: Readonly<Record<Sureness, string>> = {
  seen: 'read in a public copy',
  seenSecondary: 'read in a secondary copy',
  fromMemory: 'from memory',
  commonPractice: 'common practice',
}

export const kindOfTestNames: Readonly<Record<KindOfTest, string>> = {
  field: 'field check',
  commissioning: 'commissioning test',
  typeTest: 'type test',
  electrode: 'electrode test',
}

/** Why a criterion of another quantity is not for pairs, before someone chooses it for them. */
export function describeOtherQuantity({ quantity }: Criterion): string | null {
  switch (quantity) {
    case 'bondingPath':
      return null
    case 'electrodeToEarth':
      return (
        'This is a level of an electrode to earth, read by fall of potential: another quantity than ohms through metal. A ' +
        'bad bond of several ohms would pass it. Held against pairs, every verdict by it says so.'
      )
    case 'typeTest':
      return (
        'This is a level of a type test: a sample in a laboratory, at a test current that is seldom used on site. A sound ' +
        'long path may fail it and clips add ohms of their own. Held against pairs, every verdict by it says so.'
      )
  }
}

/** Levels in one line. */
export function describeLevels({ investigateAboveOhm, rejectAboveOhm, addConductor }: Criterion): string {
  const levels = [
    investigateAboveOhm === null ? null : `investigate above ${formatOhm(investigateAboveOhm)}`,
    rejectAboveOhm === null ? null : `reject above ${formatOhm(rejectAboveOhm)}`,
  ].filter((level) => level !== null)
  if (levels.length === 0) return 'no numeric limit'
  return `${levels.join(', ')}${addConductor ? ', conductors added' : ''}`
}

/** Source, edition and clause in one line. */
export function describeSource({ source, edition, clause }: Criterion): string {
  return [source, edition, clause]
    .map((text) => printable(text).trim())
    .filter((text) => text !== '')
    .join('; ')
}

/** All that is known of a criterion, fact by fact. */
export function criterionFacts(criterion: Criterion): readonly Fact[] {
  const { quantity, scope, testCurrentA, source, edition, clause } = criterion
  const row = catalogueRowOf(criterion)
  const given = (text: string) => {
    const line = printable(text, 2000).trim()
    return line === '' ? criteriaTexts.notGiven : line
  }
  return [
    { name: criteriaTexts.levels, value: describeLevels(criterion) },
    { name: criteriaTexts.quantity, value: quantityNames[quantity] },
    { name: criteriaTexts.scope, value: scopeNames[scope] },
    {
      name: criteriaTexts.testCurrent,
      value: testCurrentA === null ? criteriaTexts.noCurrent : formatAmpere(testCurrentA),
    },
    { name: criteriaTexts.source, value: given(source) },
    { name: criteriaTexts.edition, value: given(edition) },
    { name: criteriaTexts.clause, value: given(clause) },
    ...(row
      ? [
          { name: criteriaTexts.kind, value: kindOfTestNames[row.kindOfTest] },
          { name: criteriaTexts.sure, value: sureNames[row.sureness] },
        ]
      : []),
  ]
}

function describeCurrent({ askedA, usedA }: NonNullable<JudgedReading['lowCurrent']>): string {
  return `It asks for ${formatAmpere(askedA)} of test current; ${formatAmpere(usedA)} was used.`
}

export function formatAmpere(ampere: number): string {
  return ampere < 1 ? `${Number((1000 * ampere).toPrecision(3))} mA` : `${Number(ampere.toPrecision(3))} A`
}

/** What must be said beside a verdict or a level: another quantity, too little test current. Null where nothing must. */
export function describeReserve(
  judged: Pick<JudgedReading, 'otherQuantity' | 'lowCurrent' | 'criterion'>,
  criteria: readonly Criterion[],
): string | null {
  const criterion = criteria.find(({ id }) => id === judged.criterion)
  const said = [
    judged.otherQuantity && criterion
      ? `The criterion is of another quantity (${quantityNames[criterion.quantity]}) and was chosen for pairs.`
      : null,
    judged.lowCurrent ? describeCurrent(judged.lowCurrent) : null,
  ].filter((sentence) => sentence !== null)
  return said.length === 0 ? null : said.join(' ')
}

/** A reading's verdict by its criterion, with all that must be said beside it; null where no criterion applies. */
export function describeJudged(judged: JudgedReading, criteria: readonly Criterion[]): string | null {
  const criterion = criteria.find(({ id }) => id === judged.criterion)
  if (!criterion || judged.verdict === 'none') return null
  const words = { within: 'within its levels', investigate: 'investigate', reject: 'reject' }
  const verdict = `By the criterion ${quoted(criterion.name)}: ${words[judged.verdict]}.`
  const reserve = describeReserve(judged, criteria)
  return reserve === null ? verdict : `${verdict} ${reserve}`
}

/** In a row of a list, short. */
export function markOfJudged(judged: JudgedReading | undefined): string {
  if (!judged) return ''
  return [judged.lowCurrent ? 'low test current' : null, judged.otherQuantity ? 'other quantity' : null]
    .filter((mark) => mark !== null)
    .join(', ')
}

/** Beside a level that a pair is expected to be held against. */
export function describeExpectedReserve(
  { criterion }: ExpectAnswer,
  criteria: readonly Criterion[],
): string | null {
  if (criterion.criterion === null) return null
  const reserve = describeReserve(criterion, criteria)
  return reserve?.replace(' was used.', ' is what the instrument sends.') ?? null
}
