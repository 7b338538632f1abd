import type { VisitFacts } from '../../model/schema/record.ts'
import { formatTemperature } from '../../text/formText.ts'
import { formatInstant } from '../../text/instants.ts'
import { formatOhm, formatRoughOhm, formatSignedOhm } from '../../text/ohms.ts'
import { namePair } from '../../text/partNames.ts'
import type { NameBook } from '../../text/places.ts'
import {
  criterionWarnings,
  describeAmpere,
  describeCalibrationPast,
  describeCheckOff,
  describeKitRange,
  describeLastCheck,
  describeLead,
  describeMostVolts,
  describeSource,
  formatReportOhm,
  formatVolts,
  inverterWords,
  isolatorWords,
  kitWarningTexts,
  methodWords,
  quantityWords,
  reportTexts,
  scopeWords,
} from '../../text/reportText.ts'
import { paragraph } from '../../text/sections.ts'
import { formatCount } from '../../text/units.ts'
import { printable } from '../../text/where.ts'
import { facts, heading, lines, table, type ReportBlock } from './reportBlocks.ts'
import type { KitWarning, ReportData, ReportKit, ReportNulling, ReportVisit } from './reportTypes.ts'

const orNotNoted = (text: string) => (text.trim() === '' ? reportTexts.notNoted : printable(text, 2000))

export function visitsBlocks({ visits, site }: ReportData): readonly ReportBlock[] {
  const { units } = site.drawing.facts
  return visits.flatMap((one) => [
    heading(`Visit ${one.number}, ${formatInstant(one.from)}`),
    visitFacts(one, units),
    table(
      'Instruments',
      [
        { title: 'Instrument', share: 0.17 },
        { title: 'Serial no.', share: 0.1 },
        { title: 'Method, current, error', share: 0.19 },
        { title: 'Calibration due', share: 0.12 },
        { title: 'Last check', share: 0.12 },
        { title: 'Readings', isNumber: true, share: 0.1 },
        { title: 'Remarks' },
      ],
      one.kits.map((kit) => kitRow(kit)),
    ),
    table(
      'Leads',
      [{ title: 'Lead' }],
      one.leads.map((lead) => ({ key: lead.id, cells: [describeLead(lead, units)] })),
    ),
  ])
}

function visitFacts(
  { visit, from, to, readings, amendments }: ReportVisit,
  units: 'metric' | 'us',
): ReportBlock {
  const said: VisitFacts = visit
  return facts(
    ['From, to', `${formatInstant(from)}, ${formatInstant(to)}`],
    ['Party', orNotNoted(said.party.join(', '))],
    ['Purpose', orNotNoted(said.purpose)],
    ['Weather', orNotNoted(said.weather)],
    ['Air', said.ambientC === null ? reportTexts.notNoted : formatTemperature(said.ambientC, units)],
    ['Inverter', inverterWords[said.inverter]],
    ['Isolators', isolatorWords[said.isolators]],
    ['Lock or tag', orNotNoted(said.lockOut)],
    ['Isolation', orNotNoted(said.isolation)],
    ['Readings', formatCount(readings)],
    ...(amendments > 0
      ? [
          [
            'Particulars',
            `changed ${amendments === 1 ? 'once' : `${amendments} times`} after the visit began`,
          ] as const,
        ]
      : []),
  )
}

function kitRow({ kit, warnings, readings }: ReportKit) {
  return {
    key: kit.id,
    cells: [
      printable(kit.name, 200),
      orNotNoted(kit.serial),
      `${methodWords[kit.method]}, ${describeAmpere(kit.testCurrentA)}, ${describeKitRange(kit)}`,
      kit.calibrationDue ?? reportTexts.notNoted,
      describeLastCheck(kit),
      formatCount(readings),
      warnings.map(describeWarning).join(' '),
    ],
  }
}

function describeWarning(warning: KitWarning): string {
  switch (warning.warning) {
    case 'noCalibration':
    case 'noCheck':
      return kitWarningTexts[warning.warning]
    case 'calibrationPast':
      return describeCalibrationPast(warning.due)
    case 'checkOff':
      return describeCheckOff(warning.byOhm, warning.allowedOhm)
  }
}

