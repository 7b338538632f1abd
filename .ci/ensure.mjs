// Makes a fresh clone ready to run: the right Node, the packages of the lock file and, with --browser, a
// Chromium. Built-ins only, for it runs before anything is installed; everything it says goes to stderr, so
// that a program's own output stays clean. --quiet: speak only of trouble.
import { spawn } from 'node:child_process'
import { createHash } from 'node:crypto'
import { existsSync, readFileSync, writeFileSync } from 'node:fs'
import { basename, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { findChromium, findDownloadedChromium } from './chromium.mjs'
import { onlyOne } from './onlyOne.mjs'

const root = fileURLToPath(new URL('..', import.meta.url))
const lockFile = join(root, 'package-lock.json')
const stamp = join(root, 'node_modules', '.installed-lock')
const busyFile = join(root, '.ensure-busy')
const quiet = process.argv.includes('--quiet')

class Trouble extends Error {}

function say(sentence) {
  if (!quiet) process.stderr.write(`${sentence}\n`)
}

function run(command, args, environment = {}) {
  return new Promise((resolve) => {
    const child = spawn(command, args, {
      cwd: root,
      stdio: ['ignore', quiet ? 'ignore' : 2, 2],
      env: { ...process.env, ...environment },
      shell: process.platform === 'win32' && command === 'npm',
    })
    child.on('error', () => resolve(false))
    child.on('close', (code) => resolve(code === 0))
  })
}

function checkNode() {
  const [major, minor] = process.versions.node.split('.').map(Number)
  if (major > 20 || (major === 20 && minor >= 19)) return
  throw new Trouble(
    `Groundweave needs Node 20.19 or newer and this is ${process.versions.node}. Install a newer Node and try again.`,
  )
}

function wantedPackages() {
  return existsSync(lockFile)
    ? createHash('sha256').update(readFileSync(lockFile)).digest('hex')
    : 'no lock file'
}

function arePackagesInstalled() {
  return existsSync(stamp) && readFileSync(stamp, 'utf8').trim() === wantedPackages()
}

// npm that runs this script, if it was npm; the development packages are needed whatever NODE_ENV says.
function npm(verb) {
  const args = [verb, '--include=dev', '--no-audit', '--no-fund', ...(quiet ? ['--loglevel=error'] : [])]
  const self = process.env['npm_execpath']
  return self && basename(self) === 'npm-cli.js' ? run(process.execPath, [self, ...args]) : run('npm', args)
}

async function installPackages() {
  const wanted = wantedPackages()
  say('Installing the packages that package-lock.json lists ...')
  if (await npm('ci')) {
    writeFileSync(stamp, `${wanted}\n`)
    return
  }
  process.stderr.write('npm ci did not work; trying npm install ...\n')
  if (!(await npm('install')))
    throw new Trouble(
      'The packages could not be installed: the reason is in the lines of npm above. Usual causes are no way ' +
        'to the package registry (network, proxy, npm config get registry) or a full disk. Then try again.',
    )
  writeFileSync(stamp, `${wantedPackages()}\n`)
}

function isUbuntu() {
  try {
    return /^ID=ubuntu$/m.test(readFileSync('/etc/os-release', 'utf8'))
  } catch {
    return false
  }
}

async function browserPath() {
  return findChromium() ?? (await findDownloadedChromium())
}

async function installChromium() {
  const mayInstall = process.platform === 'linux' && process.getuid() === 0 && existsSync('/usr/bin/apt-get')
  // Ubuntu's package of that name is only a pointer to another packaging system.
  if (mayInstall && !isUbuntu()) {
    say('No Chromium found for the browser tests; installing it with apt-get ...')
    const apt = (...args) =>
      run('apt-get', ['-q', '-o', 'DPkg::Lock::Timeout=300', ...args], { DEBIAN_FRONTEND: 'noninteractive' })
    // An update that fails for one source of several may still have found the package.
    await apt('update')
    await apt('install', '-y', '--no-install-recommends', 'chromium')
    if (await browserPath()) return
  }
  say('Downloading a Chromium for the browser tests ...')
  const driver = join(root, 'node_modules', 'playwright-core', 'cli.js')
  await run(process.execPath, [driver, 'install', ...(mayInstall ? ['--with-deps'] : []), 'chromium'])
  if (await browserPath()) return
  throw new Trouble(
    'There is no Chromium for the browser tests and none could be installed. Install Chromium or Chrome, or ' +
      'set CHROMIUM_PATH to the program, and try again. npm run test:node runs the tests that need no browser.',
  )
}

function checkWishedBrowser() {
  const wished = process.env['CHROMIUM_PATH']
  if (wished && !existsSync(wished))
    throw new Trouble(`CHROMIUM_PATH says ${wished}, but there is no such file. Correct it or unset it.`)
}

async function ensure() {
  checkNode()
  const wantsBrowser = process.argv.includes('--browser')
  if (wantsBrowser) checkWishedBrowser()
  const isReady = async () => arePackagesInstalled() && (!wantsBrowser || (await browserPath()) !== undefined)
  if (await isReady()) return
  const waiting = () => say('Another process is installing; waiting for it ...')
  await onlyOne(
    busyFile,
    async () => {
      if (!arePackagesInstalled()) await installPackages()
      if (wantsBrowser && !(await browserPath())) await installChromium()
    },
    waiting,
  )
}

try {
  await ensure()
} catch (error) {
  process.stderr.write(`${error instanceof Trouble ? error.message : error.stack}\n`)
  process.exitCode = 1
}
