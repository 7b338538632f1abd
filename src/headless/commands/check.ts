import { notValid } from '../../engine/answerCheck.ts'
import type { CheckAnswer } from '../../model/answers.ts'
import type { Drawing } from '../../model/schema/drawing.ts'
import { problemLine } from '../../text/problems.ts'
import { formatCount, formatCounted } from '../../text/units.ts'
import { printable } from '../../text/where.ts'
import { ask } from '../ask.ts'
import { failed, type Call, type Command, type Outcome } from '../command.ts'
import { jsonOption, networkInput, networkOptions } from '../commonOptions.ts'
import { toJson } from '../json.ts'
import { Page } from '../page.ts'
import { writeCaution, writeNotes } from '../pageEnd.ts'
import { readBytes, shownName } from '../readSite.ts'
import { openSite } from '../../files/openSite.ts'

export const check: Command = {
  name: 'check',
  summary: 'Say whether a site file is valid, and count what it holds.',
  operands: ['FILE'],
  options: [...networkOptions, jsonOption],
  run: runCheck,
}

async function runCheck({ operands: [file], options, io }: Call): Promise<Outcome> {
  const bytes = await readBytes(file, io.input)
  if (!bytes.ok) return failed([bytes.error])
  const opened = openSite(bytes.value, shownName(file))
  const input = networkInput(options)
  const answered = opened.ok ? ask('check', input, opened.value, file) : null
  if (answered && !answered.ok) return failed(answered.error)
  const answer = answered ? answered.value : notValid(opened.ok ? [] : opened.error)
  const drawing = opened.ok ? opened.value.drawing : null
  const text = options.has('json')
    ? `${toJson(answer, 2)}\n`
    : checkPage(answer, file, drawing, input.asBuilt, new Page(io.style))
  await io.out.write(text)
  return { exit: answer.valid ? 0 : 1 }
}

function checkPage(
  answer: CheckAnswer,
  file: string,
  drawing: Drawing | null,
  asBuilt: boolean,
  page: Page,
): string {
  const name = printable(answer.name)
  page.title(name === '' ? shownName(file) : `${shownName(file)}: ${name}`)
  page.text(verdict(answer))
  for (const problem of answer.problems) page.text(problemLine(problem), 1)
  if (!answer.valid || !drawing) return page.toString()
  page.title('What it holds')
  page.facts([
    ['Rows', formatCount(answer.rows)],
    ['Tables', formatCount(answer.tables)],
    ['Parts', formatCount(answer.parts)],
    ['Joints and paths through soil', formatCount(answer.joints)],
    ['Metal sections', formatCount(answer.metalSections)],
    ['Electrical islands', formatCount(answer.electricalIslands)],
    ['Visits', formatCount(answer.visits)],
    ['Readings', formatCount(answer.readings)],
  ])
  if (answer.metalSections > 1)
    page.text(
      `${formatCounted(answer.metalSections, 'metal section')} are not bonded together, whatever soil lets through.`,
    )
  writeNotes(page, answer.notes, drawing, asBuilt)
  writeCaution(page)
  return page.toString()
}

function verdict({ valid, problems }: CheckAnswer): string {
  const many = problems.length >= 50 ? `at least ${problems.length}` : String(problems.length)
  if (!valid) return `Not valid: ${many} ${problems.length === 1 ? 'problem' : 'problems'}.`
  return problems.length === 0 ? 'Valid.' : `Valid, with ${formatCounted(problems.length, 'thing')} to know:`
}
