import { execFileSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { loadavg, tmpdir } from 'node:os'
import { join } from 'node:path'
import { parseArgs } from 'node:util'
import { CholeskyDecomposition, Matrix } from 'ml-matrix'
import { largeField } from './largeField.ts'
import { median, timedRun, type Timed } from './timedRun.ts'

// How long it takes to rank: the demo field, and a large field of 100 rows of 100 tables, 1.3 million joints. Each site in
// a process of its own, so that its memory is its own: the first ranking of a fresh process, then one after every
// further reading. Times are also given in units of a peer's fixed piece of work in the same process (the
// Cholesky factor of a dense matrix by ml-matrix), which says how fast the machine was just then.
//   node .ci/script.mjs tests/bench/locate/main.ts
//   node .ci/script.mjs tests/bench/locate/main.ts --sites large --rows 30 --tables 50 --further 3
const { values } = parseArgs({
  options: {
    sites: { type: 'string', default: 'field,large' },
    file: { type: 'string' },
    rows: { type: 'string', default: '100' },
    tables: { type: 'string', default: '100' },
    readings: { type: 'string', default: '50' },
    further: { type: 'string', default: '5' },
    json: { type: 'string' },
    measure: { type: 'string' },
    write: { type: 'string' },
  },
})

/** Milliseconds of the peer's work, the median of five. */
function peerMs(): number {
  const size = 320
  const matrix = Matrix.zeros(size, size)
  for (let i = 0; i < size; i++)
    for (let j = 0; j < size; j++) matrix.set(i, j, i === j ? size : 1 / (1 + Math.abs(i - j)))
  return median(
    Array.from({ length: 5 }, () => {
      const startMs = performance.now()
      new CholeskyDecomposition(matrix)
      return performance.now() - startMs
    }),
  )
}

interface Measured extends Timed {
  readonly peerMs: number
  readonly load: number
}

/** Runs this program again for one part of the work, in a process of its own. */
function inOwnProcess(args: readonly string[]): string {
  const run = execFileSync(process.execPath, [process.argv[1], ...args], {
    encoding: 'utf8',
    maxBuffer: 2 ** 28,
    stdio: ['ignore', 'pipe', 'inherit'],
  })
  return run
}

function measure(file: string): Measured {
  const { further } = values
  return JSON.parse(inOwnProcess(['--measure', file, '--further', further])) as Measured
}

const ms = (value: number) => (value < 100 ? value.toFixed(1) : value.toFixed(0))

function print(measured: readonly Measured[]): void {
  console.log(
    '| site | joints | readings | first | further | longest piece | answer | peak memory | peer | load |',
  )
  console.log('| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |')
  for (const m of measured) {
    const further = median(m.furtherMs)
    const inPeers = (value: number) => `${ms(value)} ms (${(value / m.peerMs).toFixed(1)} p)`
    const cells = [
      m.site,
      m.joints,
      m.readings,
      inPeers(m.firstMs),
      `${ms(m.firstCpuMs)} ms`,
      inPeers(further),
      `${ms(m.furtherCpuMs)} ms`,
      `${ms(m.longestMs)} ms`,
      `${(m.answerBytes / 1024).toFixed(0)} kB`,
      `${m.peakMb} MB`,
      `${ms(m.peerMs)} ms`,
      m.load.toFixed(1),
    ]
    console.log(`| ${cells.join(' | ')} |`)
  }
  for (const m of measured) {
    for (const [name, stages] of [
      ['first', m.stages],
      ['further', m.furtherStages],
    ] as const) {
      const parts = stages.map((s) => `${s.stage} ${ms(s.ms)} ms (longest ${ms(s.longestMs)})`)
      console.log(`\n${m.site}, ${name}: ${parts.join(', ')}`)
    }
  }
}

if (values.write !== undefined) {
  const site = largeField(Number(values.rows), Number(values.tables), Number(values.readings))
  writeFileSync(values.write, JSON.stringify(site))
} else if (values.measure !== undefined) {
  const timed = timedRun(values.measure, Number(values.further))
  const result: Measured = { ...timed, peerMs: peerMs(), load: loadavg()[0] }
  process.stdout.write(JSON.stringify(result))
} else {
  const folder = mkdtempSync(join(tmpdir(), 'rank-times-'))
  try {
    const measured = (values.file ?? values.sites).split(',').map((name) => {
      if (name === 'field') return measure('demo-data/field.json')
      if (name !== 'large') return measure(name)
      const file = join(folder, 'large.json')
      const size = ['--rows', values.rows, '--tables', values.tables, '--readings', values.readings]
      inOwnProcess(['--write', file, ...size])
      return measure(file)
    })
    print(measured)
    if (values.json !== undefined) writeFileSync(values.json, JSON.stringify(measured, null, 1))
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}
