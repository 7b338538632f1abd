import type { JudgedReading, ReadingAnswer, ReadingVerdict } from '../model/answers.ts'
import type { Outstanding } from '../model/record/defects.ts'
import type { Reopening, SignedState } from '../model/record/signatures.ts'
import type { JointKind } from '../model/schema/jointKind.ts'
import type { Criterion } from '../model/schema/planning.ts'
import type { EntryOf, Kit, Lead, Spot, VisitFacts } from '../model/schema/record.ts'
import { formatOhm, formatReadOhm, formatRoughOhm } from './ohms.ts'
import { describeKind } from './siteFormText.ts'
import { formatCounted, formatLength, formatRate, type Units } from './units.ts'
import { printable } from './where.ts'

/** Names of what a report consists of, in its order. */
export const reportTitles = {
  summary: 'Summary',
  map: 'Map',
  visits: 'Visits and instruments',
  leads: 'Leads and volts',
  criteria: 'Criteria',
  readings: 'Readings',
  suspects: 'Suspects and what speaks for them',
  joints: 'Looks, repairs and retests',
  defects: 'Defects',
  unseen: 'What could not be seen',
  changes: 'Corrections, withdrawals and what came after signing',
  assumptions: 'What this rests on',
  signatures: 'Cautions and signatures',
} as const

export type ReportPart = keyof typeof reportTitles
export const reportParts = Object.keys(reportTitles) as readonly ReportPart[]

/** These are in every report: nothing that limits or changes what it says is left out. */
export const fixedParts: readonly ReportPart[] = ['summary', 'unseen', 'changes', 'assumptions', 'signatures']

export const stateWords = {
  within: 'within',
  investigate: 'investigate',
  reject: 'reject',
  leadIn: 'lead not nulled',
  overRange: 'over range',
  noMetalPath: 'no metal path',
  noCriterion: 'no criterion',
  notCounted: 'not counted',
  withdrawn: 'withdrawn',
} as const

/** What each state means, for the summary. */
export const stateMeanings: Readonly<Record<keyof typeof stateWords, string>> = {
  within: 'Not above the levels of the criterion named beside it.',
  investigate: 'Above the level from which one investigates.',
  reject: 'Above the level from which one rejects.',
  leadIn:
    'Above a level, but the lead was not nulled: the value includes the lead’s own ohms, and with them a sound array ' +
    'reads as much. It says nothing against a joint; null the lead and read again.',
  overRange: 'The instrument showed no value: a bad joint, or a fallen clip or broken lead.',
  noMetalPath: 'As drawn, no metal joins the two points: whatever was read is no bond.',
  noCriterion: 'No criterion applies to what was read.',
  notCounted: 'Not used, for the reason given beside it.',
  withdrawn: 'Taken back by whoever entered it; listed under corrections and withdrawals.',
}

/** A mark before the word, so that states are told apart without colour. */
export const stateMarks: Readonly<Record<keyof typeof stateWords, string>> = {
  within: '·',
  investigate: '▲',
  reject: '■',
  leadIn: '□',
  overRange: '○',
  noMetalPath: '⫽',
  noCriterion: '–',
  notCounted: '–',
  withdrawn: '×',
}

export const methodWords: Readonly<Record<Kit['method'], string>> = {
  twoWire: 'two-wire',
  fourWire: 'four-wire',
  loopClamp: 'loop clamp',
  earthElectrode: 'electrode test',
}

export const findingWords: Readonly<Record<ReadingVerdict, string>> = {
  inLine: 'in line',
  highBySuspect: 'high, by a suspect',
  poorContact: 'poor contact likely',
  highUnexplained: 'high, unexplained',
  tooLow: 'too low',
  overRange: 'over range',
  noMetalPath: 'no metal path',
  setAside: 'not counted',
}

export const setAsideWords: Readonly<Record<NonNullable<ReadingAnswer['setAside']>, string>> = {
  withdrawn: 'withdrawn',
  beforeRepair: 'taken before a repair on its path',
  electrodeTest: 'no path to remote earth as drawn',
  noSuchPart: 'no such part in the drawing',
  samePart: 'both ends are one part',
  kitNotFit: 'test current too small for bonds',
  unknownKit: 'instrument not described in its visit',
  loopClamp: 'joint in the jaws not noted',
}

