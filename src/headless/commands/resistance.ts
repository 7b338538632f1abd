import type { ResistanceAnswer } from '../../model/answers.ts'
import type { Site } from '../../model/schema/site.ts'
import { formatOhm, formatOhmSpread } from '../../text/ohms.ts'
import { namePart } from '../../text/partNames.ts'
import { describePath } from '../../text/pathText.ts'
import { openNameBook } from '../../text/places.ts'
import { ask } from '../ask.ts'
import { done, failed, type Call, type Command, type Outcome } from '../command.ts'
import { jsonOption, networkInput, networkOptions } from '../commonOptions.ts'
import { toJson } from '../json.ts'
import { Page } from '../page.ts'
import { writeCaution, writeNotes } from '../pageEnd.ts'
import { readSite } from '../readSite.ts'

export const resistance: Command = {
  name: 'resistance',
  summary: 'Resistance between two parts: of the median network, and what sound joints would read.',
  operands: ['FILE', 'FROM', 'TO'],
  options: [...networkOptions, jsonOption],
  run: runResistance,
}

async function runResistance({ operands: [file, from, to], options, io }: Call): Promise<Outcome> {
  const site = await readSite(file, io.input)
  if (!site.ok) return failed(site.error)
  const input = { ...networkInput(options), from, to }
  const answer = ask('resistance', input, site.value, file)
  if (!answer.ok) return failed(answer.error)
  if (options.has('json')) {
    await io.out.write(`${toJson(answer.value, 2)}\n`)
    return done
  }
  const page = new Page(io.style)
  page.title('Resistance')
  writeResistance(page, answer.value, site.value)
  writeNotes(page, answer.value.notes, site.value.drawing, input.asBuilt)
  writeCaution(page)
  await io.out.write(page.toString())
  return done
}

/** The ends, the path and the ohms of a pair. */
export function writeResistance(page: Page, answer: ResistanceAnswer, site: Site): void {
  const book = openNameBook(site.drawing)
  const part = (address: string) => `${namePart(book, address)} (${address})`
  page.facts([
    ['From', part(answer.from)],
    ['To', part(answer.to)],
    ['Median network', formatOhm(answer.resistanceOhm)],
    ['Sound joints would read', formatOhmSpread(answer.expectedOhm, answer.spreadOhm)],
  ])
  page.text(describePath(answer.path, book.words))
}
