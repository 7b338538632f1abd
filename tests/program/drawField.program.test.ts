import { readFileSync } from 'node:fs'
import type { Browser, BrowserContext } from 'playwright'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { assert } from '../../src/base/assert.ts'
import { randomStream } from '../../src/base/random.ts'
import { openSite } from '../../src/files/openSite.ts'
import { partPositionM } from '../../src/layout/positions.ts'
import { indexSite } from '../../src/layout/siteIndex.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { compileNetwork } from '../../src/network/compile.ts'
import { pairResistance } from '../../src/network/pairResistance.ts'
import { prepareNetwork } from '../../src/network/prepare.ts'
import { runToEnd } from '../network/runToEnd.ts'
import { drawPage, type DrawPage } from './drawPage.ts'
import { launchChromium, serveBuild, watch, type ServedBuild } from './servedBuild.ts'

const mostGestures = 60

let browser: Browser
let served: ServedBuild

beforeAll(async () => {
  browser = await launchChromium()
  served = await serveBuild()
})
afterAll(async () => {
  await browser.close()
  await served.end()
})

function openFile(path: string): Site {
  const opened = openSite(readFileSync(path), path)
  assert(opened.ok, `${path} does not open`)
  return opened.value
}

/** The network that a site is, for comparing it with another. */
function networkOf(site: Site) {
  const index = indexSite(site.drawing)
  assert(index.ok, 'a drawn site has an index')
  const compiled = runToEnd(
    compileNetwork(site.drawing, index.value, { countIncidental: true, asBuilt: true }),
  )
  assert(compiled.ok, 'a drawn site has a network')
  const { solver } = runToEnd(prepareNetwork(compiled.value))
  return { index: index.value, network: compiled.value, factor: solver.factor }
}

/** Larkmoor Field from an empty site: a table type, six rows, inverter, bar, rods and conductors. */
async function drawField(draw: DrawPage): Promise<void> {
  const { page, panel, map } = draw
  const button = (name: string | RegExp) => page.getByRole('button', { name })
  await draw.press(button(/^Open the list of sites/))
  await draw.press(button('New empty site'))
  await map.waitFor()

  await draw.press(button('New type from a pattern'))
  await draw.press(page.getByRole('menuitem', { name: /^Fixed tilt, 2 high portrait/ }))
  const editor = page.getByRole('dialog', { name: 'New table type' })
  await draw.type('Modules across', '10', editor)
  await draw.type('Tilt', '25', editor)
  await draw.type(/^Outer rails in from/, '0.5', editor)
  await draw.type('Metal area of each rail', '420', editor)
  await draw.type('Stations of cross members and posts', '2, 5, 8, 10', editor)
  await draw.press(editor.getByRole('button', { name: 'Keep this type' }))

  await draw.press(panel.getByRole('button', { name: 'Site and catalogue' }))
  await draw.type('Temperature of the metal', '18')

  await draw.press(panel.getByRole('radio', { name: 'Row' }))
  await draw.type('Gap between tables', '0.52')
  await draw.drag({ x: 0, y: 0 }, { x: 96, y: 0 })

  await draw.press(panel.getByRole('radio', { name: 'Repeat' }))
  await draw.type('From one to the next', '6.5')
  await draw.type('How many more', '5')
  await draw.drag({ x: 30, y: 2 }, { x: 30, y: 40 })

  const next = panel.getByRole('region', { name: 'The next piece of equipment' })
  const chosen = panel.getByRole('region', { name: 'What is chosen' })
  await draw.press(panel.getByRole('radio', { name: 'Equipment' }))
  await draw.type('Width', '1.1', next)
  await draw.type('Bearing', '90', next)
  await draw.tap({ x: -3, y: 17 })
  await draw.type('x, east', '-2.6', chosen)
  await draw.type('y, north', '16.6', chosen)
  await draw.pick('What', 'Earth bar')
  await draw.tap({ x: -8, y: 25 })
  await draw.type('x, east', '-1.2', chosen)
  await draw.type('y, north', '16.6', chosen)

  await draw.press(panel.getByRole('radio', { name: 'Electrode' }))
  await draw.tap({ x: 0, y: -3 })
  await draw.tap({ x: 0, y: 40 })

  await draw.press(panel.getByRole('radio', { name: 'Conductor' }))
  await draw.pick('Size', '35 mm²')
  const rail = 0.5 * Math.cos((25 * Math.PI) / 180)
  await draw.tap({ x: 0, y: -3 })
  for (const row of [0, 1, 2]) await draw.tap({ x: 0, y: 6.5 * row + rail })
  await draw.tap({ x: -1.2, y: 16.6 })
  for (const row of [3, 4, 5]) await draw.tap({ x: 0, y: 6.5 * row + rail })
  await draw.tap({ x: 0, y: 40 })
  await draw.key('Enter')
  const smaller = panel.getByRole('region', { name: 'The next conductor' })
  await draw.pick('Size', '16 mm²', smaller)
  await draw.tap({ x: -1.2, y: 16.6 })
  await draw.tap({ x: -2.6, y: 16.6 })
  await draw.key('Enter')
}

