import { readFileSync, writeFileSync } from 'node:fs'
import { cpus, loadavg } from 'node:os'
import { resolve } from 'node:path'
import { parseArgs } from 'node:util'
import { buildPage, launch } from '../canvas/measurePage.ts'
import { demoVisits } from './demoVisits.ts'
import { expectedTable, verdictTable, type TimedRun } from './report.ts'
import { timeReadings, type Way } from './timedReadings.ts'

// Enters readings in the built program and says how long the first verdict takes to stand on the screen.
//   npm run bench:keypad
//   npm run bench:keypad -- --readings 100 --sites field --slowdowns 1 --ways keypad --write
const { values } = parseArgs({
  options: {
    readings: { type: 'string', default: '50' },
    sites: { type: 'string', default: 'field,tracker' },
    ways: { type: 'string', default: 'keypad,keyboard' },
    slowdowns: { type: 'string', default: '1,4' },
    /** Into docs/measuring.md. */
    write: { type: 'boolean', default: false },
    /** Prints every reading. */
    each: { type: 'boolean', default: false },
  },
})
const count = Number(values.readings)
const ways = values.ways.split(',') as Way[]
const loadText = () =>
  loadavg()
    .map((load) => load.toFixed(1))
    .join(' / ')

const loadBefore = loadText()
const folder = await buildPage({ configFile: resolve('vite.config.ts') })
const browser = await launch()
const runs: TimedRun[] = []
for (const visit of demoVisits.filter(({ key }) => values.sites.split(',').includes(key))) {
  for (const slowdown of values.slowdowns.split(',').map(Number)) {
    for (const way of ways) {
      const readings = await timeReadings(browser, folder, visit, way, slowdown, count)
      runs.push({ site: visit.name, way, slowdown, readings })
      // a long run that breaks off has told what it had
      process.stderr.write(`${verdictTable(runs.slice(-1)).split('\n').at(-1)}\n`)
      if (!values.each) continue
      for (const { expectedMs, writtenMs, verdictMs, busyMs, words } of readings) {
        const times = [expectedMs, writtenMs, verdictMs, busyMs]
          .map((ms) => ms.toFixed(0).padStart(5))
          .join('')
        process.stderr.write(`${times}  ${words.slice(0, 80)}\n`)
      }
    }
  }
}
const version = browser.version()
await browser.close()

const report = [
  `${cpus().length} processor cores (${cpus()[0].model}) of a machine that does other work too, Chromium ${version} without ` +
    `a graphics card; load over 1, 5 and 15 minutes before: ${loadBefore}, after: ${loadText()}. Every eighth reading is ` +
    `far too high and opens the checks. Slowed: the main thread of the page by the browser's own means; its workers are not.`,
  verdictTable(runs),
  'What a sound array reads for a pair, which the verdict is made of, is asked of the engine as soon as both ends are ' +
    'chosen; as seen from outside the page it took:',
  expectedTable(runs),
].join('\n\n')
process.stdout.write(`${report}\n`)

if (values.write) {
  const path = resolve('docs/measuring.md')
  const [before, rest] = readFileSync(path, 'utf8').split('<!-- measured -->')
  const [, after] = rest.split('<!-- end of measured -->')
  writeFileSync(path, `${before}<!-- measured -->\n\n${report}\n\n<!-- end of measured -->${after}`)
}
