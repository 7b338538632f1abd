import type {
  ChangedPair,
  ComparedReading,
  ComparisonAnswer,
  ComparisonGroup,
  LeadFinding,
  NamedShift,
  NotComparedReason,
  PairClass,
  Standing,
  VisitComparison,
} from '../model/comparison.ts'
import type { Entry, EntryOf } from '../model/schema/record.ts'
import { formatInstant } from './instants.ts'
import { formatOhm, formatReadOhm, formatRoughOhm, formatSignedOhm } from './ohms.ts'
import { namePair, namePart } from './partNames.ts'
import { nameRow, type NameBook } from './places.ts'
import { item, paragraph, type TextSection } from './sections.ts'
import { capital, formatCount, formatCounted, formatRate } from './units.ts'
import { printable } from './where.ts'

/** What sentences about a comparison look names up in. */
export interface ComparisonBook {
  readonly names: NameBook
  readonly visits: ReadonlyMap<string, EntryOf<'visit'>>
  /** Number of each reading in the record, from 1. */
  readonly numbers: ReadonlyMap<string, number>
  readonly readings: ReadonlyMap<string, EntryOf<'reading'>>
}

/** `record` in canonical order, as corrected. */
export function openComparisonBook(names: NameBook, record: readonly Entry[]): ComparisonBook {
  const visits = new Map<string, EntryOf<'visit'>>()
  const numbers = new Map<string, number>()
  const readings = new Map<string, EntryOf<'reading'>>()
  for (const entry of record) {
    if (entry.entry === 'visit') visits.set(entry.id, entry)
    if (entry.entry !== 'reading') continue
    numbers.set(entry.id, numbers.size + 1)
    readings.set(entry.id, entry)
  }
  return { names, visits, numbers, readings }
}

export const comparisonTexts = {
  title: 'Like with like',
  intro:
    'Readings held against others that should read alike, each as a multiple of what its path should read. What ' +
    'stands out is a lead for inspection: no criterion is behind it.',
  working: 'Readings are being compared.',
  older: 'From before the last change; the comparison is being worked out anew.',
  leads: 'Leads',
  shifts: 'What readings share',
  visits: 'Against earlier visits',
  middle: 'middle of the group',
  investigate: 'investigate above',
  reject: 'reject above',
  scale: 'read, logarithmic scale',
  columns: { where: 'Where', read: 'Read', times: 'Against its peers' },
} as const

export const standingWords: Readonly<Record<Standing, string>> = {
  alike: 'like its peers',
  watch: 'somewhat high',
  high: 'high among its peers',
}

const relationWords: Readonly<Record<PairClass['relation'], string>> = {
  toEarthBar: 'Paths to',
  sameTable: 'Within a table',
  neighbours: 'Between neighbouring tables',
  sameRow: 'Along a row',
  betweenRows: 'Between rows',
  other: 'Other pairs',
}

const methodWords: Readonly<Record<PairClass['method'], string>> = {
  twoWire: 'two-wire',
  fourWire: 'four-wire',
  loopClamp: 'loop clamp',
  earthElectrode: 'electrode test',
}

function kindWord({ names }: ComparisonBook, kind: PairClass['ends'][number]): string {
  const { words } = names
  switch (kind) {
    case 'longMember':
      return words.longMember
    case 'crossMember':
      return words.crossMember
    case 'earthBar':
      return words.earthBar
    case 'electrode':
      return words.electrode
    case 'conductorEnd':
      return 'conductor end'
    default:
      return kind
  }
}

function typeNames({ names }: ComparisonBook, types: readonly string[]): string {
  if (names.drawing.tableTypes.length < 2 || types.length === 0) return ''
  const known = types.map((id) => names.drawing.tableTypes.find((type) => type.id === id)?.name ?? id)
  return `, ${known.map((name) => printable(name)).join(' and ')}`
}

