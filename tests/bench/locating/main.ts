import { execFileSync } from 'node:child_process'
import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { parseArgs } from 'node:util'
import { assert } from '../../../src/base/assert.ts'
import { saveSite } from '../../../src/files/saveSite.ts'
import { drawScenario } from './generator/drawScenario.ts'
import { contactFamilies, families, type Family } from './generator/families.ts'
import { seedListHash, seedOf, seedsPerFamily, type SeedSet } from './generator/seeds.ts'
import { largeFamilies } from './large/largeFamilies.ts'
import { largeRow, type LargeRow } from './large/largeRow.ts'
import { appendRow, programDigest, readRows, type Row } from './results.ts'
import { sequentialRow, type SequentialRow } from './sequential/sequentialRow.ts'
import { staticRow } from './staticRow.ts'
import { takeTurns, type Queue } from './takeTurns.ts'
import { worstLines } from './worst.ts'
import { printOrWrite } from './writeReport.ts'

// How well the program finds bad joints, beside other ways of finding them, on arrays drawn by lot. Goes on where it
// was stopped; families take turns. docs/locating.md says what is measured.
//   npm run bench:locate -- --minutes 20
//   npm run bench:locate -- --minutes 20 --part 1/2     every second scenario; --part 2/2 at the same time has the others
//   npm run bench:locate -- --only sequential           or static, or large
//   npm run bench:locate -- --family roof --minutes 5 --dear-every 1
//   npm run bench:locate -- --minutes 0 --write         the tables and the picture of what there is
//   npm run bench:locate -- --set dev --worst 10        where the program does worst against the other methods
//   npm run bench:locate -- --set dev --save 268535457 --file site.json     one scenario, to be opened
const { values } = parseArgs({
  options: {
    minutes: { type: 'string', default: '20' },
    part: { type: 'string', default: '1/1' },
    only: { type: 'string' },
    family: { type: 'string', default: '' },
    set: { type: 'string', default: 'test' },
    'dear-every': { type: 'string', default: '12' },
    results: { type: 'string' },
    digest: { type: 'string' },
    write: { type: 'boolean', default: false },
    worst: { type: 'string' },
    save: { type: 'string' },
    file: { type: 'string', default: 'scenario.json' },
  },
})

const root = process.cwd()
assert(values.set === 'test' || values.set === 'dev', '--set is test or dev')
const set: SeedSet = values.set
const [part, parts] = values.part.split('/').map(Number)
assert(part >= 1 && part <= parts, '--part is 1/2, say')
const folder = values.results ?? join(root, 'node_modules', '.cache', 'groundweave')
const origin = { program: values.digest ?? programDigest(root), commit: commitOf() }
const dearEvery = Number(values['dear-every'])
const named = <F extends { readonly name: string }>(all: readonly F[]) =>
  all.filter(({ name }) => name.includes(values.family))
const fileOf = (kind: string) => join(folder, `locating-${kind}-${set}.jsonl`)

function commitOf(): string {
  try {
    return execFileSync('git', ['rev-parse', '--short', 'HEAD'], { cwd: root, encoding: 'utf8' }).trim()
  } catch {
    return 'unknown'
  }
}

/** Seeds of this part that were not done yet: the first of every family, then the second, and so on. */
function* undone<F extends { readonly number: number }>(
  kind: string,
  chosen: readonly F[],
): Generator<{ readonly family: F; readonly seed: number; readonly k: number }> {
  const done = new Set(readRows(fileOf(kind), origin.program).map(({ seed }) => seed))
  for (let k = part - 1; k < seedsPerFamily; k += parts) {
    for (const family of chosen) {
      const seed = seedOf(set, family, k)
      if (!done.has(seed)) yield { family, seed, k }
    }
  }
}

/** Every third scenario of the families that are there for contacts alone. */
function* staticPieces(): Generator<void> {
  for (const { family, seed, k } of undone('static', named([...families, ...contactFamilies]))) {
    if (family.contactsByLot && k % 3 !== 0) continue
    // counted within this part, so that every part has its share of the dear ones
    const isDear = dearEvery > 0 && Math.floor(k / parts) % dearEvery === 0
    appendRow(fileOf('static'), staticRow(origin, family, seed, isDear))
    yield
  }
}

function* sequentialPieces(): Generator<void> {
  const chosen = named(families).filter(({ withLoopClamp }) => !withLoopClamp)
  for (const { family, seed } of undone('sequential', chosen)) {
    appendRow(fileOf('sequential'), sequentialRow(origin, family, seed))
    yield
  }
}

function* largePieces(): Generator<void> {
  for (const { family, seed } of undone('large', named(largeFamilies))) {
    appendRow(fileOf('large'), largeRow(origin, family, seed))
    yield
  }
}

function saveOne(seed: number): void {
  const isOf = ({ number }: Family) => Math.floor((seed - seedOf(set, { number: 0 }, 0)) / 100_000) === number
  const family = [...families, ...contactFamilies].find(isOf)
  assert(family !== undefined, `${seed} is no seed of this set`)
  const { site, faults, possible } = drawScenario(family, seed)
  writeFileSync(values.file, saveSite(site))
  console.log(`${values.file}: ${family.name}`)
  for (const { edge, addedOhm } of faults)
    console.log(`bad: ${possible.address[edge]}, ${addedOhm} ohm added`)
}

console.log(`Test seeds: SHA-256 ${seedListHash('test', families)}; program ${origin.program}`)
if (values.save !== undefined) saveOne(Number(values.save))
else {
  const queues: Record<string, Queue> = {
    static: { share: 0.6, pieces: staticPieces() },
    sequential: { share: 0.25, pieces: sequentialPieces() },
    large: { share: 0.15, pieces: largePieces() },
  }
  const { only } = values
  assert(only === undefined || only in queues, '--only is static, sequential or large')
  const endMs = performance.now() + Number(values.minutes) * 60_000
  const chosen = only === undefined ? Object.values(queues) : [queues[only]]
  takeTurns(chosen, endMs, () => performance.now())
  const names = new Set(named([...families, ...contactFamilies]).map(({ name }) => name))
  const rows = readRows<Row>(fileOf('static'), origin.program).filter(({ family }) => names.has(family))
  if (values.worst !== undefined) console.log(worstLines(rows, Number(values.worst)).join('\n'))
  else {
    const sequential = readRows<SequentialRow>(fileOf('sequential'), origin.program)
    const large = readRows<LargeRow>(fileOf('large'), origin.program)
    printOrWrite(root, { rows, sequential, large }, { set, program: origin.program }, values.write)
  }
}
