import { execFileSync } from 'node:child_process'
import { readFileSync, writeFileSync } from 'node:fs'
import { loadavg } from 'node:os'
import { join } from 'node:path'
import { parseArgs } from 'node:util'
import { assert } from '../../../src/base/assert.ts'
import { saveSite } from '../../../src/files/saveSite.ts'
import { believe, methodNames } from './evaluate.ts'
import { scored } from './figures.ts'
import { drawScenario } from './generator/drawScenario.ts'
import { families, type Family } from './generator/families.ts'
import { seedListHash, seedOf, seedsPerFamily, type SeedSet } from './generator/seeds.ts'
import { ceiling, ceilingEffort, jackknifeError } from './methods/ceiling/ceiling.ts'
import { reliabilityPicture } from './reliabilityPicture.ts'
import { betweenMarks, reportTables } from './report.ts'
import { appendRow, programDigest, readRows, type Row } from './results.ts'
import { binned } from './scores/calibration.ts'
import { scoreOf, type Score } from './scores/score.ts'
import { targetOf } from './scores/target.ts'

// How well the program finds bad joints, beside other ways of finding them, on arrays drawn by lot. Goes on where it
// was stopped; families take turns. docs/locating.md says what is measured.
//   npm run bench:locate -- --minutes 20
//   npm run bench:locate -- --family roof --minutes 5 --ceiling-every 1
//   npm run bench:locate -- --minutes 0 --write        the tables and the picture of what there is
//   npm run bench:locate -- --set dev --worst 10       where the program does worst against the other methods
//   npm run bench:locate -- --set dev --save 268535457 --file site.json     one scenario, to be opened
const { values } = parseArgs({
  options: {
    minutes: { type: 'string', default: '20' },
    family: { type: 'string', default: '' },
    set: { type: 'string', default: 'test' },
    'ceiling-every': { type: 'string', default: '3' },
    results: { type: 'string' },
    write: { type: 'boolean', default: false },
    worst: { type: 'string' },
    save: { type: 'string' },
    file: { type: 'string', default: 'scenario.json' },
  },
})

const root = process.cwd()
assert(values.set === 'test' || values.set === 'dev', '--set is test or dev')
const set: SeedSet = values.set
const chosen = families.filter(({ name }) => name.includes(values.family))
assert(chosen.length > 0, `no family is called ${values.family}`)
const file = values.results ?? join(root, 'node_modules', '.cache', 'groundweave', `locating-${set}.jsonl`)
const program = programDigest(root)
const ceilingEvery = Number(values['ceiling-every'])
const commit = commitOf()

function commitOf(): string {
  try {
    return execFileSync('git', ['rev-parse', '--short', 'HEAD'], { cwd: root, encoding: 'utf8' }).trim()
  } catch {
    return 'unknown'
  }
}

function evaluate(family: Family, seed: number, withCeiling: boolean): Row {
  const startedMs = performance.now()
  const scenario = drawScenario(family, seed)
  const { typed, beliefs } = believe(scenario)
  const target = targetOf(scenario, typed)
  const methods: Record<string, Score> = {}
  for (const [name, belief] of Object.entries(beliefs)) methods[name] = scoreOf(belief, target)
  let ceilingError: number | null = null
  if (withCeiling) {
    const { belief, without } = ceiling(scenario, typed, ceilingEffort)
    methods['ceiling'] = scoreOf(belief, target)
    ceilingError = jackknifeError(without.map((each) => scoreOf(each, target).logScore))
  }
  return {
    program,
    family: family.name,
    seed,
    clampsPerFrame: scenario.shape.clampsPerFrame,
    inSoil: scenario.shape.inSoil,
    faults: target.faults.length,
    visible: target.visible.length,
    readings: typed.readings.length,
    methods,
    ceilingError,
    seconds: (performance.now() - startedMs) / 1000,
    commit,
  }
}

function runFor(minutes: number): void {
  const done = new Set(current().map(({ seed }) => seed))
  const endMs = performance.now() + minutes * 60_000
  for (let k = 0; k < seedsPerFamily; k++) {
    for (const family of chosen) {
      const seed = seedOf(set, family, k)
      if (done.has(seed)) continue
      if (performance.now() >= endMs) return
      // the ceiling knows two-wire clips; four-wire digits are too fine for networks drawn blindly
      const withCeiling = ceilingEvery > 0 && k % ceilingEvery === 0 && family.kit.method === 'twoWire'
      appendRow(file, evaluate(family, seed, withCeiling && !family.withLoopClamp))
    }
  }
}

function current(): Row[] {
  const names = new Set(chosen.map(({ name }) => name))
  return readRows(file).filter((row) => row.program === program && names.has(row.family))
}

/** Scenarios where the program's log score lies furthest above the best of the others'. */
function printWorst(rows: readonly Row[], count: number): void {
  const others = Object.keys(methodNames).filter((name) => !name.startsWith('engine'))
  const worse = rows
    .map((row) => {
      const best = Math.min(
        ...others.flatMap((name) => (name in row.methods ? [row.methods[name].logScore] : [])),
      )
      return { row, by: row.methods['engine'].logScore - best }
    })
    .sort((a, b) => b.by - a.by)
  for (const { row, by } of worse.slice(0, count)) {
    const { methods, ...facts } = row
    const scores = Object.entries(methods).map(([name, { logScore }]) => `${name} ${logScore.toFixed(2)}`)
    const { nothing, firstStated, firstSeen } = methods['engine']
    console.log(
      `${facts.seed} ${facts.family}: ${facts.faults} bad, ${facts.visible} to see; worse by ${by.toFixed(2)}; ` +
        `nothing ${nothing.toFixed(3)}, first ${firstStated.toFixed(3)} ${firstSeen ? 'right' : 'wrong'}; ${scores.join(', ')}`,
    )
  }
}

console.log(`Test seeds: SHA-256 ${seedListHash('test', families)}`)
if (values.save !== undefined) {
  const seed = Number(values.save)
  const family = families.find(
    (each) => Math.floor((seed - seedOf(set, { number: 0 }, 0)) / 100_000) === each.number,
  )
  assert(family !== undefined, `${seed} is no seed of this set`)
  const { site, faults, possible } = drawScenario(family, seed)
  writeFileSync(values.file, saveSite(site))
  console.log(`${values.file}: ${family.name}`)
  for (const { edge, addedOhm } of faults)
    console.log(`bad: ${possible.address[edge]}, ${addedOhm} ohm added`)
} else {
  runFor(Number(values.minutes))
  const rows = current()
  if (values.worst !== undefined) printWorst(rows, Number(values.worst))
  else if (rows.length > 0) {
    const facts = { testSeedHash: seedListHash('test', families), program, set, load: loadavg()[0] }
    const tables = reportTables(rows, facts)
    for (const [name, table] of Object.entries(tables)) console.log(`\n${name}\n${table}`)
    if (values.write) {
      const document = join(root, 'docs', 'locating.md')
      writeFileSync(document, betweenMarks(readFileSync(document, 'utf8'), tables))
      const lines = [
        ['engine', '#0b5fad'],
        ['ceiling', '#2f8f4e'],
        ['gaussian', '#b3541e'],
      ] as const
      writeFileSync(
        join(root, 'docs', 'pictures', 'locating-reliability.svg'),
        reliabilityPicture(
          'Stated chances and what came of them',
          lines.map(([name, colour]) => ({
            name: methodNames[name],
            colour,
            bins: binned(scored(rows, name).flatMap(({ score }) => score.states)),
          })),
        ),
      )
    }
  }
}
