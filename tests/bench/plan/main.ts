import { execFileSync } from 'node:child_process'
import { readFileSync, writeFileSync } from 'node:fs'
import { loadavg } from 'node:os'
import { join } from 'node:path'
import { parseArgs } from 'node:util'
import { present } from '../../../src/base/assert.ts'
import { planPatterns, type PlanAnswer } from '../../../src/model/planning.ts'
import { layPattern } from '../../../src/plan/patterns/layPattern.ts'
import { pointsInOrder, reachableKinds } from '../../../src/plan/patterns/pointOrder.ts'
import { replaceBetween } from '../network/markers.ts'
import { appendRow } from '../locating/results.ts'
import { benchSite, benchSiteNames } from './benchSites.ts'
import { hitRate, jointsSeen, readOrder, showableJoints, someOf } from './hitRates.ts'
import {
  attainableOf,
  coverageOf,
  openSite,
  othersOf,
  proposed,
  seenOf,
  showsOf,
  type Measured,
} from './measurePlan.ts'
import { otherNames } from './otherPlans.ts'
import type {
  AskedName,
  BreakFigure,
  Hits,
  PatternFigures,
  PlanFigures,
  PlantedSeverity,
} from './planFigures.ts'
import { boundTable, breakTable, hitTable, patternTable, sightTable } from './planReport.ts'
import { named } from './pointsOfSite.ts'
import { rankAfterReading, type Noise, type ReadOrder } from './readAndRank.ts'
import { planDigest, readLines } from './planResults.ts'

// What a proposed plan is worth, beside other plans of as many pairs, on named sites and on sites drawn by lot. Goes on where
// it was stopped. docs/planning.md says what is measured.
//   npm run bench:plan -- --minutes 30
//   npm run bench:plan -- --only sites --site "field, A" --asked telling
//   npm run bench:plan -- --only breaks --minutes 60       every break of the field in turn
//   npm run bench:plan -- --minutes 0 --write              the tables of what there is, into docs/planning.md
const { values } = parseArgs({
  options: {
    minutes: { type: 'string', default: '30' },
    only: { type: 'string' },
    site: { type: 'string' },
    asked: { type: 'string' },
    noise: { type: 'string', default: '' },
    breaks: { type: 'string', default: '30' },
    digest: { type: 'string' },
    results: { type: 'string' },
    write: { type: 'boolean', default: false },
  },
})

const root = process.cwd()
const program = values.digest ?? planDigest(root)
const commit = (() => {
  try {
    return execFileSync('git', ['rev-parse', '--short', 'HEAD'], { cwd: root, encoding: 'utf8' }).trim()
  } catch {
    return 'unknown'
  }
})()
const folder = values.results ?? join(root, 'node_modules', '.cache', 'groundweave')
const fileOf = (kind: string) => join(folder, `plan-${kind}.jsonl`)
const endMs = performance.now() + Number(values.minutes) * 60_000
const isTime = () => performance.now() < endMs
const breaksPerSite = Number(values.breaks)
const askedNames: readonly AskedName[] = ['showing', 'telling', 'twice']

/** Sites on which readings are ranked: a ranking of a larger one takes minutes. */
const mostRankedJoints = 4000
/** Above so many joints a fifth of the breaks is planted: a ranking takes seconds. */
const fewBreaksFrom = 1000
/** Sites for which only showing is asked: the whole plant. */
const isPlant = (name: string) => name.startsWith('tracker')

const sites = () => readLines<PlanFigures>(fileOf('sites'), program, ({ site, asked }) => `${site} ${asked}`)
const patterns = () =>
  readLines<PatternFigures>(fileOf('patterns'), program, ({ site, pattern }) => `${site} ${pattern}`)
const keyOfBreak = ({
  site,
  asked,
  severity,
  noise,
  joint,
}: Omit<BreakFigure, 'program' | 'commit' | 'rank'>) => [site, asked, severity, noise, joint].join(' ')
const breaks = () => readLines<BreakFigure>(fileOf('breaks'), program, keyOfBreak)

