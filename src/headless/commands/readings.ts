import {
  countReadings,
  readingHeads,
  readingLines,
  readingsOfVisit,
  writeReadings,
} from '../../files/readings/writeReadings.ts'
import { readingRows } from '../../state/readingRows.ts'
import { verdictsOf } from '../../state/readingLook.ts'
import { saidOfReadings } from '../../state/saidOfReadings.ts'
import { ask } from '../ask.ts'
import { chosenVisit, visitOption } from '../chosenVisits.ts'
import { failed, type Call, type Command, type Outcome } from '../command.ts'
import { asFound, jsonOption } from '../commonOptions.ts'
import { toJson } from '../json.ts'
import { readSite } from '../readSite.ts'
import { writeTo } from '../toPlace.ts'

export const readings: Command = {
  name: 'readings',
  summary: 'Write the list of readings as CSV, with what is said of each; it can be imported again.',
  operands: ['FILE'],
  options: [
    visitOption,
    { name: 'out', value: 'FILE.csv', help: 'write it there instead of on standard output' },
    { ...jsonOption, help: 'a list of objects whose keys are the headings of the CSV' },
  ],
  run: runReadings,
}

async function runReadings({ operands: [file], options, io }: Call): Promise<Outcome> {
  const read = await readSite(file, io.input)
  if (!read.ok) return failed(read.error)
  const site = read.value
  const visit = chosenVisit(readings, options, site)
  if (!visit.ok) return failed([visit.error])
  const located = ask('locate', asFound, site, file)
  if (!located.ok) return failed(located.error)
  const judged = ask('judge', asFound, site, file)
  if (!judged.ok) return failed(judged.error)
  const verdicts = verdictsOf(located.value, judged.value)
  const which = {
    only: visit.value ? readingsOfVisit(site.record, visit.value.id) : null,
    said: saidOfReadings(readingRows(site, verdicts), verdicts),
  }
  const outcome = await writeTo(readings, 'out', options.get('out'), [file], io, async (output) => {
    if (options.has('json')) {
      const all = [...readingLines(site, which)].map(({ cells }) =>
        Object.fromEntries(readingHeads.map((head, k) => [head, cells[k]])),
      )
      await output.write(`${toJson(all, 2)}\n`)
      return
    }
    for (const { text } of writeReadings(site, { ...which, hasMark: false })) await output.write(text)
  })
  const count = which.only === null ? countReadings(site.record) : which.only.size
  return outcome.exit === 0 && count === 0 ? { exit: 1 } : outcome
}
