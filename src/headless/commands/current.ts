import { emptySiteCache } from '../../engine/siteCache.ts'
import { present } from '../../base/assert.ts'
import { fail, ok, type Result } from '../../base/result.ts'
import { indexSite } from '../../layout/siteIndex.ts'
import type { SiteIndex } from '../../layout/siteIndex.ts'
import type { FaultAnswer, FaultInput, FaultSweepAnswer } from '../../model/faultAnswers.ts'
import { problem, type Problem } from '../../model/problem.ts'
import { byId } from '../../model/queries/byId.ts'
import type { FaultSource } from '../../model/schema/faults.ts'
import type { Site } from '../../model/schema/site.ts'
import { passesThroughSoil } from '../../model/throughSoil.ts'
import { describeTouch } from '../../text/faultBodyText.ts'
import { describeDevice, describeInsulation } from '../../text/faultDeviceText.ts'
import { describeLimit, faultFacts, formatFaultAmpere, nameFaultRole } from '../../text/faultFlowText.ts'
import { faultCaution } from '../../text/faultRuleText.ts'
import { nameJoint } from '../../text/jointNames.ts'
import { formatVolt } from '../../text/ohms.ts'
import { namePart } from '../../text/partNames.ts'
import { openNameBook, type NameBook } from '../../text/places.ts'
import { formatCount, formatCounted } from '../../text/units.ts'
import { ask } from '../ask.ts'
import { done, failed, usageOf, type Call, type Command, type Outcome } from '../command.ts'
import { readCount } from '../commandLine.ts'
import { jsonOption, networkInput, networkOptions } from '../commonOptions.ts'
import { faultOptions, readQuestion } from '../faultOptions.ts'
import { askGround, readPlace, writeGround } from '../faultGround.ts'
import { faultDocument, jointAmperes, partVolts } from '../faultTables.ts'
import { toJson } from '../json.ts'
import { Page } from '../page.ts'
import { writeCaution, writeNotes } from '../pageEnd.ts'
import { readSite } from '../readSite.ts'

const listed = 10

export const current: Command = {
  name: 'current',
  summary:
    'Where the current of a fault goes: amperes and volts, which device acts, what one who touches carries.',
  operands: ['FILE'],
  options: [
    ...faultOptions,
    {
      name: 'stand',
      value: 'PLACE',
      help: 'somebody on bare ground: at X,Y in metres, or one metre from this part',
    },
    { name: 'losses', value: null, help: 'lose every joint in turn: which loss does most' },
    { name: 'top', value: 'N', help: `at most N lines a table; ${listed} where left out` },
    ...networkOptions,
    jsonOption,
  ],
  run: runCurrent,
}

async function runCurrent({ operands: [file], options, io }: Call): Promise<Outcome> {
  const top = readCount(current, options, 'top')
  if (!top.ok) return failed([top.error])
  const site = await readSite(file, io.input)
  if (!site.ok) return failed(site.error)
  const source = chooseSource(site.value, options.get('source'))
  if (!source.ok) return failed([source.error])
  const question = readQuestion(options, source.value)
  if (!question.ok)
    return failed([problem('command.usage', { usage: usageOf(current), reason: question.error })])
  const input: FaultInput = { ...networkInput(options), ...question.value }
  const cache = emptySiteCache()
  const answer = ask('faultCurrent', input, site.value, file, cache)
  if (!answer.ok) return failed(answer.error)
  const place = readPlace(options.get('stand'))
  const ground = passesThroughSoil(answer.value) ? askGround(input, place, site.value, file, cache) : ok(null)
  if (!ground.ok) return failed(ground.error)
  const losses = options.has('losses') ? askLosses(input, site.value, file) : ok(null)
  if (!losses.ok) return failed(losses.error)
  const indexed = indexSite(site.value.drawing)
  const index = present(indexed.ok ? indexed.value : null, 'a site that compiles can be indexed')
  if (options.has('json')) {
    await io.out.write(
      `${toJson(faultDocument(answer.value, index, losses.value, ground.value && ground.value.answer), 2)}\n`,
    )
    return done
  }
  const page = new Page(io.style)
  const view = {
    page,
    site: site.value,
    index,
    book: openNameBook(site.value.drawing),
    most: top.value ?? listed,
  }
  writeFault(view, input, answer.value)
  writeGround(view, input, answer.value, ground.value)
  if (losses.value) writeLosses(view, losses.value)
  writeNotes(page, answer.value.notes, site.value.drawing, input.asBuilt)
  writeCaution(page)
  page.text(faultCaution)
  await io.out.write(page.toString())
  return done
}

