import { randomUUID } from 'node:crypto'
import { decodeText } from '../../files/decodeText.ts'
import { planReadings, type ReadingPlan } from '../../files/readings/planReadings.ts'
import {
  guessReadingChoices,
  linesOf,
  type ReadingChoices,
  type ReadingTarget,
} from '../../files/readings/readingChoices.ts'
import { readingRoles } from '../../files/readings/readingColumns.ts'
import { siteFileBytes } from '../../files/saveSite.ts'
import { readCells, type Cells } from '../../files/tables/readCells.ts'
import { indexSite } from '../../layout/siteIndex.ts'
import type { Problem } from '../../model/problem.ts'
import { problem } from '../../model/problem.ts'
import type { Site } from '../../model/schema/site.ts'
import { listEntries } from '../../state/listEntries.ts'
import { deviceZone, listTarget, newVisit } from '../../state/listTarget.ts'
import { describeResult } from '../../text/entryText.ts'
import { formatInstant } from '../../text/instants.ts'
import { openNameBook } from '../../text/places.ts'
import { problemLine } from '../../text/problems.ts'
import {
  describeAllOrNothing,
  describeList,
  describeListWritten,
  listName,
  readingColumnWords,
} from '../../text/readingListText.ts'
import { nameReadingPlace } from '../../text/readingPlace.ts'
import { printable } from '../../text/where.ts'
import { chosenVisit } from '../chosenVisits.ts'
import { failed, usageOf, type Call, type Command, type Outcome } from '../command.ts'
import { jsonOption } from '../commonOptions.ts'
import { toJson } from '../json.ts'
import { Page } from '../page.ts'
import { readBytes, readSite, shownName } from '../readSite.ts'
import { toEnd } from '../toEnd.ts'
import { writeTo } from '../toPlace.ts'

const words = {
  unit: { ohm: 'Ω', mohm: 'mΩ', uohm: 'µΩ' },
  decimal: { point: 'point', comma: 'comma' },
  dates: { 'day-first': 'dayFirst', 'month-first': 'monthFirst' },
  ends: { addresses: 'addresses', names: 'names' },
} as const

export const importReadings: Command = {
  name: 'import-readings',
  summary:
    'Read a list of readings against a site: a preview, and with --write the site file with all of them.',
  operands: ['FILE', 'LIST.csv'],
  options: [
    {
      name: 'write',
      value: 'OUT.json',
      help: 'write the site with the readings there; nothing is written while a line is rejected',
    },
    {
      name: 'visit',
      value: 'N',
      help: 'into the N-th visit of the record; without it a visit is opened for the list',
    },
    {
      name: 'instrument',
      value: 'NAME',
      help: 'instrument of lines that name none; else the first of the visit',
    },
    { name: 'lead', value: 'NAME', help: 'lead of lines that name none; else the first of the visit' },
    { name: 'nulled', value: null, help: 'leads were nulled, for lines that do not say' },
    { name: 'unit', value: 'UNIT', help: 'ohm, mohm or uohm, for values that name none' },
    { name: 'decimal', value: 'MARK', help: 'point or comma, where the list does not show it' },
    { name: 'dates', value: 'ORDER', help: 'day-first or month-first, where the list does not show it' },
    { name: 'ends', value: 'WHAT', help: 'addresses or names, where what stands at an end may be either' },
    jsonOption,
  ],
  run: runImport,
}

/** All of a list or nothing: as long as one line is rejected, no file is written. */
async function runImport({ operands: [file, list], options, io }: Call): Promise<Outcome> {
  const wrong = (reason: string) =>
    failed([problem('command.usage', { usage: usageOf(importReadings), reason })])
  if (file === '-' && list === '-') return wrong('Only one of FILE and LIST.csv can come from standard input')
  if (options.get('write') === '-' && options.has('json'))
    return wrong('--json and --write - would both go to standard output')
  const read = await readSite(file, io.input)
  if (!read.ok) return failed(read.error)
  const site = read.value
  const visit = chosenVisit(importReadings, options, site)
  if (!visit.ok) return failed([visit.error])
  const target = listTarget(site, visit.value?.id ?? newVisit)
  const cells = await readList(list, io.input)
  if (!cells.ok) return failed([inList(cells.error, list)])
  const choices = chosen(guessReadingChoices(cells.value, target), target, options)
  if (typeof choices === 'string') return wrong(choices)
  const indexed = indexSite(site.drawing)
  if (!indexed.ok) return failed(indexed.error)
  const now = new Date()
  const plan = toEnd(
    planReadings({
      ...{ cells: cells.value, choices, target, index: indexed.value, record: site.record },
      ...{ zoneOf: deviceZone, nowMs: now.getTime() },
    }),
  )
  const isWhole = plan.rejected.length === 0 && plan.readings.length > 0
  const out = options.get('write')
  const page = () =>
    options.has('json')
      ? toJson(preview(plan, choices, cells.value, list), 2) + '\n'
      : pageOf(plan, choices, cells.value, site, new Page(io.style))
  if (!isWhole || typeof out !== 'string') {
    await io.out.write(page())
    return { exit: isWhole ? 0 : 1 }
  }
  const identity = {
    newId: () => randomUUID() as string,
    now: () => now.toISOString(),
    device: randomUUID() as string,
  }
  const name = listName(list === '-' ? 'standard input' : (list.split(/[\\/]/).at(-1) ?? list))
  const added = listEntries(site, identity, { readings: plan.readings, target, list: name, leftOut: null })
  const bytes = siteFileBytes({ ...site, record: [...site.record, ...added] })
  if (!bytes.ok) return failed([bytes.error])
  const outcome = await writeTo(importReadings, 'write', out, [file, list], io, (output) =>
    output.write(new TextDecoder().decode(bytes.value)),
  )
  if (out === '-' || outcome.exit !== 0) return outcome
  await io.out.write(page())
  if (!options.has('json')) await io.out.write(`\n${describeListWritten(plan.readings.length, out)}\n`)
  return outcome
}