export const reportTexts = {
  title: 'Report of bonding tests',
  open: 'Report and test sheet …',
  dialogTitle: 'Report and test sheet',
  close: 'Close',
  print: 'Print or save as PDF',
  kind: 'What to print',
  report: 'Report',
  sheet: 'Blank test sheet',
  visits: 'Visits',
  parts: 'Sections',
  paper: 'Paper',
  mapShown: 'Map',
  mapWhole: 'the whole site, and areas with suspects',
  mapOnlyWhole: 'the whole site only',
  mapTimes: 'a map of times expected',
  plan: 'Plan',
  noPlan: 'free pairs (empty rows)',
  freeRows: 'Empty rows',
  making: 'Making the report',
  waiting: 'Waiting for the answer of the readings that are entered.',
  noSite: 'Open a site first.',
  noVisits: 'No visit is on record yet. The blank test sheet can be printed.',
  noneChosen: 'Choose at least one visit.',
  failed: 'No answer could be worked out for these visits:',
  preview: 'Preview',
  fixed: 'always in the report',
  site: 'Site',
  made: 'Made',
  drawing: 'Drawing',
  noRevision: 'no sheet revision noted',
  ofVisits: 'Visits in this report',
  someVisits:
    'This report is of the visits listed alone. Readings of other visits are neither listed nor counted in what it says ' +
    'of joints; readings keep the numbers that they have in the whole record.',
  none: 'None.',
  noReadings: 'No reading was taken in these visits.',
  noLooks: 'No joint was looked at.',
  noRepairs: 'No repair is on record.',
  noRetests: 'No reading repeats another one.',
  noDefects: 'No defect is on record.',
  noChanges: 'Nothing was corrected or withdrawn.',
  noNullings: 'No nulling of leads is on record.',
  noVolts: 'No volts were taken between points.',
  noCriteria:
    'The drawing has no criterion: readings are held against nothing but what the network predicts.',
  noSuspects: 'No joint is suspected by these readings.',
  noSignatures: 'Nothing has been signed. Lines for signatures:',
  notNoted: 'not noted',
  mapBelow:
    'Lines are readings with what was read, and on the map of times expected with read ÷ expected; a number in a ring is ' +
    'the rank of a suspect. What is drawn how stands below each map.',
  nameDateSignature: 'name, date, signature',
  mapNone: 'The map could not be drawn.',
  byNetwork: 'What the drawn network says of them',
  otherQuantity: 'the level is of another quantity',
  noReason: 'no reason known',
  notMeasured:
    'What no reading shows is neither within nor beyond any criterion: it was not seen, and stays open.',
  eachReading: 'Each reading',
  expectedNote:
    'Expected is what a sound array as drawn would read with this instrument and lead, with its standard deviation. ' +
    'Levels have the computed conductors of the path added where the criterion asks for that.',
} as const

/** Name of the map of a whole site, and of the area around a suspect. */
export function nameWholeMap(site: string): string {
  return `${printable(site)}: whole site`
}

/** Name of the map whose readings are multiples of what was expected. */
export function nameTimesMap(site: string): string {
  return `${printable(site)}: each reading as a multiple of what is expected`
}

export function nameArea(rank: number): string {
  return `Around suspect ${rank}`
}

export const inverterWords: Readonly<Record<VisitFacts['inverter'], string>> = {
  unknown: reportTexts.notNoted,
  off: 'off',
  running: 'running',
}

export const isolatorWords: Readonly<Record<VisitFacts['isolators'], string>> = {
  unknown: reportTexts.notNoted,
  open: 'open',
  closed: 'closed',
}

/** Ohms over range as at least; zeros as less than a step of the instrument. */
export function formatReportOhm(
  readOhm: number | null,
  atLeastOhm: number | null,
  stepOhm: number | null,
): string {
  return formatReadOhm(readOhm, atLeastOhm, stepOhm)
}

/** `±(2 % + 3 digits of 10 mΩ), range to 200 Ω`. */
export function describeKitRange({ gainError, digits, resolutionOhm, mostOhm }: Kit): string {
  return `±(${formatRate(gainError)} + ${digits} digits of ${formatOhm(resolutionOhm)}), range to ${formatOhm(mostOhm)}`
}

export function describeAmpere(ampere: number): string {
  return ampere < 1 ? `${Number((ampere * 1000).toPrecision(3))} mA` : `${Number(ampere.toPrecision(3))} A`
}

export function describeLastCheck({ lastCheck }: Kit): string {
  if (lastCheck === null) return reportTexts.notNoted
  const { on, referenceOhm, readOhm } = lastCheck
  return `${on}: read ${formatReadOhm(readOhm)} of ${formatReadOhm(referenceOhm)}`
}