/** `Between neighbouring tables: frame to frame, two-wire`. */
export function nameGroup(group: ComparisonGroup, book: ComparisonBook): string {
  const { relation, ends, earthBar, tableTypes, method } = group.pairs
  const [one, other] = ends.map((kind) => kindWord(book, kind))
  const types = typeNames(book, tableTypes)
  if (earthBar !== null) {
    const from = ends.find((kind) => kind !== 'earthBar') ?? 'earthBar'
    return `Paths to ${namePart(book.names, earthBar)}: ${kindWord(book, from)}${types}, ${methodWords[method]}`
  }
  return `${relationWords[relation]}: ${one} to ${other}${types}, ${methodWords[method]}`
}

export function nameVisit(visit: string, { visits }: ComparisonBook): string {
  const found = visits.get(visit)
  return found ? `visit of ${formatInstant(found.at)}` : 'a visit that is not in the record'
}

/** Ratios with two figures: `2.3 times`; `at least` where the instrument ended or told nothing before. */
function formatTimes(ratio: number, isAtLeast = false): string {
  const rounded = Number(ratio.toPrecision(2))
  return `${isAtLeast ? 'at least ' : ''}${rounded >= 1000 ? formatCount(rounded) : rounded} times`
}

function formatBetween(low: number, high: number): string {
  return `${Number(low.toPrecision(2))} to ${Number(high.toPrecision(2))}`
}

export function countOut({ readings }: ComparisonGroup): { readonly high: number; readonly watch: number } {
  return {
    high: readings.filter(({ standing }) => standing === 'high').length,
    watch: readings.filter(({ standing }) => standing === 'watch').length,
  }
}

/** One sentence that says all that the plot shows of a group. */
export function describeGroupState(group: ComparisonGroup): string {
  const { high, watch } = countOut(group)
  const count = group.readings.length
  const state =
    high + watch === 0
      ? 'none stands out'
      : [
          ...(high > 0 ? [`${formatCount(high)} high among ${high === 1 ? 'its' : 'their'} peers`] : []),
          ...(watch > 0 ? [`${formatCount(watch)} somewhat high`] : []),
        ].join(', ')
  const floor = group.isAtFloor
    ? ' Most are hardly more than what the instrument and its nulled lead can tell: only much larger ohms stand out here.'
    : ''
  return (
    `${formatCounted(count, 'reading')} about ${formatRoughOhm(Math.max(0, group.middleOhm))}; ${state}.` +
    `${describeWhole(group)}${floor}`
  )
}

function describeWhole({ whole }: ComparisonGroup): string {
  if (!whole?.isHigh) return ''
  const { ratio, lowRatio, highRatio } = whole
  const against =
    whole.against === 'groups'
      ? 'the other groups of this visit lead to expect'
      : 'the drawing leads to expect'
  return (
    ` The whole group lies high: ${formatTimes(ratio)} what ${against} (nine times out of ten ` +
    `${formatBetween(lowRatio, highRatio)}). One cause may be common to all of it.`
  )
}

export function formatReadOf({ readOhm, atLeastOhm }: ComparedReading): string {
  return formatReadOhm(readOhm, readOhm === null ? atLeastOhm : null)
}

/** `2.3 times (2 to 2.6)`. */
export function formatAgainst(reading: ComparedReading, group: ComparisonGroup): string {
  const isAtLeast = reading.readOhm === null || group.isAtFloor
  const between = isAtLeast ? '' : ` (${formatBetween(reading.lowRatio, reading.highRatio)})`
  return `${formatTimes(reading.ratio, isAtLeast)}${between}`
}

/** In a word or two: how it stands, and what its criterion says beside that. */
export function describeStanding({
  standing,
  criterion,
  isEarlySign,
  isBeforeRepair,
}: ComparedReading): string {
  const words = [standingWords[standing]]
  if (isEarlySign) words.push('early sign: within its criterion')
  else if (standing !== 'alike' && criterion === 'none') words.push('no criterion applies')
  else if (criterion === 'investigate' || criterion === 'reject') words.push('above its criterion')
  if (isBeforeRepair) words.push('read before a repair on its path')
  return words.join('; ')
}

