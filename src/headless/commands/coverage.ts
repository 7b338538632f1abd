import { present } from '../../base/assert.ts'
import { fail, ok, type Result } from '../../base/result.ts'
import { emptySiteCache, type SiteCache } from '../../engine/siteCache.ts'
import type { NetworkAnswer } from '../../engine/networkAnswer.ts'
import { indexSite } from '../../layout/siteIndex.ts'
import {
  planPatterns,
  planSeverities,
  type CoverageAnswer,
  type PlanPairInput,
  type PlanSeverity,
} from '../../model/planning.ts'
import { problem, type Problem } from '../../model/problem.ts'
import type { Site } from '../../model/schema/site.ts'
import { describeCoverageList, describeCoverages, listedAlikes } from '../../text/coverageListText.ts'
import { nameKind } from '../../text/jointNames.ts'
import { openNameBook } from '../../text/places.ts'
import { formatCount, inWords } from '../../text/units.ts'
import { quoted } from '../../text/where.ts'
import { ask } from '../ask.ts'
import { failed, usageOf, type Call, type Command, type Outcome } from '../command.ts'
import { readCount } from '../commandLine.ts'
import { jsonOption, networkInput, networkOptions } from '../commonOptions.ts'
import { jointRows, kindRows, type Coverages } from '../coverageRows.ts'
import { toJson } from '../json.ts'
import { Page } from '../page.ts'
import { writeCaution, writeNotes } from '../pageEnd.ts'
import { readSite } from '../readSite.ts'

const patterns = ['proposed', ...planPatterns] as const

export const coverage: Command = {
  name: 'coverage',
  summary:
    'What the pairs of a plan would show if a joint went bad, what they cannot, why, and what cures it.',
  operands: ['FILE'],
  options: [
    { name: 'plan', value: 'ID', help: 'the pairs of this plan; those of all plans where left out' },
    { name: 'pattern', value: 'WORD', help: `not what is planned but ${inWords(patterns)}` },
    {
      name: 'severity',
      value: 'WORD',
      help: `of which hidden joints and look-alikes are told: ${inWords(planSeverities)}; open where left out`,
    },
    { name: 'top', value: 'N', help: `at most N groups that look alike; ${listedAlikes} where left out` },
    { name: 'joints', value: null, help: 'with --json: every joint, too, with how it shows' },
    ...networkOptions,
    jsonOption,
  ],
  run: runCoverage,
}

async function runCoverage({ operands: [file], options, io }: Call): Promise<Outcome> {
  const severity = wordOf('severity', planSeverities, 'open', options)
  if (!severity.ok) return failed([severity.error])
  const pattern = wordOf('pattern', patterns, null, options)
  if (!pattern.ok) return failed([pattern.error])
  const top = readCount(coverage, options, 'top')
  if (!top.ok) return failed([top.error])
  if (options.has('joints') && !options.has('json')) return failed([wrong('--joints goes with --json')])
  if (options.has('plan') && pattern.value) return failed([wrong('--plan and --pattern exclude each other')])
  const site = await readSite(file, io.input)
  if (!site.ok) return failed(site.error)
  const cache = emptySiteCache()
  const pairs = pattern.value
    ? patternPairs(pattern.value, severity.value, site.value, file, options, cache)
    : plannedPairs(site.value, options.get('plan'))
  if (!pairs.ok) return failed(pairs.error)
  const answers: CoverageAnswer[] = []
  for (const each of planSeverities) {
    const asked = { ...networkInput(options), severity: each, pairs: pairs.value }
    const answer = ask('coverage', asked, site.value, file, cache)
    if (!answer.ok) return failed(answer.error)
    answers.push(answer.value)
  }
  const network = ask('network', networkInput(options), site.value, file, cache)
  if (!network.ok) return failed(network.error)
  const told = { site: site.value, coverages: bySeverity(answers), network: network.value }
  await io.out.write(
    options.has('json')
      ? `${toJson(asJson(told, options.has('joints')), 2)}\n`
      : asText(told, severity.value, top.value ?? listedAlikes, options, new Page(io.style)),
  )
  return { exit: pairs.value.length === 0 ? 1 : 0 }
}

interface Told {
  readonly site: Site
  readonly coverages: Coverages
  readonly network: NetworkAnswer
}

function bySeverity(answers: readonly CoverageAnswer[]): Coverages {
  return Object.fromEntries(answers.map((answer) => [answer.severity, answer])) as Record<
    PlanSeverity,
    CoverageAnswer
  >
}

