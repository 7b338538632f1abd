// Runs the command-line program, built first when it is missing or older than what it is made of. stdout
// carries the program's own output and nothing else; started through npm, use `npm run -s headless -- ...`,
// for without -s npm writes its own two lines there.
import { spawnSync } from 'node:child_process'
import { mkdirSync, mkdtempSync, readdirSync, renameSync, rmSync, statSync, utimesSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath, pathToFileURL } from 'node:url'

const root = fileURLToPath(new URL('..', import.meta.url))
const folder = join(root, 'dist-headless')
const program = join(folder, 'groundweave.mjs')
const configs = ['vite.headless.config.ts', 'package-lock.json', 'package.json', 'tsconfig.json']

function changedMs(path) {
  return statSync(path, { throwIfNoEntry: false })?.mtimeMs
}

// Folders count too: their time changes when a file in them is removed.
function newestMs(path) {
  const own = changedMs(path) ?? 0
  if (!statSync(path).isDirectory()) return own
  return readdirSync(path).reduce((newest, name) => Math.max(newest, newestMs(join(path, name))), own)
}

function isCurrent() {
  const built = changedMs(program)
  if (built === undefined) return false
  return (
    newestMs(join(root, 'src')) < built && configs.every((name) => (changedMs(join(root, name)) ?? 0) < built)
  )
}

// Built aside and moved into place, so that two builds at once, or a build beside a run, do no harm. The
// program gets the time at which its build began: a source saved during the build is newer than it.
function build() {
  const began = new Date()
  mkdirSync(folder, { recursive: true })
  const aside = mkdtempSync(join(folder, 'building-'))
  try {
    const vite = join(root, 'node_modules', 'vite', 'bin', 'vite.js')
    const args = ['build', '--config', 'vite.headless.config.ts', '--logLevel', 'error', '--outDir', aside]
    const built = spawnSync(process.execPath, [vite, ...args], { cwd: root, stdio: ['ignore', 2, 2] })
    if (built.status !== 0) return false
    utimesSync(join(aside, 'groundweave.mjs'), began, began)
    renameSync(join(aside, 'groundweave.mjs'), program)
    return true
  } finally {
    rmSync(aside, { recursive: true, force: true })
  }
}

if (isCurrent() || build()) {
  // npm starts scripts in the root of the project; a file named on the command line is meant from where it was typed.
  const typedIn = process.env['INIT_CWD']
  if (process.env['npm_lifecycle_event'] === 'headless' && typedIn) process.chdir(typedIn)
  process.argv[1] = program
  await import(pathToFileURL(program).href)
} else {
  process.stderr.write('The command-line program could not be built: the reason is in the lines above.\n')
  process.exitCode = 1
}