async function readList(list: string, input: Call['io']['input']) {
  const bytes = await readBytes(list, input)
  if (!bytes.ok) return bytes
  const text = decodeText(bytes.value)
  return text.ok ? toEnd(readCells(text.value.text)) : text
}

function inList(found: Problem, list: string): Problem {
  return { ...found, where: { file: shownName(list), ...found.where } }
}

/** What was guessed of a list, with what the command line says of it; a reason where that cannot be. */
function chosen(
  guessed: ReadingChoices,
  target: ReadingTarget,
  options: Call['options'],
): ReadingChoices | string {
  const choices: { -readonly [K in keyof ReadingChoices]: ReadingChoices[K] } = { ...guessed }
  for (const [option, known] of Object.entries(words)) {
    const text = options.get(option)
    if (typeof text !== 'string') continue
    if (!Object.hasOwn(known, text))
      return `--${option} takes ${Object.keys(known).join(' or ')}, not “${printable(text, 40)}”`
  }
  const said = <K extends keyof typeof words>(option: K) => {
    const text = options.get(option)
    return typeof text === 'string' ? words[option][text as keyof (typeof words)[K]] : undefined
  }
  choices.unit = said('unit') ?? guessed.unit
  choices.marks = said('decimal') ?? guessed.marks
  choices.order = said('dates') ?? guessed.order
  choices.endsAre = said('ends') ?? guessed.endsAre
  choices.nulled = options.has('nulled')
  for (const [option, all, role] of [
    ['instrument', target.kits, 'kit'],
    ['lead', target.leads, 'lead'],
  ] as const) {
    const text = options.get(option)
    if (typeof text !== 'string') continue
    const found = all.filter(({ id, name }) => id === text || name.trim() === text.trim())
    if (found.length !== 1)
      return `There is no ${option} “${printable(text, 60)}” there; there are ${all.map(({ id, name }) => `“${printable(name, 60)}” (${id})`).join(', ') || 'none'}`
    choices[role] = found[0].id
  }
  return choices
}

const countsOf = (plan: ReadingPlan, choices: ReadingChoices, cells: Cells) => ({
  readings: plan.readings.length,
  rejected: plan.rejected.length,
  same: plan.same.length,
  withdrawn: plan.withdrawn.length,
  nullings: plan.readings.filter(({ nullsBefore }) => nullsBefore).length,
  total: linesOf(cells, choices).length,
})

function preview(plan: ReadingPlan, choices: ReadingChoices, cells: Cells, list: string) {
  return {
    ...countsOf(plan, choices, cells),
    lines: plan.readings.map(({ line, from, to, around, result, kit, lead, at }) => ({
      ...{ line, from: from.part, to: to.part, around, result, kit: kit.id, lead, at },
    })),
    rejectedLines: plan.rejected.map(({ line, problems }) => ({
      line: line.number,
      reasons: problems.map((found) => problemLine(inList(found, list))),
    })),
    sameLines: plan.same.map(({ number }) => number),
    withdrawnLines: plan.withdrawn.map(({ number }) => number),
  }
}

const mostShown = 8

function pageOf(plan: ReadingPlan, choices: ReadingChoices, cells: Cells, site: Site, page: Page): string {
  const book = openNameBook(site.drawing)
  page.title('What is in the list')
  page.text(describeList({ ...countsOf(plan, choices, cells), rejected: 0 }))
  if (plan.rejected.length > 0) page.text(describeAllOrNothing(plan.rejected.length))
  page.title('How it is read')
  const heading = (column: number) =>
    choices.firstLine === 'headings' ? printable(cells.header[column] ?? '', 60) : `column ${column + 1}`
  page.facts(
    readingRoles.flatMap((role) =>
      choices.columns[role] < 0 ? [] : [[readingColumnWords[role], heading(choices.columns[role])] as const],
    ),
  )
  if (plan.rejected.length > 0) {
    page.title('Rejected')
    for (const { problems } of plan.rejected) for (const found of problems) page.text(problemLine(found), 1)
  }
  if (plan.readings.length > 0) {
    page.title(plan.readings.length > mostShown ? `The first ${mostShown} readings` : 'Readings')
    page.table(
      [
        { title: 'Line', align: 'right' },
        { title: 'Pair' },
        { title: 'Read', align: 'right' },
        { title: 'Instrument' },
        { title: 'Time' },
      ],
      plan.readings
        .slice(0, mostShown)
        .map(({ line, method, around, from, to, result, kit, at }) => [
          String(line),
          nameReadingPlace(book, { method, around, from: from.part, to: to.part }),
          describeResult(result),
          printable(kit.name, 40),
          at === null ? 'now' : formatInstant(at),
        ]),
    )
  }
  return page.toString()
}