function asText(
  { site, coverages, network }: Told,
  severity: PlanSeverity,
  most: number,
  options: Call['options'],
  page: Page,
): string {
  const book = openNameBook(site.drawing)
  page.sections([
    describeCoverages(
      planSeverities.map((each) => coverages[each]),
      book,
    ),
  ])
  page.title('By kind of joint')
  page.table(
    [
      { title: 'Kind' },
      ...['Joints', '× 3', '× 10', '× 100', 'Open', 'Once', 'Twice'].map((title) => ({
        title,
        align: 'right' as const,
      })),
    ],
    kindRows(network, coverages).map(({ kind, joints, shown, once, twice }) => [
      nameKind(book, kind),
      ...[joints, ...planSeverities.map((each) => shown[each]), once, twice].map(formatCount),
    ]),
  )
  page.text('Once, twice: of those that show open, in one pair alone, in two or more.')
  page.sections(describeCoverageList(coverages[severity], book, most))
  writeNotes(page, coverages.open.notes, site.drawing, options.has('as-built'))
  writeCaution(page)
  return page.toString()
}

function asJson({ site, coverages, network }: Told, withJoints: boolean) {
  const { basis, notes, with: kit, pairs } = coverages.open
  const bySeverityOf = <T>(value: (answer: CoverageAnswer) => T) =>
    Object.fromEntries(planSeverities.map((each) => [each, value(coverages[each])]))
  const rows = () => [
    ...jointRows(network, present(indexOf(site), 'a compiled site has an index'), coverages),
  ]
  return {
    basis,
    notes,
    with: kit,
    pairs: pairs.map(({ from, to, expectedOhm, sdOhm, levelOhm, tooFarM, noAccess }) => {
      return { from, to, expectedOhm, sdOhm, levelOhm, tooFarM, noAccess }
    }),
    bySeverity: bySeverityOf((answer) => {
      const { joints, expectedBad, expectedBadUnseen, counts, twice, toldApart } = answer
      const { lookAlikeGroups, lookAlikes, hidden } = answer
      return {
        joints,
        expectedBad,
        expectedBadUnseen,
        counts,
        twice,
        toldApart,
        lookAlikeGroups,
        lookAlikes,
        hidden,
      }
    }),
    kinds: kindRows(network, coverages),
    ...(withJoints && { joints: rows() }),
  }
}

function indexOf({ drawing }: Site) {
  const index = indexSite(drawing)
  return index.ok ? index.value : null
}

/** The pairs of one plan of the site, or of all, each once. */
function plannedPairs(
  { drawing }: Site,
  plan: string | true | undefined,
): Result<readonly PlanPairInput[], readonly Problem[]> {
  const plans = drawing.plans.filter(({ id }) => plan === undefined || id === plan)
  if (typeof plan === 'string' && plans.length === 0) {
    return fail([problem('reference.unknownName', { what: 'plan', name: plan })])
  }
  const pairs = new Map<string, PlanPairInput>()
  for (const { from, to } of plans.flatMap((each) => each.pairs)) {
    pairs.set([from, to].sort().join(' '), { from, to })
  }
  return ok([...pairs.values()])
}

function patternPairs(
  how: (typeof patterns)[number],
  severity: PlanSeverity,
  site: Site,
  file: string,
  options: Call['options'],
  cache: SiteCache,
): Result<readonly PlanPairInput[], readonly Problem[]> {
  const asked = {
    ...networkInput(options),
    severity,
    how,
    required: [],
    tellApart: 0,
    timesShown: 1,
  } as const
  const answer = ask('plan', { ...asked, mostMinutes: null, persons: 1 }, site, file, cache)
  return answer.ok ? ok(answer.value.pairs.map(({ from, to }) => ({ from, to }))) : answer
}

function wordOf<W extends string, N extends W | null>(
  name: string,
  words: readonly W[],
  usual: N,
  options: Call['options'],
): Result<W | N, Problem> {
  const given = options.get(name)
  if (typeof given !== 'string') return ok(usual)
  const word = words.find((each) => each === given)
  return word ? ok(word) : fail(wrong(`--${name} takes ${inWords(words)}, not ${quoted(given)}`))
}

function wrong(reason: string): Problem {
  return problem('command.usage', { usage: usageOf(coverage), reason })
}
