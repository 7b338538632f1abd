import { readFileSync, writeFileSync } from 'node:fs'
import { cpus, loadavg } from 'node:os'
import { resolve } from 'node:path'
import { parseArgs } from 'node:util'
import { measureDrag } from './dragRuns.ts'
import { measureField } from './fieldRuns.ts'
import { frameRun, watchRuns, type FrameRun } from './frameRuns.ts'
import { journeys } from './journeys.ts'
import { modulesPerTable } from './largeSite.ts'
import { buildPage, launch, openMeasured, viewport } from './measurePage.ts'
import { dragTable, frameTable, hitTable, openingTable, fieldTables, type Scene } from './report.ts'
import { speedPlot } from './speedPlot.ts'
import type { StageName } from './stages.ts'

// Draws large sites in a real browser and says what a frame costs, beside an empty canvas and plain Canvas 2D
// in the same run.
//   npm run bench:canvas
//   npm run bench:canvas -- --runs 5 --frames 120 --write
//   npm run bench:canvas -- --only 100k --stages base,everything
const { values } = parseArgs({
  options: {
    runs: { type: 'string', default: '5' },
    frames: { type: 'string', default: '90' },
    only: { type: 'string', default: '100k,1M,turned,field,drag' },
    stages: { type: 'string', default: 'empty,plain,base,bare map,everything' },
    readings: { type: 'string', default: '500' },
    /** Into docs/speed-map.md and its picture. */
    write: { type: 'boolean', default: false },
  },
})
const runs = Number(values.runs)
const frames = Number(values.frames)
const stages = values.stages.split(',') as StageName[]
const wished = values.only.split(',')
const readings = Number(values.readings)

const scenes = [
  { key: '100k', size: { rows: 100, tables: 25, bearingDeg: 90 } },
  { key: '1M', size: { rows: 500, tables: 50, bearingDeg: 90 } },
  { key: 'turned', size: { rows: 100, tables: 25, bearingDeg: 101 } },
].filter(({ key }) => wished.includes(key))

const loadText = () =>
  loadavg()
    .map((load) => load.toFixed(1))
    .join(' / ')
const loadBefore = loadText()
const browser = await launch()
const measuredScenes: Scene[] = []
if (scenes.length > 0) {
  const folder = await buildPage({ root: resolve('tests/bench/canvas/page') })
  for (const { key, size } of scenes) {
    const measured = await openMeasured(browser, folder)
    const taskMs = await watchRuns(measured)
    const { page } = measured
    await page.goto(measured.address)
    const opening = await page.evaluate(([s, n]) => window.speed.open(s, n, 20), [size, readings] as const)
    const found = new Map<string, FrameRun[]>()
    // Stages take turns, so that other work of the machine falls on all of them alike.
    for (let run = 0; run <= runs; run++) {
      for (const journey of journeys) {
        for (const stage of stages) {
          if (stage === 'plain' && size.bearingDeg !== 90) continue
          const times = await page.evaluate(([s, j, n]) => window.speed.go(s, j, n, 'markRun'), [
            stage,
            journey,
            frames,
          ] as const)
          const result = frameRun(times, taskMs())
          // The first round warms up the compiler of the page.
          if (run === 0) continue
          const name = `${journey.name}\t${stage}`
          found.set(name, [...(found.get(name) ?? []), result])
        }
      }
    }
    const hits = await page.evaluate(() => window.speed.hits())
    measuredScenes.push({ key, modules: size.rows * size.tables * modulesPerTable, opening, found, hits })
    await measured.end()
  }
}
const isBuilt = wished.includes('field') || wished.includes('drag')
const program = isBuilt ? await buildPage({ configFile: resolve('vite.config.ts') }) : ''
const field = wished.includes('field') ? await measureField(browser, program, runs, frames) : null
const drag = wished.includes('drag') ? await measureDrag(browser, program, Math.min(runs, 3), frames) : null
await browser.close()

const conditions =
  `${cpus().length} processor cores, Chromium without a graphics card, ${viewport.width} × ${viewport.height} CSS ` +
  `pixels, ${readings} readings and 20 suspects where “everything” is on; ${runs} runs of ${frames} frames each ` +
  `after one to warm up, stages in turn; median (least–most). Load of the machine over 1, 5 and 15 minutes ` +
  `before: ${loadBefore}; after: ${loadText()}.`
const report = [
  conditions,
  ...measuredScenes.flatMap((scene) => [frameTable(scene, stages), openingTable(scene), hitTable(scene)]),
  ...(field ? [fieldTables(field)] : []),
  ...(drag ? [dragTable(drag)] : []),
].join('\n\n')
process.stdout.write(`${report}\n`)

if (values.write) {
  const path = resolve('docs/speed-map.md')
  const text = readFileSync(path, 'utf8')
  const [before, rest] = text.split('<!-- measured -->')
  const [, after] = rest.split('<!-- end of measured -->')
  writeFileSync(path, `${before}<!-- measured -->\n\n${report}\n\n<!-- end of measured -->${after}`)
  writeFileSync(resolve('docs/pictures/speed-map.svg'), speedPlot(measuredScenes, stages))
}
