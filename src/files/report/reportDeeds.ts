import { parseJointAddress } from '../../model/address.ts'
import type { Defect } from '../../model/record/defects.ts'
import type { OhmOrOver } from '../../model/schema/record.ts'
import { formatInstant } from '../../text/instants.ts'
import { nameJointAt } from '../../text/jointNames.ts'
import { namePart } from '../../text/partNames.ts'
import type { NameBook } from '../../text/places.ts'
import {
  coatingWords,
  defectStateWords,
  describeFindings,
  describeStage,
  describeSpotOf,
  describeTorque,
  entrySortWords,
  formatReportOhm,
  outstandingWords,
  repairWords,
  reportTexts,
  stateWords,
} from '../../text/reportText.ts'
import { paragraph } from '../../text/sections.ts'
import { printable } from '../../text/where.ts'
import { tryingNames } from '../../text/checksText.ts'
import { heading, lines, table, type ReportBlock } from './reportBlocks.ts'
import { readingRow } from './reportReadings.ts'
import type { ReportChange, ReportData } from './reportTypes.ts'

const none = (text: string): ReportBlock => lines(paragraph(text))
const ohmText = (result: OhmOrOver | null) =>
  result === null
    ? ''
    : formatReportOhm(
        result.form === 'ohm' ? result.ohm : null,
        result.form === 'over' ? result.atLeastOhm : null,
        null,
      )

export function jointsBlocks(data: ReportData, book: NameBook): readonly ReportBlock[] {
  const { looks, repairs, notes } = data
  return [
    looks.length === 0
      ? none(reportTexts.noLooks)
      : table(
          'Looks',
          [
            { title: 'When', share: 0.15 },
            { title: 'Joint', share: 0.35 },
            { title: 'Found', share: 0.2 },
            { title: 'Torque', share: 0.15 },
            { title: 'Note' },
          ],
          looks.map((look) => ({
            key: look.id,
            cells: [
              formatInstant(look.at),
              nameJointAt(book, look.joint),
              describeFindings(look),
              describeTorque(look),
              printable(look.note, 1000),
            ],
          })),
        ),
    repairs.length === 0
      ? none(reportTexts.noRepairs)
      : table(
          'Repairs',
          [
            { title: 'When', share: 0.15 },
            { title: 'Joint', share: 0.35 },
            { title: 'Done', share: 0.14 },
            { title: 'By', share: 0.12 },
            { title: 'Coating', share: 0.1 },
            { title: 'Note' },
          ],
          repairs.map((repair) => ({
            key: repair.id,
            cells: [
              formatInstant(repair.at),
              nameJointAt(book, repair.joint),
              [repairWords[repair.done], repair.torqueSetNm === null ? '' : `${repair.torqueSetNm} N·m`]
                .filter((text) => text !== '')
                .join(', '),
              printable(repair.by, 200),
              coatingWords[repair.coating],
              printable(repair.note, 1000),
            ],
          })),
        ),
    retestsBlock(data, book),
    ...(notes.length === 0
      ? []
      : [
          table(
            'Notes',
            [{ title: 'When', share: 0.15 }, { title: 'About', share: 0.25 }, { title: 'Note' }],
            notes.map(({ id, at, about, text }) => ({
              key: id,
              cells: [formatInstant(at), about === null ? '' : nameAbout(book, about), printable(text, 2000)],
            })),
          ),
        ]),
  ]
}

function nameAbout(book: NameBook, address: string): string {
  return parseJointAddress(address) ? nameJointAt(book, address) : namePart(book, address)
}

/** What was read again, and what was tried; the readings themselves are among all others. */
function retestsBlock({ retests, site }: ReportData, book: NameBook): ReportBlock {
  if (retests.length === 0) return none(reportTexts.noRetests)
  const first = new Map(site.record.map((entry) => [entry.id, entry]))
  return table(
    'Retests',
    [
      { title: 'No.', isNumber: true, share: 0.06 },
      { title: 'Where', share: 0.36 },
      { title: 'First read', isNumber: true, share: 0.15 },
      { title: 'Read again', isNumber: true, share: 0.15 },
      { title: 'Tried' },
    ],
    retests.map((retest) => {
      const { repeats, trying } = retest.reading
      const earlier = first.get(repeats ?? '')
      const row = readingRow(retest, book)
      return {
        key: retest.entry,
        cells: [
          row.cells[0],
          row.cells[2],
          ohmText(earlier?.entry === 'reading' ? earlier.result : null),
          row.cells[3],
          trying === null ? '' : tryingNames[trying],
        ],
      }
    }),
  )
}