function measureSites(): void {
  const done = new Set(sites().map(({ site, asked }) => `${site} ${asked}`))
  for (const name of benchSiteNames) {
    const bench = benchSite(name)
    if (values.site !== undefined && !bench.name.includes(values.site)) continue
    const asked = askedNames.filter(
      (each) =>
        !done.has(`${bench.name} ${each}`) &&
        (values.asked === undefined || values.asked === each) &&
        (each === 'showing' || !isPlant(name)),
    )
    if (asked.length === 0) continue
    const measured = openSite(bench)
    for (const each of asked) {
      if (!isTime()) return
      measureOne(measured, each)
    }
  }
}

function measureOne(measured: Measured, asked: AskedName): void {
  const { bench } = measured
  const { answer, seconds, cpuSeconds, mostMB } = proposed(measured, asked)
  const { coverage, bound, candidates, wayBoundM } = answer
  const pairs = answer.pairs.map(({ from, to }) => ({ from, to }))
  const others = othersOf(measured, answer)
  const attainable = attainableOf(measured, coverage)
  const hits: Record<string, Hits> = {}
  if (asked === 'telling' && coverage.joints <= mostRankedJoints && breaksPerSite > 0) {
    const tries = coverage.joints > fewBreaksFrom ? Math.ceil(breaksPerSite / 5) : breaksPerSite
    const joints = someOf(showableJoints(measured, coverage), tries, 20260606)
    const noise: Noise = { noise: 'atRate' }
    hits.plan = hitRate(readOrder(measured, pairs), joints, noise)
    for (const name of otherNames) hits[name] = hitRate(readOrder(measured, others[name]), joints, noise)
  }
  const row: PlanFigures = {
    program,
    commit,
    site: bench.name,
    asked,
    joints: coverage.joints,
    candidates,
    plan: {
      pairs: pairs.length,
      seen: seenOf(coverage),
      twice: coverage.twice,
      toldApart: coverage.toldApart,
      setUps: answer.setUps.length,
      wayM: answer.wayM,
      minutes: answer.minutes,
      bound,
      wayBoundM,
      seconds,
      cpuSeconds,
      mostMB,
    },
    attainable,
    others: Object.fromEntries(
      otherNames.map((name) => [name, showsOf(measured, others[name])]),
    ) as PlanFigures['others'],
    hits,
  }
  appendRow(fileOf('sites'), row)
  console.log(
    `${bench.name}, ${asked}: ${pairs.length} pairs, bound ${bound?.pairs ?? 'none'}, ${seconds.toFixed(1)} s`,
  )
}

function measurePatterns(): void {
  const done = new Set(patterns().map(({ site, pattern }) => `${site} ${pattern}`))
  for (const name of ['roof, B', 'field, A', 'field, B']) {
    if (values.site !== undefined && !name.includes(values.site)) continue
    if (planPatterns.every((pattern) => done.has(`${name} ${pattern}`))) continue
    const measured = openSite(benchSite(name))
    const { index, bench } = measured
    for (const pattern of planPatterns) {
      if (!isTime()) return
      const stretches = pointsInOrder(index, reachableKinds(bench.site.drawing), 'ends')
      const reachM = 47
      const pairs = layPattern(pattern, index, stretches, reachM).map(({ from, to }) =>
        named(index, from, to),
      )
      const shows = showsOf(measured, pairs)
      const attainable = sites().find(({ site }) => site === name)?.attainable.seen ?? shows.seen
      appendRow(fileOf('patterns'), {
        program,
        commit,
        site: name,
        pattern,
        attainableSeen: attainable,
        shows,
      })
    }
  }
}

/** Poor contacts in one reading of twenty, as the aim of the plan has it. */
const poor = { name: '5 % poor contacts', noise: { noise: 'share', poor: 0.05 } } as const
const none = { name: 'none', noise: { noise: 'none' } } as const

interface BreakRun {
  readonly site: string
  readonly asked: AskedName
  readonly severity: PlantedSeverity
  readonly with: { readonly name: string; readonly noise: Noise }
}

const breakRuns: readonly BreakRun[] = [
  { site: 'field, B', asked: 'telling', severity: 'open', with: none },
  { site: 'field, B', asked: 'telling', severity: 'hundredfold', with: none },
  { site: 'field, B', asked: 'telling', severity: 'open', with: poor },
  { site: 'field, B', asked: 'twice', severity: 'open', with: poor },
  { site: 'field, A', asked: 'telling', severity: 'open', with: none },
  { site: 'field, A', asked: 'telling', severity: 'open', with: poor },
  { site: 'field, A', asked: 'twice', severity: 'open', with: poor },
]