/** What is spoken of a dot: its number, where, what was read and how it stands. */
export function describeDot(reading: ComparedReading, group: ComparisonGroup, book: ComparisonBook): string {
  const number = book.numbers.get(reading.entry) ?? 0
  return (
    `Reading ${number}, ${namePair(book.names, reading.from, reading.to)}: ${formatReadOf(reading)}, ` +
    `${formatAgainst(reading, group)} its peers, ${describeStanding(reading)}`
  )
}

export function describeShift(shift: NamedShift, book: ComparisonBook): string {
  const { ratio, lowRatio, highRatio, readings } = shift
  const word = ratio > 1 ? 'high' : 'low'
  const size = `${formatTimes(ratio)} their peers (${formatBetween(lowRatio, highRatio)}), ${word}`
  const who = formatCounted(readings, 'reading')
  switch (shift.by) {
    case 'interval': {
      const since = shift.level === null ? 'read without nulling' : 'that share one nulling'
      return `${capital(who)} ${since}: ${size}. A lead offset does this; short the leads and read them.`
    }
    case 'row':
      return `${capital(who)} of ${nameRow(book.names, Number(shift.level))}: ${size}. Look for what its row has in common.`
    case 'temperature':
      return (
        `Readings go with the temperature of the metal: ${formatTimes(ratio)} for 10 °C more ` +
        `(${formatBetween(lowRatio, highRatio)}); metal alone gives 1.04 times.`
      )
  }
}

const leadVerdicts: Readonly<Record<LeadFinding['verdict'], string>> = {
  asExpected: 'as expected',
  seemsNotNulled: 'it looks as if this lead was not nulled: its own ohms are in the readings',
  offset: 'more than nulling leaves: null again, and read the leads shorted',
  nulledTooFar: 'nulled too far: readings are lower than they should be',
  undecided: 'the readings do not say; read the leads shorted at their far end',
}

export function describeLead(finding: LeadFinding): string {
  const { offsetOhm, lowOhm, highOhm, leadOhm, startedAt, by, drift } = finding
  const start = finding.nulling === null ? 'without nulling, from' : 'nulled at'
  const source =
    by === 'checks'
      ? `by ${formatCounted(finding.checks, 'shorted reading')}`
      : `by ${formatCounted(finding.readings, 'reading')}`
  const moving =
    drift?.isClear === true
      ? ` It drifts by ${formatSignedOhm(drift.ohmPerHour)} an hour (${formatRoughOhm(drift.low)} to ${formatRoughOhm(drift.high)}).`
      : ''
  return (
    `Lead ${printable(finding.lead)}, ${start} ${formatInstant(startedAt)}: common to all readings ` +
    `${formatRoughOhm(offsetOhm)} (${formatRoughOhm(lowOhm)} to ${formatRoughOhm(highOhm)}, ${source}; the lead itself has ` +
    `${formatRoughOhm(leadOhm)}): ${leadVerdicts[finding.verdict]}.${moving}`
  )
}

/** Worth a word: everything but a lead that is as expected and holds still. */
export function isLeadTelling({ verdict, drift, by }: LeadFinding): boolean {
  return (verdict !== 'asExpected' && (verdict !== 'undecided' || by === 'checks')) || drift?.isClear === true
}

export function describeLeads(leads: readonly LeadFinding[]): string {
  const telling = leads.filter(isLeadTelling).length
  const checked = leads.filter(({ by }) => by === 'checks').length
  const rest = leads.length - telling
  if (leads.length === 0) return 'No lead has readings enough to say anything of it.'
  const quiet = telling === 0 ? 'Nothing to note' : `Nothing to note on the other ${formatCount(rest)}`
  return (
    `${rest > 0 ? `${quiet}; ` : ''}${formatCount(checked)} of ${formatCounted(leads.length, 'nulling')} ` +
    `checked with the leads shorted.`
  )
}

export function describeVisits(comparison: VisitComparison, book: ComparisonBook): string {
  const { earlier, later, pairs, changed, isClear, ratio, lowRatio, highRatio } = comparison
  const shared = isClear
    ? ` All together read ${formatTimes(ratio)} what they did (${formatBetween(lowRatio, highRatio)}): season, lead or temperature.`
    : ''
  const outcome =
    changed.length === 0 ? 'no pair changed clearly' : `${formatCounted(changed.length, 'pair')} changed`
  return (
    `${capital(nameVisit(later, book))} against the ${nameVisit(earlier, book)}: ${formatCounted(pairs, 'pair')} read in both, ` +
    `${outcome}.${shared}`
  )
}