export const kitWarningTexts = {
  noCalibration: 'When it is due for calibration is not noted.',
  noCheck: 'No check against known ohms is noted.',
} as const

export function describeCalibrationPast(due: string): string {
  return `Its calibration was due on ${due}, before this visit.`
}

export function describeCheckOff(byOhm: number, allowedOhm: number): string {
  return (
    `At its last check it read ${formatRoughOhm(Math.abs(byOhm))} ${byOhm > 0 ? 'more' : 'less'} than the known ` +
    `ohms, beyond the ${formatRoughOhm(allowedOhm)} of its stated error.`
  )
}

export function describeLead({ name, lengthM, areaMm2, material }: Lead, units: Units): string {
  return `${printable(name)}: ${formatLength(lengthM, units)}, ${areaMm2} mm², ${material}`
}

export const quantityWords: Readonly<Record<Criterion['quantity'], string>> = {
  bondingPath: 'bonding between two points',
  electrodeToEarth: 'an electrode to earth',
  typeTest: 'a type test',
}

export const scopeWords: Readonly<Record<Criterion['scope'], string>> = {
  pathToEarthBar: 'path to an earth bar',
  neighbours: 'neighbouring metal',
  sameTable: 'within a table',
  anyPair: 'any pair',
}

/** What a reader must know of a criterion besides its levels. */
export function criterionWarnings(
  criterion: Criterion,
  readings: number,
  lowCurrent: number,
): readonly string[] {
  const { quantity, againstPairs, testCurrentA, source, investigateAboveOhm, rejectAboveOhm } = criterion
  const warnings: string[] = []
  if (quantity !== 'bondingPath')
    warnings.push(
      `Its levels are of ${quantityWords[quantity]}, which is another quantity than bonding between two points` +
        (againstPairs
          ? '; it was chosen to hold pairs against them all the same.'
          : '; no pair is held against them.'),
    )
  if (lowCurrent > 0 && testCurrentA !== null)
    warnings.push(
      `${formatCounted(lowCurrent, 'reading')} of ${readings} ${lowCurrent === 1 ? 'was' : 'were'} taken with less than ` +
        `the ${describeAmpere(testCurrentA)} that it asks for: a film on the contact may read higher then.`,
    )
  if (source.trim() === '') warnings.push('It names no source.')
  if (investigateAboveOhm === null && rejectAboveOhm === null) warnings.push('It has no level.')
  return warnings
}

export function describeSource({ source, edition, clause }: Criterion): string {
  const pieces = [source, edition, clause].map((text) => printable(text, 400).trim())
  const named = pieces.filter((text) => text !== '').join('; ')
  return named === '' ? 'no source named' : named
}

export function formatVolts(volt: number): string {
  return `${Number(volt.toPrecision(3))} V`.replace('-', '−')
}

const findingTexts: Readonly<Record<EntryOf<'look'>['findings'][number], string>> = {
  sound: 'sound',
  loose: 'loose',
  corroded: 'corroded',
  coatingNotPierced: 'coating not pierced',
  washerMissing: 'washer missing',
  dissimilarMetals: 'dissimilar metals',
  partMissing: 'part missing',
  broken: 'broken',
  other: 'other',
}

export function describeFindings({ findings }: EntryOf<'look'>): string {
  return findings.map((finding) => findingTexts[finding]).join(', ')
}

export function describeTorque({ torqueAskedNm, torqueFoundNm, torqueSetNm }: EntryOf<'look'>): string {
  const said = [
    ['asked', torqueAskedNm],
    ['found', torqueFoundNm],
    ['set', torqueSetNm],
  ] as const
  return said.flatMap(([word, nm]) => (nm === null ? [] : [`${word} ${nm} N·m`])).join(', ')
}

export const repairWords: Readonly<Record<EntryOf<'repair'>['done'], string>> = {
  retorqued: 'retorqued',
  cleaned: 'cleaned',
  replaced: 'replaced',
  added: 'added',
  temporaryBond: 'temporary bond put on',
  other: 'other',
}

export const coatingWords: Readonly<Record<EntryOf<'repair'>['coating'], string>> = {
  notTouched: 'not touched',
  madeGood: 'made good',
  stillOpen: 'still open',
}

export const defectStateWords: Readonly<Record<EntryOf<'defectStep'>['state'], string>> = {
  suspected: 'suspected',
  confirmed: 'confirmed',
  repaired: 'repaired',
  retested: 'retested',
  dismissed: 'dismissed',
}

