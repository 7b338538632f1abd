import type { NextAnswer } from '../../model/answers.ts'
import { describeNext } from '../../text/nextText.ts'
import { openNameBook, type NameBook } from '../../text/places.ts'
import { ask } from '../ask.ts'
import { failed, type Call, type Command, type Outcome } from '../command.ts'
import { readCount } from '../commandLine.ts'
import { jsonOption, networkInput, networkOptions } from '../commonOptions.ts'
import { toJson } from '../json.ts'
import { Page } from '../page.ts'
import { writeCaution } from '../pageEnd.ts'
import { readSite } from '../readSite.ts'

export const next: Command = {
  name: 'next',
  summary: 'What to read, repeat or look at next, by what it says for the minutes it takes.',
  operands: ['FILE'],
  options: [
    ...networkOptions,
    { name: 'top', value: 'N', help: 'at most N actions; as text three, as JSON all where left out' },
    jsonOption,
  ],
  run: runNext,
}

const mostAsText = 3

async function runNext({ operands: [file], options, io }: Call): Promise<Outcome> {
  const top = readCount(next, options, 'top')
  if (!top.ok) return failed([top.error])
  const site = await readSite(file, io.input)
  if (!site.ok) return failed(site.error)
  const answered = ask('next', networkInput(options), site.value, file)
  if (!answered.ok) return failed(answered.error)
  const text = options.has('json')
    ? `${toJson(withTop(answered.value, top.value ?? Infinity), 2)}\n`
    : nextPage(withTop(answered.value, top.value ?? mostAsText), site.value.drawing, new Page(io.style))
  await io.out.write(text)
  return { exit: answered.value.stop === 'noReadings' ? 1 : 0 }
}

function withTop(answer: NextAnswer, most: number): NextAnswer {
  return { ...answer, actions: answer.actions.slice(0, most) }
}

function nextPage(answer: NextAnswer, drawing: NameBook['drawing'], page: Page): string {
  page.sections(describeNext(answer, openNameBook(drawing)))
  writeCaution(page)
  return page.toString()
}
