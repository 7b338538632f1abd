import type { LocateAnswer, ReadingVerdict } from '../../model/answers.ts'
import { formatRead } from '../../text/evidenceText.ts'
import { chanceBeyond } from '../../text/panelText.ts'
import { describeLocate } from '../../text/locateText.ts'
import { formatRoughOhm } from '../../text/ohms.ts'
import { openNameBook, type NameBook } from '../../text/places.ts'
import { nameReadingPlace } from '../../text/readingPlace.ts'
import { ask } from '../ask.ts'
import { failed, type Call, type Command, type Outcome } from '../command.ts'
import { readCount } from '../commandLine.ts'
import { jsonOption, networkInput, networkOptions } from '../commonOptions.ts'
import { toJson } from '../json.ts'
import { Page } from '../page.ts'
import { writeCaution, writeNotes } from '../pageEnd.ts'
import { readSite } from '../readSite.ts'

export const locate: Command = {
  name: 'locate',
  summary: 'Rank the joints that may be bad from the readings on file, with the evidence for and against.',
  operands: ['FILE'],
  options: [
    ...networkOptions,
    {
      name: 'top',
      value: 'N',
      help: 'at most N suspects or groups of them; as text, those of 1 % and more where left out',
    },
    jsonOption,
  ],
  run: runLocate,
}

async function runLocate({ operands: [file], options, io }: Call): Promise<Outcome> {
  const top = readCount(locate, options, 'top')
  if (!top.ok) return failed([top.error])
  const site = await readSite(file, io.input)
  if (!site.ok) return failed(site.error)
  const input = networkInput(options)
  const answered = ask('locate', input, site.value, file)
  if (!answered.ok) return failed(answered.error)
  const answer = answered.value
  const text = options.has('json')
    ? `${toJson(withTop(answer, top.value), 2)}\n`
    : locatePage(answer, top.value, site.value.drawing, input.asBuilt, new Page(io.style))
  await io.out.write(text)
  return { exit: answer.headline === 'noReadings' ? 1 : 0 }
}

/** Groups that are left out count as other. */
function withTop(answer: LocateAnswer, most: number | undefined): LocateAnswer {
  if (most === undefined) return answer
  return {
    ...answer,
    groups: answer.groups.slice(0, most),
    otherProbability: chanceBeyond(answer, most),
  }
}

function locatePage(
  answer: LocateAnswer,
  groups: number | undefined,
  drawing: NameBook['drawing'],
  asBuilt: boolean,
  page: Page,
): string {
  const book = openNameBook(drawing)
  page.sections(describeLocate({ ...answer, notes: [] }, book, groups === undefined ? {} : { groups }))
  if (answer.readings.length > 0) {
    page.title('All readings')
    writeReadings(page, answer, book)
  }
  writeNotes(page, answer.notes, drawing, asBuilt)
  writeCaution(page)
  return page.toString()
}

const verdictWords: Readonly<Record<ReadingVerdict, string>> = {
  inLine: 'in line',
  highBySuspect: 'high: suspect',
  poorContact: 'poor contact',
  highUnexplained: 'high',
  tooLow: 'too low',
  overRange: 'over range',
  noMetalPath: 'no metal path',
  setAside: 'set aside',
}

function writeReadings(page: Page, answer: LocateAnswer, book: NameBook): void {
  page.table(
    [
      { title: 'No.', align: 'right' },
      { title: 'Where' },
      { title: 'Read', align: 'right' },
      { title: 'Expected', align: 'right' },
      { title: '±', align: 'right' },
      { title: 'Finding' },
    ],
    answer.readings.map((reading, k) => {
      const { expectedOhm, spreadOhm, verdict } = reading
      const isPredicted = verdict !== 'setAside'
      return [
        String(k + 1),
        nameReadingPlace(book, reading),
        formatRead(answer, reading),
        isPredicted ? formatRoughOhm(expectedOhm) : '',
        isPredicted && Number.isFinite(spreadOhm) ? formatRoughOhm(spreadOhm) : '',
        verdictWords[verdict],
      ]
    }),
  )
}
