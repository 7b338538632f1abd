import type { CurrentsAnswer } from '../../model/answers.ts'
import type { Site } from '../../model/schema/site.ts'
import { nameJoint, nameKind } from '../../text/jointNames.ts'
import { formatOhm, formatVolt } from '../../text/ohms.ts'
import { openNameBook } from '../../text/places.ts'
import { formatCount, formatCounted, formatPerAmpere } from '../../text/units.ts'
import { ask } from '../ask.ts'
import { done, failed, type Call, type Command, type Outcome } from '../command.ts'
import { readCount } from '../commandLine.ts'
import { jsonOption, networkInput, networkOptions } from '../commonOptions.ts'
import { toJson } from '../json.ts'
import { Page } from '../page.ts'
import { writeCaution, writeNotes } from '../pageEnd.ts'
import { readSite } from '../readSite.ts'
import { writeResistance } from './resistance.ts'

const listed = 20

export const currents: Command = {
  name: 'currents',
  summary: 'Where one ampere between two parts flows: current and volts of every joint, largest first.',
  operands: ['FILE', 'FROM', 'TO'],
  options: [
    ...networkOptions,
    { name: 'top', value: 'N', help: `at most N joints; ${listed} as text, all as JSON where left out` },
    jsonOption,
  ],
  run: runCurrents,
}

async function runCurrents({ operands: [file, from, to], options, io }: Call): Promise<Outcome> {
  const top = readCount(currents, options, 'top')
  if (!top.ok) return failed([top.error])
  const site = await readSite(file, io.input)
  if (!site.ok) return failed(site.error)
  const most = top.value ?? (options.has('json') ? undefined : listed)
  const input = { ...networkInput(options), from, to, ...(most !== undefined && { most }) }
  const answer = ask('currents', input, site.value, file)
  if (!answer.ok) return failed(answer.error)
  if (options.has('json')) {
    await io.out.write(`${toJson(answer.value, 2)}\n`)
    return done
  }
  const page = new Page(io.style)
  page.title('Currents per ampere through the pair')
  writeResistance(page, answer.value, site.value)
  writeCurrents(page, answer.value, site.value)
  writeNotes(page, answer.value.notes, site.value.drawing, input.asBuilt)
  writeCaution(page)
  await io.out.write(page.toString())
  return done
}

function writeCurrents(
  page: Page,
  { currents: list, jointsWithCurrent, residual }: CurrentsAnswer,
  site: Site,
): void {
  if (jointsWithCurrent === 0) return
  const book = openNameBook(site.drawing)
  page.title('Joints')
  page.table(
    [
      { title: 'Joint' },
      { title: 'Where' },
      { title: 'Kind' },
      { title: 'A per A', align: 'right' },
      { title: 'Median', align: 'right' },
      { title: 'Drop per A', align: 'right' },
    ],
    list.map(({ joint, kind, perAmpere, ohm, voltPerAmpere }) => [
      joint,
      nameJoint(book, joint),
      nameKind(book, kind),
      formatPerAmpere(perAmpere),
      formatOhm(ohm),
      formatVolt(voltPerAmpere),
    ]),
  )
  const left = jointsWithCurrent - list.length
  page.text(
    `${formatCounted(jointsWithCurrent, 'joint')} carry current` +
      `${left > 0 ? `; ${formatCount(left)} more are not listed (--top)` : ''}. ` +
      `A current is positive from the first to the second part of its joint. ` +
      `Currents balance at every part to ${residual.toExponential(0)} of what flows there.`,
  )
}