interface OpenedRun {
  readonly run: BreakRun
  readonly order: ReadOrder
  readonly joints: readonly string[]
}

function openRuns(): readonly OpenedRun[] {
  const plans = new Map<string, { readonly measured: Measured; readonly answer: PlanAnswer }>()
  return breakRuns
    .filter(({ with: { name }, asked, site }) => {
      const isAsked = values.asked === undefined || values.asked === asked
      return name.includes(values.noise) && isAsked && site.includes(values.site ?? '')
    })
    .map((run) => {
      const key = `${run.site} ${run.asked}`
      const measured = plans.get(key)?.measured ?? openSite(benchSite(run.site))
      const answer = plans.get(key)?.answer ?? proposed(measured, run.asked).answer
      plans.set(key, { measured, answer })
      const pairs = answer.pairs.map(({ from, to }) => ({ from, to }))
      const joints =
        run.severity === 'open'
          ? showableJoints(measured, answer.coverage)
          : jointsSeen(measured, coverageOf(measured, pairs, run.severity), ['criterion', 'comparison'])
      return { run, order: readOrder(measured, pairs), joints }
    })
}

/** Steps that come to each of so many places once before they come to any twice, and at first far apart. */
function strideOver(count: number): number {
  const shared = (a: number, b: number): number => (b === 0 ? a : shared(b, a % b))
  let stride = Math.max(1, Math.round(0.382 * count))
  while (shared(count, stride) > 1) stride++
  return stride
}

/** All runs in turn, each far apart first, so that a run that is cut short has looked everywhere. */
function measureBreaks(): void {
  const done = new Set(breaks().map(keyOfBreak))
  const opened = openRuns()
  for (let k = 0; opened.some(({ joints }) => k < joints.length); k++) {
    for (const { run, order, joints } of opened) {
      if (k >= joints.length) continue
      const at = (k * strideOver(joints.length)) % joints.length
      const joint = present(joints[at], 'a joint')
      const { site, asked, severity } = run
      const figure = { site, asked, severity, noise: run.with.name, joint }
      if (done.has(keyOfBreak(figure))) continue
      if (!isTime()) return
      const rank = rankAfterReading(order, joint, 9000 + at, run.with.noise, severity)
      const row: BreakFigure = { program, commit, ...figure, rank: Number.isFinite(rank) ? rank : null }
      appendRow(fileOf('breaks'), row)
    }
  }
}

const kinds: Readonly<Record<string, () => void>> = {
  sites: measureSites,
  patterns: measurePatterns,
  breaks: measureBreaks,
}
for (const [kind, measure] of Object.entries(kinds)) {
  if (isTime() && (values.only === undefined || values.only === kind)) measure()
}

const inOrder = (rows: readonly PlanFigures[]) => {
  const at = ({ site, asked }: PlanFigures) =>
    10 * benchSiteNames.findIndex((name) => site === name || site.startsWith(`${name}:`)) +
    askedNames.indexOf(asked)
  return rows.toSorted((a, b) => at(a) - at(b))
}
const rows = inOrder(sites())
const commits = [...new Set([...rows, ...breaks()].map((row) => row.commit))].join(', ')
const tables: Readonly<Record<string, string>> = {
  'bench run': `Program: commit ${commits}, digest \`${program}\`. Load of the machine at the time of writing: ${loadavg()[0].toFixed(1)} on two cores.`,
  'bench bounds': boundTable(rows),
  'bench sight': sightTable(rows),
  'bench hits': hitTable(rows),
  'bench patterns': patternTable(patterns()),
  'bench breaks': breakTable(breaks()),
}
for (const [name, text] of Object.entries(tables)) console.log(`\n${name}\n${text}`)
if (values.write) {
  const file = join(root, 'docs', 'planning.md')
  writeFileSync(
    file,
    Object.entries(tables).reduce(
      (page, [name, text]) => replaceBetween(page, name, text),
      readFileSync(file, 'utf8'),
    ),
  )
}