export function defectsBlocks({ defects }: ReportData, book: NameBook): readonly ReportBlock[] {
  if (defects.length === 0) return [none(reportTexts.noDefects)]
  return [
    table(
      'Defects and what became of them',
      [
        { title: 'No.', share: 0.07 },
        { title: 'Joint', share: 0.28 },
        { title: 'State', share: 0.12 },
        { title: 'Steps', share: 0.2 },
        { title: 'Still to do', share: 0.17 },
        { title: 'Note' },
      ],
      defects.map((one) => defectRow(one, book)),
    ),
  ]
}

function defectRow(
  { defect, label, state, joints, history, outstanding, withdrawnBy }: Defect,
  book: NameBook,
) {
  const notes = [defect.note, ...history.map(({ step }) => step.note)]
  return {
    key: defect.id,
    cells: [
      label,
      joints.map((joint) => nameJointAt(book, joint)).join('; '),
      withdrawnBy === null ? defectStateWords[state] : stateWords.withdrawn,
      history
        .map(({ step, overturnedBy }) =>
          describeStage(formatInstant(step.at), step.state, overturnedBy.length > 0),
        )
        .join('; '),
      outstanding.map(({ what }) => outstandingWords[what]).join('; '),
      notes
        .filter((note) => note.trim() !== '')
        .map((note) => printable(note, 1000))
        .join('; '),
    ],
    ...(withdrawnBy === null ? {} : { mark: 'struck' as const }),
  }
}

export function changesBlocks(data: ReportData, book: NameBook): readonly ReportBlock[] {
  const { changes, withdrawn, signatures, site } = data
  const added = new Set(signatures.flatMap(({ reopenedBy }) => reopenedBy))
  const late = site.record.filter(({ id }) => added.has(id))
  return [
    changes.length === 0
      ? none(reportTexts.noChanges)
      : table(
          'Corrections and withdrawals',
          [
            { title: 'When', share: 0.14 },
            { title: 'Of', share: 0.16 },
            { title: 'First', isNumber: true, share: 0.14 },
            { title: 'Now', share: 0.24 },
            { title: 'Reason' },
          ],
          changes.map(changeRow),
        ),
    ...(withdrawn.length === 0
      ? []
      : [
          table(
            'Readings that were withdrawn',
            [
              { title: 'No.', isNumber: true, share: 0.06 },
              { title: 'When', share: 0.16 },
              { title: 'Where', share: 0.5 },
              { title: 'Read', isNumber: true },
            ],
            withdrawn.map((one) => {
              const { key, cells, mark } = readingRow(one, book)
              return { key, cells: cells.slice(0, 4), ...(mark && { mark }) }
            }),
          ),
        ]),
    ...(late.length === 0
      ? []
      : [
          heading('Added after signing'),
          table(
            'Entries that changed or joined what was signed',
            [{ title: 'When', share: 0.2 }, { title: 'What' }],
            late.map(({ id, at, entry }) => ({
              key: id,
              cells: [formatInstant(at), entrySortWords[entry] ?? entry],
            })),
          ),
        ]),
  ]
}

function changeRow({ entry, number, ofSort, first, now, movedFrom, movedTo, isTakenBack }: ReportChange) {
  const about =
    number === null ? (entrySortWords[ofSort] ?? 'an entry that is not here') : `reading ${number}`
  const changed =
    entry.entry === 'withdrawal'
      ? 'withdrawn'
      : [
          ohmText(now),
          movedFrom ? `from ${describeSpotOf(movedFrom)}` : '',
          movedTo ? `to ${describeSpotOf(movedTo)}` : '',
        ]
          .filter((text) => text !== '')
          .join('; ')
  return {
    key: entry.id,
    cells: [
      formatInstant(entry.at),
      about,
      ohmText(first),
      `${changed}${isTakenBack ? ' (taken back later)' : ''}`,
      printable(entry.reason, 1000),
    ],
  }
}
