// Works a site file through in a worker of Chromium, from a built bundle served on this machine only, and prints
// one line of JSON: `node .ci/benchChromium.mjs FILE ROUNDS`. Two visits, each in a browser of its own: one
// round for the memory, then ROUNDS after a first one for the times.
import { copyFileSync, mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { chromium } from 'playwright'
import { build, preview } from 'vite'
import { chromiumFlags, findChromium, findDownloadedChromium } from './chromium.mjs'

const [file, rounds] = process.argv.slice(2)
const root = fileURLToPath(new URL('../tests/bench/network/page', import.meta.url))
const executablePath = findChromium() ?? (await findDownloadedChromium())
if (executablePath === undefined) {
  process.stdout.write('{"missing":"no Chromium was found"}\n')
  process.exit(0)
}

// Pages that share their process with no other origin get a clock of some microseconds.
const headers = {
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Embedder-Policy': 'require-corp',
}
const outDir = mkdtempSync(join(tmpdir(), 'groundweave-bench-'))
const options = { root, configFile: false, base: './', publicDir: false, logLevel: 'error' }
const buildOptions = { outDir, emptyOutDir: true, target: 'es2022' }

/** The largest resident memory in MB that any process which shows pages has had; null where it cannot be read. */
async function peakMemory(browser) {
  try {
    const session = await browser.newBrowserCDPSession()
    const { processInfo } = await session.send('SystemInfo.getProcessInfo')
    const peaks = processInfo
      .filter(({ type }) => type === 'renderer')
      .map(({ id }) => /VmHWM:\s*(\d+) kB/.exec(readFileSync(`/proc/${id}/status`, 'utf8')))
      .map((found) => (Number(found?.[1]) * 1024) / 1e6)
    const peak = Math.max(...peaks)
    return peak > 0 && peak < Infinity ? peak : null
  } catch {
    return null
  }
}

async function visit(address, count) {
  const browser = await chromium.launch({ executablePath, args: chromiumFlags })
  try {
    const page = await browser.newPage()
    await page.goto(`${address}?rounds=${count}`)
    await page.waitForFunction(() => 'benchAnswer' in window, undefined, { timeout: 60_000 })
    const answer = await page.evaluate(() => window.benchAnswer)
    return { answer, peakMB: await peakMemory(browser), version: browser.version() }
  } finally {
    await browser.close()
  }
}

let server
try {
  await build({ ...options, worker: { format: 'es' }, build: buildOptions })
  copyFileSync(file, join(outDir, 'site.json'))
  server = await preview({
    ...options,
    build: { outDir },
    preview: { host: '127.0.0.1', port: 0, open: false, headers },
  })
  const address = server.resolvedUrls.local[0]
  const { peakMB } = await visit(address, 0)
  const { answer, version } = await visit(address, Number(rounds))
  process.stdout.write(`${JSON.stringify({ version, peakMB, rounds: answer })}\n`)
} finally {
  await server?.close()
  rmSync(outDir, { recursive: true, force: true })
}
