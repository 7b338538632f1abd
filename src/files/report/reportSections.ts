import { describeCounts } from '../../text/badCountText.ts'
import { fullCautions } from '../../text/cautions.ts'
import { describeCoverage } from '../../text/coverageText.ts'
import { describeHeadline } from '../../text/headlineText.ts'
import { formatInstant } from '../../text/instants.ts'
import { nameKind } from '../../text/jointNames.ts'
import { describeLevel } from '../../text/levelsText.ts'
import { describeFit } from '../../text/locateText.ts'
import { describeNote } from '../../text/notes.ts'
import { describeNothing, describeRest } from '../../text/panelText.ts'
import { openNameBook, type NameBook } from '../../text/places.ts'
import {
  describeKindUsed,
  describeReadingCount,
  describeSigned,
  describeSoil,
  findingWords,
  fixedParts,
  reportParts,
  reportTexts,
  reportTitles,
  roleWords,
  setAsideWords,
  stateMarks,
  stateMeanings,
  stateWords,
  type ReportPart,
} from '../../text/reportText.ts'
import { item, paragraph } from '../../text/sections.ts'
import { describeGroup } from '../../text/suspectText.ts'
import { formatChance, formatCount } from '../../text/units.ts'
import { printable } from '../../text/where.ts'
import { heading, lines, table, type ReportBlock, type ReportSection } from './reportBlocks.ts'
import { changesBlocks, defectsBlocks, jointsBlocks } from './reportDeeds.ts'
import { readingsBlocks } from './reportReadings.ts'
import { criteriaBlocks, leadsBlocks, visitsBlocks } from './reportSetting.ts'
import type { ReportData, ReportState } from './reportTypes.ts'

const writers: Readonly<Record<ReportPart, (data: ReportData, book: NameBook) => readonly ReportBlock[]>> = {
  summary: summaryBlocks,
  map: () => [lines(paragraph(reportTexts.mapBelow)), { form: 'maps' }],
  visits: visitsBlocks,
  leads: leadsBlocks,
  criteria: criteriaBlocks,
  readings: readingsBlocks,
  suspects: suspectsBlocks,
  joints: jointsBlocks,
  defects: defectsBlocks,
  unseen: ({ locate }, book) => [
    lines(paragraph(reportTexts.notMeasured), ...describeCoverage(locate, book)),
  ],
  changes: changesBlocks,
  assumptions: assumptionsBlocks,
  signatures: signaturesBlocks,
}

/**
 * A report in words, section by section, a pause after each. Whatever is chosen, the sections that limit or change what the
 * report says are among them.
 */
export function* reportSections(
  data: ReportData,
  parts: readonly ReportPart[],
): Generator<number, readonly ReportSection[]> {
  const book = openNameBook(data.site.drawing)
  const wanted = reportParts.filter((part) => fixedParts.includes(part) || parts.includes(part))
  const sections: ReportSection[] = []
  for (const part of wanted) {
    sections.push({ part, title: reportTitles[part], blocks: writers[part](data, book) })
    yield sections.length / wanted.length
  }
  return sections
}

/** What stands at the head of a report. */
export function reportHead({ site, visits, madeAt }: ReportData): readonly (readonly [string, string])[] {
  const { drawingRevision } = site.drawing.facts
  return [
    [reportTexts.site, printable(site.name, 200)],
    [
      reportTexts.drawing,
      `${drawingRevision.trim() === '' ? reportTexts.noRevision : printable(drawingRevision, 200)} (${site.drawing.revision})`,
    ],
    [reportTexts.ofVisits, visits.map(({ from }) => formatInstant(from)).join('; ')],
    [reportTexts.made, formatInstant(madeAt)],
  ]
}

function summaryBlocks(data: ReportData, book: NameBook): readonly ReportBlock[] {
  const { counts, locate, isAllVisits } = data
  const states = Object.keys(stateWords) as readonly ReportState[]
  const all = states.reduce((sum, state) => sum + counts[state], 0)
  const rows = states
    .filter((state) => counts[state] > 0 || state === 'within' || state === 'investigate')
    .map((state) => ({
      key: state,
      cells: [
        `${stateMarks[state]} ${stateWords[state]}`,
        formatCount(counts[state]),
        [stateMeanings[state], state === 'notCounted' ? whyNotCounted(data) : ''].join(' ').trim(),
      ],
      ...((state === 'investigate' || state === 'reject') && counts[state] > 0
        ? { mark: 'attention' as const }
        : {}),
    }))
  return [
    lines(
      ...(isAllVisits ? [] : [paragraph(reportTexts.someVisits)]),
      ...describeHeadline(locate, book).map(({ text, level }) => ({ text, level })),
      paragraph(describeReadingCount(all, all - counts.withdrawn - counts.notCounted)),
    ),
    table(
      reportTitles.readings,
      [
        { title: 'State', share: 0.2 },
        { title: 'Readings', isNumber: true, share: 0.12 },
        { title: 'Meaning' },
      ],
      rows,
    ),
    findingsTable(data),
    lines(paragraph(reportTexts.notMeasured)),
  ]
}