export function describeChange(pair: ChangedPair, book: ComparisonBook): string {
  const read = (entry: string) => {
    const result = book.readings.get(entry)?.result
    return result === undefined
      ? '?'
      : result.form === 'ohm'
        ? formatReadOhm(result.ohm)
        : formatReadOhm(null)
  }
  const between = pair.isAtLeast ? '' : ` (${formatBetween(pair.lowRatio, pair.highRatio)})`
  const repaired =
    pair.repairs.length === 0
      ? ''
      : `; ${formatCounted(pair.repairs.length, 'repair')} on its path in between`
  return (
    `${capital(namePair(book.names, pair.from, pair.to))}: ${read(pair.earlier)}, then ${read(pair.later)}: ` +
    `${formatTimes(pair.ratio, pair.isAtLeast)}${between}${repaired}.`
  )
}

const reasonWords: Readonly<Record<NotComparedReason, string>> = {
  withdrawn: 'withdrawn',
  noSuchPart: 'of a part that is not drawn',
  samePart: 'of a part with itself',
  unknownKit: 'with an instrument that is not in the record',
  otherMethod: 'by loop clamp or electrode test',
  noMetalPath: 'between parts that no metal joins as drawn',
  readAgain: 'read again later in the same visit',
  tooFewPeers: 'with too few of their kind',
}

/** What was left out, by reason; null where nothing was. */
export function describeLeftOut({ notCompared }: ComparisonAnswer): string | null {
  if (notCompared.length === 0) return null
  const counts = new Map<NotComparedReason, number>()
  for (const { reason } of notCompared) counts.set(reason, (counts.get(reason) ?? 0) + 1)
  const parts = [...counts].map(([reason, count]) => `${formatCount(count)} ${reasonWords[reason]}`)
  return `Not compared: ${parts.join(', ')}.`
}

/** What is needed before anything can be compared. */
export function describeNeed({ fewestPeers }: Pick<ComparisonAnswer, 'fewestPeers'>): string {
  return (
    `Nothing to compare yet. It takes ${formatCount(fewestPeers)} readings of one kind in one visit: between the same kinds ` +
    `of parts, lying to each other alike, by one method. From eight or so on small differences show.`
  )
}

/** In one sentence, for the head of the panel. */
export function describeComparison(answer: ComparisonAnswer): string {
  if (answer.groups.length === 0) return describeNeed(answer)
  const readings = answer.groups.flatMap((group) => group.readings)
  const high = readings.filter(({ standing }) => standing === 'high')
  const early = readings.filter(({ isEarlySign }) => isEarlySign).length
  const out =
    high.length === 0
      ? 'none is high among its peers'
      : `${formatCount(high.length)} ${high.length === 1 ? 'is high among its' : 'are high among their'} peers`
  const signs =
    early === 0
      ? ''
      : ` ${capital(formatCounted(early, 'early sign'))}: within the criterion, yet unlike the rest.`
  return `${capital(formatCounted(readings.length, 'reading'))} in ${formatCounted(answer.groups.length, 'group')}: ${out}.${signs}`
}

export function describeRate({ falseDiscoveryRate }: ComparisonAnswer): string {
  return (
    `Of readings told as high among their peers, at most about ${formatRate(falseDiscoveryRate)} are so by chance, where ` +
    `sound joints scatter as supposed.`
  )
}