export function leadsBlocks({ nullings, volts, site }: ReportData, book: NameBook): readonly ReportBlock[] {
  return [
    nullings.length === 0
      ? lines(paragraph(reportTexts.noNullings))
      : table(
          'Nulling of leads, each with the readings after it',
          [
            { title: 'No.', isNumber: true, share: 0.06 },
            { title: 'When', share: 0.15 },
            { title: 'Instrument and lead', share: 0.27 },
            { title: 'Readings', isNumber: true, share: 0.1 },
            { title: 'Left in the leads, by the readings', isNumber: true, share: 0.19 },
            { title: 'Leads shorted and read, the last one closing' },
          ],
          nullings.map(nullingRow),
        ),
    volts.length === 0
      ? lines(paragraph(reportTexts.noVolts))
      : table(
          describeMostVolts(site.drawing.facts.mostVolts),
          [
            { title: 'When', share: 0.16 },
            { title: 'Between', share: 0.36 },
            { title: 'Direct', isNumber: true },
            { title: 'Alternating', isNumber: true },
            { title: 'To earth, direct', isNumber: true },
            { title: 'To earth, alternating', isNumber: true },
          ],
          volts.map(({ id, at, from, to, directV, alternatingV, toEarth }) => ({
            key: id,
            cells: [
              formatInstant(at),
              namePair(book, from, to),
              formatVolts(directV),
              formatVolts(alternatingV),
              toEarth ? formatVolts(toEarth.directV) : reportTexts.notNoted,
              toEarth ? formatVolts(toEarth.alternatingV) : reportTexts.notNoted,
            ],
          })),
        ),
  ]
}

function nullingRow({ answer, number, nulling, kitName, leadName, checks }: ReportNulling) {
  const shorted = checks.map(({ at, result }) => {
    const read =
      result.form === 'ohm'
        ? formatReportOhm(result.ohm, null, null)
        : formatReportOhm(null, result.atLeastOhm, null)
    return `${formatInstant(at)}: ${read}`
  })
  return {
    key: answer.entry ?? `none ${number}`,
    cells: [
      nulling === null ? '' : String(number),
      nulling === null ? 'not nulled' : formatInstant(nulling.at),
      [kitName, leadName ?? '']
        .filter((name) => name !== '')
        .map((name) => printable(name))
        .join(', '),
      formatCount(answer.readings),
      `${formatSignedOhm(answer.offsetOhm)} ± ${formatRoughOhm(answer.offsetSdOhm)}`,
      shorted.length === 0 ? 'no closing check' : shorted.join('; '),
    ],
  }
}

export function criteriaBlocks({ criteria }: ReportData): readonly ReportBlock[] {
  if (criteria.length === 0) return [lines(paragraph(reportTexts.noCriteria))]
  return [
    table(
      'Levels, and where they come from',
      [
        { title: 'Criterion and pairs', share: 0.18 },
        { title: 'Investigate above', isNumber: true, share: 0.12 },
        { title: 'Reject above', isNumber: true, share: 0.1 },
        { title: 'Conductors', share: 0.12 },
        { title: 'Readings', isNumber: true, share: 0.1 },
        { title: 'Source, edition, clause', share: 0.21 },
        { title: 'Remarks' },
      ],
      criteria.map(({ criterion, readings, lowCurrent }) => ({
        key: criterion.id,
        cells: [
          `${printable(criterion.name, 200)}: ${scopeWords[criterion.scope]}, ${quantityWords[criterion.quantity]}`,
          criterion.investigateAboveOhm === null ? 'none' : formatOhm(criterion.investigateAboveOhm),
          criterion.rejectAboveOhm === null ? 'none' : formatOhm(criterion.rejectAboveOhm),
          criterion.addConductor ? 'added' : 'not added',
          formatCount(readings),
          describeSource(criterion),
          criterionWarnings(criterion, readings, lowCurrent).join(' '),
        ],
      })),
    ),
  ]
}