const counted = ({ groups }: ReportData) =>
  groups.flatMap(({ readings }) => readings).filter(({ state }) => state !== 'notCounted')

/** What the network says of the readings, whatever level they are held against. */
function findingsTable(data: ReportData): ReportBlock {
  const verdicts = counted(data).flatMap(({ answer }) => (answer ? [answer.verdict] : []))
  const found = (Object.keys(findingWords) as readonly (keyof typeof findingWords)[]).filter(
    (verdict) => verdict !== 'setAside' && verdicts.includes(verdict),
  )
  return table(
    reportTexts.byNetwork,
    [
      { title: 'Finding', share: 0.2 },
      { title: 'Readings', isNumber: true, share: 0.12 },
      { title: 'Numbers of the readings' },
    ],
    found.map((verdict) => {
      const numbers = counted(data).filter(({ answer }) => answer?.verdict === verdict)
      return {
        key: verdict,
        cells: [
          findingWords[verdict],
          formatCount(numbers.length),
          verdict === 'inLine' ? '' : numbers.map(({ number }) => String(number)).join(', '),
        ],
        ...(verdict === 'inLine' ? {} : { mark: 'attention' as const }),
      }
    }),
  )
}

function whyNotCounted({ groups }: ReportData): string {
  const reasons = new Map<string, number>()
  for (const { state, answer } of groups.flatMap(({ readings }) => readings)) {
    if (state !== 'notCounted') continue
    const reason = answer?.setAside ? setAsideWords[answer.setAside] : reportTexts.noReason
    reasons.set(reason, (reasons.get(reason) ?? 0) + 1)
  }
  return [...reasons].map(([reason, count]) => `${formatCount(count)}: ${reason}.`).join(' ')
}

/** Every group that is likelier than one in a hundred, the likeliest first. */
function suspectsBlocks({ locate }: ReportData, book: NameBook): readonly ReportBlock[] {
  const told = locate.groups.filter(({ probability }, k) => k === 0 || probability >= 0.01)
  if (told.length === 0) return [lines(paragraph(reportTexts.noSuspects))]
  const counts = describeCounts(locate)
  return [
    lines(
      ...(counts === null ? [] : [paragraph(counts)]),
      ...told.flatMap((group, k) => describeGroup(locate, group, k + 1, book)),
      paragraph(
        `${describeNothing(locate)}: ${formatChance(locate.nothingBrokenProbability)}. ${describeRest(locate, told.length)}`,
      ),
    ),
  ]
}

function assumptionsBlocks({ site, locate }: ReportData, book: NameBook): readonly ReportBlock[] {
  const { facts: said, jointKinds } = site.drawing
  const notes = locate.notes.map((note) => item(describeNote(note, said.units)))
  return [
    lines(
      paragraph(describeSoil(said.soilOhmM, said.soilSource)),
      ...notes,
      ...describeFit(locate, book).map(({ text }) => item(text)),
      ...locate.levels.map((level) => item(describeLevel(level, book))),
    ),
    table(
      'Joint kinds and where their figures come from',
      [
        { title: 'Kind', share: 0.24 },
        { title: 'Figures for sound joints', share: 0.36 },
        { title: 'Source' },
      ],
      jointKinds.map((kind) => ({
        key: kind.id,
        cells: [nameKind(book, kind.id), describeKindUsed(kind), printable(kind.source, 300)],
      })),
    ),
  ]
}

function signaturesBlocks({ site, signatures }: ReportData): readonly ReportBlock[] {
  const cautions = lines(...fullCautions(site.drawing.facts.units).map((text) => item(text)))
  const signed = signatures.map(({ signature, state }) => ({
    key: signature.id,
    cells: [
      roleWords[signature.role],
      printable(signature.name, 200),
      formatInstant(signature.at),
      formatCount(signature.entries.length),
      describeSigned(state),
    ],
    ...(state.state === 'withdrawn' ? { mark: 'struck' as const } : {}),
  }))
  const missingRoles = (['tester', 'contractor', 'witness', 'ownersEngineer'] as const).filter(
    (role) =>
      !signatures.some(({ signature, state }) => signature.role === role && state.state !== 'withdrawn'),
  )
  return [
    cautions,
    ...(signed.length > 0
      ? [
          heading('Signed'),
          table(
            'Signatures',
            [
              { title: 'Role', share: 0.14 },
              { title: 'Name', share: 0.2 },
              { title: 'When', share: 0.16 },
              { title: 'Entries', isNumber: true, share: 0.1 },
              { title: 'State' },
            ],
            signed,
          ),
        ]
      : [lines(paragraph(reportTexts.noSignatures))]),
    ...(missingRoles.length > 0
      ? [{ form: 'signing', roles: missingRoles.map((role) => roleWords[role]) } as const]
      : []),
  ]
}
