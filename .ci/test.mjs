// Everything that has to hold, in one command: types, lint, formatting, then the tests (extra arguments go to
// vitest). All stages run, whatever fails. The last line is `N passed, N failed`: passed counts tests, failed
// counts tests plus each stage that failed without a failed test, so that it is 0 only if nothing failed.
import { spawn } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'

const root = fileURLToPath(new URL('..', import.meta.url))
const script = (...path) => join(root, 'node_modules', ...path)

const checks = [
  { name: 'types', args: [script('typescript', 'bin', 'tsc'), '--noEmit', '-p', '.'] },
  { name: 'lint', args: [script('eslint', 'bin', 'eslint.js'), '--max-warnings', '0', '.'] },
  {
    name: 'svelte',
    args: [
      script('svelte-check', 'bin', 'svelte-check'),
      '--tsconfig',
      './tsconfig.json',
      '--fail-on-warnings',
    ],
  },
  {
    name: 'formatting',
    args: [script('prettier', 'bin', 'prettier.cjs'), '--check', '--log-level', 'warn', '.'],
  },
]

function run(args, stdio) {
  return new Promise((resolve) => {
    const child = spawn(process.execPath, args, { cwd: root, stdio })
    const pieces = []
    child.stdout?.on('data', (piece) => pieces.push(piece))
    child.stderr?.on('data', (piece) => pieces.push(piece))
    child.on('error', (error) => resolve({ ok: false, output: `${error.message}\n` }))
    child.on('close', (code) => resolve({ ok: code === 0, output: Buffer.concat(pieces).toString() }))
  })
}

// Two at a time; what a check has to say is printed in one piece.
async function runChecks() {
  const waiting = [...checks]
  const failed = []
  const worker = async () => {
    for (let check = waiting.shift(); check; check = waiting.shift()) {
      const started = Date.now()
      const { ok, output } = await run(check.args, ['ignore', 'pipe', 'pipe'])
      console.log(
        `${check.name}: ${ok ? 'passed' : 'FAILED'} (${((Date.now() - started) / 1000).toFixed(1)} s)`,
      )
      if (ok) continue
      console.log(output.trimEnd())
      failed.push(check.name)
    }
  }
  await Promise.all([worker(), worker()])
  return failed
}

async function runTests(extra) {
  const folder = mkdtempSync(join(tmpdir(), 'groundweave-test-'))
  const report = join(folder, 'report.json')
  const reporters = ['--reporter=default', '--reporter=json', `--outputFile.json=${report}`]
  try {
    const { ok } = await run([script('vitest', 'vitest.mjs'), 'run', ...reporters, ...extra], 'inherit')
    return { ok, ...readCounts(report) }
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

function readCounts(report) {
  try {
    const { numPassedTests, numFailedTests, testResults } = JSON.parse(readFileSync(report, 'utf8'))
    // A file that could not be loaded has no tests in it to fail.
    const unloaded = testResults.filter(
      ({ status, assertionResults }) =>
        status === 'failed' && !assertionResults.some((result) => result.status === 'failed'),
    )
    return { passed: numPassedTests, failed: numFailedTests + unloaded.length }
  } catch {
    return { passed: 0, failed: 0 }
  }
}

const failedChecks = await runChecks()
const tests = await runTests(process.argv.slice(2))
const failedTests = tests.ok ? tests.failed : Math.max(1, tests.failed)
const stages = [...failedChecks, ...(failedTests > 0 ? ['tests'] : [])]
console.log(stages.length > 0 ? `Failed: ${stages.join(', ')}` : 'Types, lint, formatting and tests passed.')
console.log(`${tests.passed} passed, ${failedChecks.length + failedTests} failed`)
process.exitCode = stages.length > 0 ? 1 : 0