/** The whole answer as text, for a terminal. */
export function describeAnswer(answer: ComparisonAnswer, book: ComparisonBook): TextSection[] {
  const sections: TextSection[] = [
    { title: comparisonTexts.title, lines: [paragraph(describeComparison(answer))] },
  ]
  for (const group of answer.groups) {
    const out = group.readings.filter(({ standing }) => standing !== 'alike')
    sections.push({
      title: `${nameGroup(group, book)}, ${nameVisit(group.visit, book)}`,
      lines: [
        paragraph(describeGroupState(group)),
        ...out.map((reading) => item(`${describeDot(reading, group, book)}.`)),
      ],
    })
  }
  const add = (title: string, lines: readonly string[]) => {
    if (lines.length > 0) sections.push({ title, lines: lines.map((line) => paragraph(line)) })
  }
  add(
    comparisonTexts.shifts,
    answer.shifts.map((shift) => describeShift(shift, book)),
  )
  add(comparisonTexts.leads, [
    ...answer.leads.filter(isLeadTelling).map(describeLead),
    ...(answer.leads.length > 0 ? [describeLeads(answer.leads)] : []),
  ])
  add(
    comparisonTexts.visits,
    answer.visits.flatMap((visits) => [
      describeVisits(visits, book),
      ...visits.changed.map((pair) => describeChange(pair, book)),
    ]),
  )
  const left = describeLeftOut(answer)
  add('What this rests on', [describeRate(answer), ...(left === null ? [] : [left])])
  return sections
}

/** A level over a group, for the plot: `investigate above 0.1 Ω`. */
export function describeLevel(word: string, lowOhm: number, highOhm: number): string {
  const one = formatOhm(lowOhm)
  const other = formatOhm(highOhm)
  return `${word} ${one === other ? one : `${one} to ${other}`}`
}

/** What the shapes and lines of a plot mean, of those that are in it. */
export function describeKey(group: ComparisonGroup): string {
  const { investigate, reject, readings } = group
  const { high, watch } = countOut(group)
  const shapes = [
    ...(high > 0 ? ['triangle: high among its peers'] : []),
    ...(watch > 0 ? ['diamond: somewhat high'] : []),
    ...(readings.some(({ readOhm }) => readOhm === null) ? ['arrow: over range'] : []),
    ...(readings.some(({ readOhm }) => readOhm === 0)
      ? ['at the left end: the instrument showed zeros']
      : []),
  ]
  const levels = [
    ...(investigate
      ? [describeLevel(comparisonTexts.investigate, investigate.lowOhm, investigate.highOhm)]
      : []),
    ...(reject ? [describeLevel(comparisonTexts.reject, reject.lowOhm, reject.highOhm)] : []),
  ]
  const lines = levels.length === 0 ? [] : [`lines: ${levels.join(', ')}`]
  return capital([...shapes, `dashes: ${comparisonTexts.middle}`, ...lines].join('; ')) + '.'
}

/** Beside a mark of a plot on paper: `No. 7: 35.7 mΩ`. */
export function nameMark(number: number, read: string): string {
  return `No. ${number}: ${read}`
}

/** Beside the dashes of a plot on paper: `middle 0.65 mΩ`. */
export function nameMiddle(ohm: number): string {
  return `middle ${formatRoughOhm(Math.max(0, ohm))}`
}

export function describeMore(left: number): string {
  return `List ${formatCounted(left, 'further reading')}`
}

/** On paper, of groups for which there is no room. */
export function describeNotDrawn(groups: readonly ComparisonGroup[]): string {
  const out = groups.reduce((sum, group) => sum + countOut(group).high + countOut(group).watch, 0)
  const said = out === 0 ? 'nothing stands out in them' : `${formatCount(out)} stand out in them`
  return `${capital(formatCounted(groups.length, 'further group'))} not drawn here: ${said}. The screen has them all.`
}

export function describeMoreGroups(left: number): string {
  return `Show ${formatCounted(left, 'further group')}`
}

/** Beside the title: how many stand out; null where none does. */
export function countStandingOut({ groups }: ComparisonAnswer): string | null {
  const high = groups.reduce((sum, group) => sum + countOut(group).high, 0)
  const whole = groups.filter((group) => group.whole?.isHigh).length
  const said = [
    ...(high > 0 ? [`${formatCount(high)} high`] : []),
    ...(whole > 0 ? [formatCounted(whole, 'whole group')] : []),
  ]
  return said.length === 0 ? null : said.join(', ')
}
