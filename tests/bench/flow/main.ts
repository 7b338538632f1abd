import { readFileSync, writeFileSync } from 'node:fs'
import { cpus, loadavg } from 'node:os'
import { resolve } from 'node:path'
import { parseArgs } from 'node:util'
import type { CDPSession, Page } from 'playwright'
import { serveFolder } from '../../program/staticServer.ts'
import { buildPage, launch } from '../canvas/measurePage.ts'

// What the moving dashes of a fault cost a frame, on the field demo in the built program.
//   npm run bench:flow
//   npm run bench:flow -- --seconds 8 --write
const { values } = parseArgs({
  options: {
    seconds: { type: 'string', default: '5' },
    /** Into docs/fault-screen.md. */
    write: { type: 'boolean', default: false },
  },
})

interface Lap {
  readonly name: string
  readonly framesPerS: number
  readonly medianMs: number
  readonly p95Ms: number
  readonly scriptMs: number
  readonly taskMs: number
}

async function busy(devtools: CDPSession) {
  const { metrics } = await devtools.send('Performance.getMetrics')
  const secondsOf = (name: string) => metrics.find((metric) => metric.name === name)?.value ?? 0
  return { script: secondsOf('ScriptDuration'), task: secondsOf('TaskDuration') }
}

/** Frames of so many seconds, counted by a loop that does nothing else; what the main thread did beside. */
async function lap(page: Page, devtools: CDPSession, name: string, seconds: number): Promise<Lap> {
  const before = await busy(devtools)
  const gaps = await page.evaluate(
    (forMs) =>
      new Promise<number[]>((done) => {
        const found: number[] = []
        let last = performance.now()
        const end = last + forMs
        const next = (now: number) => {
          found.push(now - last)
          last = now
          if (now < end) requestAnimationFrame(next)
          else done(found)
        }
        requestAnimationFrame(next)
      }),
    1000 * seconds,
  )
  const after = await busy(devtools)
  const sorted = [...gaps].sort((a, b) => a - b)
  return {
    name,
    framesPerS: gaps.length / seconds,
    medianMs: sorted[Math.floor(sorted.length / 2)],
    p95Ms: sorted[Math.floor(0.95 * sorted.length)],
    scriptMs: (1000 * (after.script - before.script)) / gaps.length,
    taskMs: (1000 * (after.task - before.task)) / gaps.length,
  }
}

const seconds = Number(values.seconds)
const loadBefore = loadavg()[0].toFixed(1)
const server = await serveFolder(await buildPage({ configFile: resolve('vite.config.ts') }))
const browser = await launch()
const context = await browser.newContext({ viewport: { width: 1280, height: 800 } })
const page = await context.newPage()
await page.addInitScript(() => {
  localStorage.setItem('groundweave-preferences', JSON.stringify({ workspace: 'fault', storySeen: true }))
})
await page.goto(server.address)
await page.getByRole('button', { name: 'Sources and devices' }).click()
await page.getByRole('button', { name: 'An AC phase' }).click()
const place = page.getByRole('combobox', { name: 'The fault is at' })
await place.fill('R3/T6/F2.5')
await place.press('Enter')
const held = page.getByRole('switch', { name: 'Hold the dashes still' })
await held.waitFor()
// what the start of the page leaves to be done is not the dashes'
await page.waitForTimeout(3000)
const devtools = await context.newCDPSession(page)
await devtools.send('Performance.enable')
const laps: Lap[] = []
const twice = async (name: string) => {
  laps.push(await lap(page, devtools, `${name}, dashes moving`, seconds))
  await held.click()
  await page.waitForTimeout(500)
  laps.push(await lap(page, devtools, `${name}, held still`, seconds))
  await held.click()
}
await twice('the whole site')
for (let k = 0; k < 4; k++) await page.getByRole('button', { name: 'Closer', exact: true }).click()
await page.waitForTimeout(1000)
await twice('four steps closer')
const version = browser.version()
await browser.close()
await server.stop()

const rows = laps.map(({ name, framesPerS, medianMs, p95Ms, scriptMs, taskMs }) => {
  const cells = [framesPerS, medianMs, p95Ms, scriptMs, taskMs].map((value) => value.toFixed(1))
  return `| ${name} | ${cells.join(' | ')} |`
})
const report = [
  `${cpus().length} processor cores (${cpus()[0].model}) of a machine that does other work too, Chromium ${version} without a ` +
    `graphics card, 1280 × 800; load over 1 minute before: ${loadBefore}, after: ${loadavg()[0].toFixed(1)}. An AC phase on a frame ` +
    'of the field demo. Script and all tasks: time of the page’s main thread a frame, by the browser’s own count.',
  [
    '| view | frames a second | between frames, median ms | 95 % ms | script ms a frame | all tasks ms a frame |',
    '|---|---|---|---|---|---|',
    ...rows,
  ].join('\n'),
].join('\n\n')
process.stdout.write(`${report}\n`)
if (values.write) {
  const path = resolve('docs/fault-screen.md')
  const [before, rest] = readFileSync(path, 'utf8').split('<!-- measured -->')
  const [, after] = rest.split('<!-- end of measured -->')
  writeFileSync(path, `${before}<!-- measured -->\n\n${report}\n\n<!-- end of measured -->${after}`)
}
