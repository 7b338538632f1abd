// Finds a Chromium for the browser tests: CHROMIUM_PATH first, then the places systems put one, then the
// test driver's own download.
import { spawnSync } from 'node:child_process'
import { existsSync } from 'node:fs'

const usualPlaces = [
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/usr/bin/google-chrome-stable',
  '/snap/bin/chromium',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
  'C:\\Program Files (x86)\\Google\\Chrome\\Application\\chrome.exe',
]

/** What a Chromium is started with for tests: without a screen, and without any traffic of its own. */
export const chromiumFlags = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
]

// Some systems put a script in the usual place that only says where to get a browser.
function answers(path) {
  if (process.platform !== 'linux') return true
  const asked = spawnSync(path, ['--version'], { stdio: ['ignore', 'pipe', 'ignore'], timeout: 30_000 })
  return asked.status === 0 && /\d+\.\d+/.test(String(asked.stdout))
}

/** @returns {string | undefined} path of an installed Chromium, or undefined when there is none */
export function findChromium() {
  const wished = process.env['CHROMIUM_PATH']
  if (wished) return wished
  return usualPlaces.find((place) => existsSync(place) && answers(place))
}

/** @returns {Promise<string | undefined>} path of the Chromium that the test driver downloaded, if it did */
export async function findDownloadedChromium() {
  const { chromium } = await import('playwright-core')
  const path = chromium.executablePath()
  return path && existsSync(path) ? path : undefined
}