async function fileOf(draw: DrawPage, context: BrowserContext): Promise<Site> {
  const { page } = draw
  expect(context.pages()).toContain(page)
  await page.getByRole('button', { name: /^Open the list of sites/ }).click()
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save to a file' }).click(),
  ])
  await page.keyboard.press('Escape')
  return openFile(await download.path())
}

describe('Larkmoor Field, drawn from nothing', () => {
  it('takes at most 60 gestures and typed fields, and is the same site to a millimetre and an ohm', async () => {
    const context = await browser.newContext({ viewport: { width: 1600, height: 1000 } })
    const watched = watch(context, served.address)
    const page = await context.newPage()
    page.setDefaultTimeout(10_000)
    // a file is then handed over as a download, which a test can read
    await page.addInitScript(() => Reflect.deleteProperty(window, 'showSaveFilePicker'))
    await page.goto(served.address)
    await page.getByRole('button', { name: 'Skip' }).click()
    const draw = drawPage(page)
    await drawField(draw)
    expect(draw.gestures()).toBeLessThanOrEqual(mostGestures)

    const drawn = await fileOf(draw, context)
    const demo = openFile('demo-data/field.json')
    const [a, b] = [networkOf(drawn), networkOf(demo)]
    expect(a.index.partCount).toBe(b.index.partCount)
    expect(a.index.jointCount).toBe(b.index.jointCount)
    for (let part = 0; part < b.index.partCount; part++) {
      const [at, wanted] = [partPositionM(a.index, part)!, partPositionM(b.index, part)!]
      expect(Math.hypot(at.x - wanted.x, at.y - wanted.y), `part ${part}`).toBeLessThan(0.001)
    }
    expect(a.network.graph.from).toEqual(b.network.graph.from)
    expect(a.network.graph.to).toEqual(b.network.graph.to)
    const kindsOf = ({ kinds, kind }: typeof a.network) => Array.from(kind, (k) => kinds[k].id)
    expect(kindsOf(a.network)).toEqual(kindsOf(b.network))
    for (let edge = 0; edge < b.network.edgeCount; edge++) {
      // lengths of wire that were drawn to a tenth of a millimetre
      expect(a.network.medianOhm[edge] / b.network.medianOhm[edge]).toBeCloseTo(1, 3)
    }
    const random = randomStream(60)
    for (let k = 0; k < 1000; k++) {
      const [from, to] = [random.integer(b.index.partCount), random.integer(b.index.partCount)]
      if (from === to) continue
      const ohm = pairResistance(a.factor, from, to)
      const wanted = pairResistance(b.factor, from, to)
      expect(ohm / wanted, `${from} to ${to}`).toBeCloseTo(1, 4)
    }

    // back to the empty site and forth again
    const undo = page.getByRole('button', { name: /^Undo/ })
    const redo = page.getByRole('button', { name: /^Redo/ })
    let steps = 0
    for (; steps < 100 && (await undo.getAttribute('aria-disabled')) !== 'true'; steps++) await undo.click()
    const empty = await fileOf(draw, context)
    expect(empty.drawing.rows).toEqual([])
    expect(empty.drawing.tableTypes).toEqual([])
    for (let step = 0; step < steps; step++) await redo.click()
    expect(await fileOf(draw, context)).toEqual(drawn)
    expect(watched.complaints).toEqual([])
    expect(watched.strayRequests).toEqual([])
    await context.close()
  })
})