/** The source that is named, or the only one there is. */
function chooseSource({ drawing }: Site, named: string | true | undefined): Result<FaultSource, Problem> {
  const { sources } = drawing
  const wrong = (reason: string) => fail(problem('command.usage', { usage: usageOf(current), reason }))
  if (typeof named === 'string') {
    const found = byId<string, FaultSource>(sources).get(named)
    return found ? ok(found) : fail(problem('reference.unknownName', { what: 'source', name: named }))
  }
  if (sources.length === 1) return ok(sources[0])
  return sources.length === 0
    ? wrong('the drawing has no source: add one to it first')
    : wrong(`--source is missing; there are ${sources.map(({ id }) => id).join(', ')}`)
}

/** With the touched parts as a watched pair, where both hands touch. */
function askLosses({ person, ...input }: FaultInput, site: Site, file: string) {
  const watched = person?.other ? [{ from: person.hand, to: person.other }] : []
  return ask('faultSweep', { ...input, watched }, site, file)
}

interface View {
  readonly page: Page
  readonly site: Site
  readonly index: SiteIndex
  readonly book: NameBook
  readonly most: number
}

function writeFault({ page, site, index, book, most }: View, input: FaultInput, answer: FaultAnswer): void {
  const { units } = site.drawing.facts
  const part = (address: string) => `${namePart(book, address)} (${address})`
  page.title(`Fault of ${input.drive.source.name || input.drive.source.id} at ${part(input.at)}`)
  page.facts(faultFacts(answer, units))
  page.text(describeLimit(answer.limitedBy, units))

  page.title('Into the bond network')
  page.table(
    [{ title: 'At' }, { title: 'Part' }, { title: 'Current', align: 'right' }],
    answer.ports.map((port) => [
      nameFaultRole(port.role, units),
      part(port.part),
      formatFaultAmpere(port.currentA),
    ]),
  )

  const joints = jointAmperes(answer, index, most)
  if (joints.count > 0) {
    page.title('Joints')
    page.table(
      [{ title: 'Joint' }, { title: 'Where' }, { title: 'Current', align: 'right' }],
      joints.rows.map(({ joint, currentA }) => [joint, nameJoint(book, joint), formatFaultAmpere(currentA)]),
    )
    const left = joints.count - joints.rows.length
    page.text(
      `${formatCounted(joints.count, 'joint')} carry current` +
        `${left > 0 ? `; ${formatCount(left)} more are not listed (--top)` : ''}. A current is positive from the first ` +
        `to the second part of its joint. Currents balance at every part to ${answer.residual.toExponential(0)}.`,
    )
  }

  page.title('Parts')
  page.table(
    [{ title: 'Part' }, { title: 'Where' }, { title: 'Volts', align: 'right' }],
    partVolts(answer, index, most).map(({ part: address, volt }) => [
      address,
      namePart(book, address),
      formatVolt(volt),
    ]),
  )

  if (answer.devices.length > 0 || answer.insulation) {
    page.title('Who notices')
    const names = byId<string, { id: string; name: string }>(site.drawing.devices)
    for (const acts of answer.devices) {
      for (const line of describeDevice(names.get(acts.device)?.name || acts.device, acts, units))
        page.line(line)
    }
    if (answer.insulation) page.text(describeInsulation(answer.insulation, units))
  }
  if (answer.person) {
    page.title('Who touches')
    for (const line of describeTouch(answer.person, units)) page.line(line)
  }
}

function writeLosses({ page, book, most }: View, losses: FaultSweepAnswer): void {
  page.title('If one joint more were missing')
  page.table(
    [
      { title: 'Joint' },
      { title: 'Where' },
      { title: 'Across it', align: 'right' },
      { title: 'Current left', align: 'right' },
    ],
    losses.worst
      .slice(0, most)
      .map(({ joint, acrossV, leftA }) => [
        joint,
        nameJoint(book, joint),
        formatVolt(acrossV),
        formatFaultAmpere(leftA),
      ]),
  )
  page.text(
    losses.stops === 0
      ? 'The loss of no single joint stops the current.'
      : `The loss of ${losses.stops === 1 ? 'one joint' : `any of ${formatCount(losses.stops)} joints`} stops the current.`,
  )
  for (const { from, to, soundV, mostV, joint } of losses.watched) {
    const pair = `${namePart(book, from)} and ${namePart(book, to)}`
    page.text(
      joint === null
        ? `Between ${pair} no loss makes more than ${formatVolt(soundV)}.`
        : `Between ${pair} ${formatVolt(soundV)} become ${formatVolt(mostV)} at most, without ${nameJoint(book, joint)} (${joint}).`,
    )
  }
}