export const roleWords: Readonly<Record<EntryOf<'signature'>['role'], string>> = {
  tester: 'Tester',
  contractor: 'Contractor',
  witness: 'Witness',
  ownersEngineer: 'Owner’s engineer',
}

const spotWords: Readonly<Record<Spot['spot'], string>> = {
  face: 'face',
  cutEdge: 'cut edge',
  boltHead: 'bolt head',
  lug: 'lug',
  conductor: 'conductor',
  stud: 'stud',
  unknown: 'spot not noted',
}

export function describeSpotOf({ part, spot, surface }: Spot): string {
  return `${printable(part)} (${spotWords[spot]}, ${surface})`
}

/** Over the table of volts: above which no ohms are taken. */
export function describeMostVolts(volt: number): string {
  return `Volts, taken before ohms; above ${formatVolts(volt)} no resistance is taken`
}

export function describeSoil(ohmM: number, source: string): string {
  const from = source.trim() === '' ? 'no source named' : printable(source, 300)
  return `Soil: ${Number(ohmM.toPrecision(3))} Ω·m (${from}).`
}

export function describeKindUsed(kind: JointKind): string {
  const use = kind.purpose === 'relied' ? '' : '; not relied on'
  return `${describeKind(kind)}${use}`
}

/** What became of a signature since it was given. */
export function describeSigned(signed: SignedState): string {
  switch (signed.state) {
    case 'holds':
      return 'Holds: what it stands for is unchanged.'
    case 'withdrawn':
      return 'Withdrawn.'
    case 'doesNotMatch':
      return 'Does not match: the entries it names are not those that were signed.'
    case 'reopened':
      return `Reopened: ${describeReopenings(signed.by)}.`
    case 'unchecked':
      return signed.by.length > 0
        ? `Reopened: ${describeReopenings(signed.by)}. Its digest was not checked.`
        : 'Its digest was not checked.'
  }
}

const reopeningWords: Readonly<Record<Reopening['why'], string>> = {
  corrected: 'corrected since',
  withdrawn: 'withdrawn since',
  added: 'added since',
  drawing: 'the drawing was changed since',
}

function describeReopenings(by: readonly Reopening[]): string {
  const counts = new Map<Reopening['why'], number>()
  for (const { why } of by) counts.set(why, (counts.get(why) ?? 0) + 1)
  return [...counts]
    .map(([why, count]) =>
      why === 'drawing'
        ? reopeningWords.drawing
        : `${formatCounted(count, 'entry', 'entries')} ${reopeningWords[why]}`,
    )
    .join(', ')
}

export const outstandingWords: Readonly<Record<Outstanding['what'], string>> = {
  retest: 'read again after the repair',
  reopened: 'reopened: what a step rested on was changed',
  retestBad: 'the reading after the repair is still out of line',
  coating: 'make the coating good',
  temporaryBond: 'a temporary bond is still across it',
}

/** One step of a defect. */
export function describeStage(
  at: string,
  state: EntryOf<'defectStep'>['state'],
  isOverturned: boolean,
): string {
  return `${at} ${defectStateWords[state]}${isOverturned ? ' (no longer stands)' : ''}`
}

/** Beside a reading through a lead that was not nulled. */
export function describeLeadIn(leadOhm: number): string {
  return `lead not nulled: the value includes the lead’s own ohms, about ${formatRoughOhm(Math.max(0, leadOhm))}`
}

/** Below a plot, of readings in it that were taken so. */
export function describeLeadInPlot(count: number, all: number): string {
  const who = count === all ? 'All' : `${count} of ${all}`
  return `${who} were taken with the lead not nulled: the values shown include the lead’s own ohms, the levels do not.`
}

export function describeLowCurrent({ askedA, usedA }: NonNullable<JudgedReading['lowCurrent']>): string {
  return `taken with ${describeAmpere(usedA)}, not the ${describeAmpere(askedA)} asked for`
}

export const entrySortWords: Readonly<Record<string, string>> = {
  amendment: 'particulars of the visit changed',
  nulling: 'nulling of leads',
  leadCheck: 'check of leads',
  volts: 'volts',
  reading: 'reading',
  correction: 'correction',
  withdrawal: 'withdrawal',
  look: 'look',
  repair: 'repair',
  defect: 'defect',
  defectStep: 'step of a defect',
  note: 'note',
}

/** Under the title: readings and what became of them in one sentence. */
export function describeReadingCount(readings: number, counted: number): string {
  return `${formatCounted(readings, 'reading')} on record, ${counted} of them counted.`
}
