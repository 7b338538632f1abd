import { csvLine } from '../../files/csvLine.ts'
import { siteFileBytes } from '../../files/saveSite.ts'
import { addPairs, addPlan, canAddPairs, canAddPlan } from '../../model/edits/plans.ts'
import { withRevision } from '../../model/edits/withRevision.ts'
import { freeSlug } from '../../model/freeSlug.ts'
import { defaultKits } from '../../model/kits.ts'
import { planPatterns, planSeverities, type PlanAnswer, type PlanInput } from '../../model/planning.ts'
import { fail, ok, type Result } from '../../base/result.ts'
import { problem, type Problem } from '../../model/problem.ts'
import type { Site } from '../../model/schema/site.ts'
import { openNameBook } from '../../text/places.ts'
import { describePlanList } from '../../text/planListText.ts'
import { inWords } from '../../text/units.ts'
import { quoted } from '../../text/where.ts'
import { ask } from '../ask.ts'
import { failed, usageOf, type Call, type Command, type Outcome } from '../command.ts'
import { jsonOption, networkInput, networkOptions } from '../commonOptions.ts'
import { toJson } from '../json.ts'
import { Page } from '../page.ts'
import { writeCaution } from '../pageEnd.ts'
import { readSite } from '../readSite.ts'
import { writeFile } from '../writeFile.ts'

const ways = ['proposed', ...planPatterns] as const

export const plan: Command = {
  name: 'plan',
  summary: 'Choose pairs to read, in the order of a walk, with a number that no plan goes below.',
  operands: ['FILE'],
  options: [
    { name: 'severity', value: 'WORD', help: `${planSeverities.join(', ')}; open where left out` },
    { name: 'how', value: 'WORD', help: `${ways.join(', ')}; proposed where left out` },
    { name: 'tell-apart', value: 'PART', help: 'from 0, show only, to 1, tell all apart; 0 where left out' },
    { name: 'twice', value: null, help: 'every joint is to show in two pairs' },
    { name: 'minutes', value: 'N', help: 'the best of what fits into so many minutes' },
    { name: 'persons', value: '1|2', help: 'who walk; 1 where left out' },
    { name: 'four-wire', value: null, help: 'with a four-wire bond tester, not what the record has' },
    { name: 'csv', value: null, help: 'the pairs as a table, not as text' },
    { name: 'write', value: 'FILE', help: 'also write the site file with the plan added to it' },
    ...networkOptions,
    jsonOption,
  ],
  run: runPlan,
}

async function runPlan({ operands: [file], options, io }: Call): Promise<Outcome> {
  const read = readInput(options)
  if (!read.ok) return failed([read.error])
  const site = await readSite(file, io.input)
  if (!site.ok) return failed(site.error)
  const required = site.value.drawing.plans.flatMap(({ pairs }) => pairs.filter((pair) => pair.required))
  const input = { ...read.value, required: required.map(({ from, to }) => ({ from, to })) }
  const answered = ask('plan', input, site.value, file)
  if (!answered.ok) return failed(answered.error)
  const target = options.get('write')
  if (typeof target === 'string') {
    const bytes = withPlan(site.value, answered.value)
    if (!bytes.ok) return failed([bytes.error])
    const written = await writeFile(target, (output) => output.write(new TextDecoder().decode(bytes.value)))
    if (!written.ok) return { exit: 2, errors: [written.error] }
  }
  await io.out.write(shownAs(answered.value, site.value, options, new Page(io.style)))
  return { exit: answered.value.pairs.length === 0 ? 1 : 0 }
}

function shownAs(answer: PlanAnswer, site: Site, options: Call['options'], page: Page): string {
  if (options.has('json')) return `${toJson(answer, 2)}\n`
  if (options.has('csv')) {
    const head = ['setUp', 'from', 'to', 'required', 'expectedOhm', 'criterionOhm', 'wayM', 'minutes']
    const rows = answer.pairs.map(({ setUp, from, to, required, wayM, minutes }, k) => {
      const { expectedOhm, levelOhm } = answer.coverage.pairs[k]
      return [setUp + 1, from, to, required, expectedOhm, levelOhm, wayM, minutes]
    })
    return [head, ...rows].map(csvLine).join('')
  }
  page.sections(describePlanList(answer, openNameBook(site.drawing)))
  writeCaution(page)
  return page.toString()
}

/** The site file with the plan as one more of its plans. */
function withPlan(site: Site, { pairs }: PlanAnswer): Result<Uint8Array, Problem> {
  const name = 'Proposed plan'
  const id = freeSlug(
    name,
    'plan',
    site.drawing.plans.map((each) => each.id),
  )
  const empty = { id, name, note: '' }
  const canPlan = canAddPlan(site, empty)
  if (canPlan !== true) return fail(canPlan)
  const planned = addPlan(empty)(site)
  const added = { plan: id, pairs: pairs.map(({ from, to, required }) => ({ from, to, required })) }
  const canPair = canAddPairs(planned, added)
  if (canPair !== true) return fail(canPair)
  return siteFileBytes(withRevision(addPairs(added)(planned), crypto.randomUUID()))
}

function readInput(options: Call['options']): Result<Omit<PlanInput, 'required'>, Problem> {
  const wrong = (reason: string) => fail(problem('command.usage', { usage: usageOf(plan), reason }))
  const textOf = (name: string, usual: string) => String(options.get(name) ?? usual)
  const severity = planSeverities.find((each) => each === textOf('severity', 'open'))
  if (!severity) return wrong(`--severity takes ${inWords(planSeverities)}`)
  const how = ways.find((each) => each === textOf('how', 'proposed'))
  if (!how) return wrong(`--how takes ${inWords(ways)}`)
  const tellApart = textOf('tell-apart', '0')
  if (!/^(0|1|0?\.[0-9]+|1\.0+|0\.[0-9]+)$/.test(tellApart))
    return wrong(`--tell-apart takes a number from 0 to 1, not ${quoted(tellApart)}`)
  const minutes = options.get('minutes')
  if (typeof minutes === 'string' && !/^[1-9][0-9]{0,5}$/.test(minutes))
    return wrong(`--minutes takes a whole number from 1 on, not ${quoted(minutes)}`)
  const persons = textOf('persons', '1')
  if (persons !== '1' && persons !== '2') return wrong(`--persons takes 1 or 2, not ${quoted(persons)}`)
  const fourWire = defaultKits.find(({ method }) => method === 'fourWire')
  return ok({
    ...networkInput(options),
    ...(options.has('four-wire') && fourWire ? { kit: fourWire, lead: null } : {}),
    severity,
    how,
    tellApart: Number(tellApart),
    timesShown: options.has('twice') ? 2 : 1,
    mostMinutes: typeof minutes === 'string' ? Number(minutes) : null,
    persons: persons === '2' ? 2 : 1,
  })
}
