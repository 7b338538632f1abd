import { effectiveRecord } from '../../model/record/effectiveRecord.ts'
import { describeAnswer, openComparisonBook } from '../../text/comparisonText.ts'
import { openNameBook } from '../../text/places.ts'
import { ask } from '../ask.ts'
import { failed, type Call, type Command, type Outcome } from '../command.ts'
import { jsonOption, networkInput, networkOptions } from '../commonOptions.ts'
import { toJson } from '../json.ts'
import { Page } from '../page.ts'
import { writeCaution } from '../pageEnd.ts'
import { readSite } from '../readSite.ts'

export const compare: Command = {
  name: 'compare',
  summary: 'Hold every reading against those that should read alike, in its visit and in earlier ones.',
  operands: ['FILE'],
  options: [...networkOptions, jsonOption],
  run: runCompare,
}

async function runCompare({ operands: [file], options, io }: Call): Promise<Outcome> {
  const site = await readSite(file, io.input)
  if (!site.ok) return failed(site.error)
  const answered = ask('compare', networkInput(options), site.value, file)
  if (!answered.ok) return failed(answered.error)
  const answer = answered.value
  const page = new Page(io.style)
  if (!options.has('json')) {
    const record = effectiveRecord(site.value.record).map(({ entry }) => entry)
    page.sections(describeAnswer(answer, openComparisonBook(openNameBook(site.value.drawing), record)))
    writeCaution(page)
  }
  await io.out.write(options.has('json') ? `${toJson(answer, 2)}\n` : page.toString())
  return { exit: answer.groups.length === 0 ? 1 : 0 }
}
