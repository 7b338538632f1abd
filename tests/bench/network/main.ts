import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { parseArgs } from 'node:util'
import { growthPlot } from '../plots/growthPlot.ts'
import { memoryPlot } from '../plots/memoryPlot.ts'
import { askProgram } from './childProgram.ts'
import { growth, grownSite } from './grownSite.ts'
import { loadOfLastMinute, thisMachine } from './machine.ts'
import { replaceBetween } from './markers.ts'
import { measureMemory, type MemoryUse } from './memory.ts'
import { measurePeers, type PeerRounds } from './peerRounds.ts'
import { findPeers } from './peers.ts'
import type { ChromiumResult, GrowthPoint } from './results.ts'
import { growthTable, machineLines, memoryTable, peerTable, reachTable, stageTable } from './report.ts'
import { workRounds, type Rounds } from './rounds.ts'

// Times the kernels of src/network on a large site, in Node and in a worker of Chromium, beside compiled solvers,
// and against size. Prints Markdown; --write puts it into docs/speed.md and the plots into docs/pictures.
//   npm run bench
//   npm run bench -- --write --peers FOLDER
//   npm run bench -- --site FILE --rounds 3 --no-growth --no-chromium
const { values } = parseArgs({
  options: {
    site: { type: 'string', default: 'demo-data/tracker.json' },
    peers: { type: 'string' },
    rounds: { type: 'string', default: '5' },
    write: { type: 'boolean', default: false },
    'no-growth': { type: 'boolean', default: false },
    'no-chromium': { type: 'boolean', default: false },
    // for the processes that it starts
    task: { type: 'string' },
    scratch: { type: 'string', default: '' },
  },
})
const rounds = Number(values.rounds)
if (!(Number.isInteger(rounds) && rounds >= 1)) throw new Error('--rounds is a whole number from 1 on')

/** What a process of its own measures and prints as JSON. */
async function doTask(task: string): Promise<unknown> {
  const bytes = new Uint8Array(readFileSync(values.site))
  if (task === 'times') {
    const processor = () => process.cpuUsage().user / 1000 + process.cpuUsage().system / 1000
    return workRounds(bytes, rounds, { now: () => performance.now(), processor })
  }
  if (task === 'memory') return measureMemory(bytes)
  if (task !== 'peers' || values.peers === undefined) throw new Error(`there is no task ${task}`)
  const { peers, missing } = findPeers(values.peers, values.scratch)
  return { missing, measured: await measurePeers(bytes, peers, rounds, values.scratch) }
}

function ask<T>(
  task: string,
  site: string,
  count = rounds,
  more: readonly string[] = [],
  flags: readonly string[] = [],
) {
  const args = [process.argv[1], '--task', task, '--site', site, '--rounds', String(count), ...more]
  return askProgram<T>(process.execPath, [...flags, ...args])
}

async function measureAll(scratch: string): Promise<void> {
  const progress = (text: string) => process.stderr.write(`${text} …\n`)
  const loadBefore = loadOfLastMinute()
  progress('times in Node')
  const node = await ask<Rounds>('times', values.site)
  progress('memory in Node')
  const { held } = await ask<MemoryUse>('memory', values.site, 1, [], ['--expose-gc'])
  const { peakMB } = await ask<MemoryUse>('memory', values.site)
  let chromium: ChromiumResult = { missing: 'not asked for' }
  if (!values['no-chromium']) {
    progress('Chromium')
    chromium = await askProgram(process.execPath, ['.ci/benchChromium.mjs', values.site, String(rounds)])
  }
  let peers: { missing: readonly string[]; measured: PeerRounds } | null = null
  if (values.peers !== undefined) {
    progress('peers')
    peers = await ask('peers', values.site, rounds, ['--peers', values.peers, '--scratch', scratch])
  }
  const points: GrowthPoint[] = []
  for (const { rows, tables, rounds: least } of values['no-growth'] ? [] : growth) {
    progress(`a field of ${rows} rows of ${tables} tables`)
    const file = join(scratch, 'grown.json')
    writeFileSync(file, grownSite(rows, tables))
    const times = await ask<Rounds>('times', file, Math.max(rounds, least))
    const { peakMB } = await ask<MemoryUse>('memory', file)
    const { held } = await ask<MemoryUse>('memory', file, 1, [], ['--expose-gc'])
    const heldMB = Math.max(...held.map(({ heapMB, arraysMB }) => heapMB + arraysMB))
    points.push({ times, peakMB, heldMB })
  }

  const report = {
    machine: machineLines(thisMachine(), chromium, [loadBefore, loadOfLastMinute()], rounds),
    reach: reachTable(node, chromium, { held, peakMB }, peers?.measured ?? null),
    stages: stageTable(node, chromium),
    memory: memoryTable(held, peakMB, chromium),
    peers: peerTable(peers),
    growth: points.length > 0 ? growthTable(points) : 'Not measured in this run.',
  }
  for (const text of Object.values(report)) console.log(`${text}\n`)
  if (!values.write) return
  let page = readFileSync('docs/speed.md', 'utf8')
  for (const [name, text] of Object.entries(report)) page = replaceBetween(page, `network ${name}`, text)
  writeFileSync('docs/speed.md', page)
  if (points.length === 0) return
  writeFileSync('docs/pictures/speed-growth.svg', growthPlot(points))
  writeFileSync('docs/pictures/speed-memory.svg', memoryPlot(points))
}

if (values.task !== undefined) console.log(JSON.stringify(await doTask(values.task)))
else {
  const scratch = mkdtempSync(join(tmpdir(), 'groundweave-bench-'))
  try {
    await measureAll(scratch)
  } finally {
    rmSync(scratch, { recursive: true, force: true })
  }
}
