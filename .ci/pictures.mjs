// Takes the pictures of the README and the docs from the running program: `npm run pictures`, or some of them by
// name: `npm run pictures -- tracker-located`.
import { mkdirSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { chromium } from 'playwright'
import { build, preview } from 'vite'
import { chromiumFlags, findChromium, findDownloadedChromium } from './chromium.mjs'

const root = fileURLToPath(new URL('..', import.meta.url))
const pictures = join(root, 'docs', 'pictures')
const outDir = mkdtempSync(join(tmpdir(), 'groundweave-pictures-'))
const wanted = process.argv.slice(2)
mkdirSync(pictures, { recursive: true })

const configFile = join(root, 'vite.config.ts')
await build({ configFile, logLevel: 'error', build: { outDir } })
const server = await preview({
  configFile,
  logLevel: 'error',
  build: { outDir },
  preview: { host: '127.0.0.1', port: 0, open: false },
})
const address = server.resolvedUrls.local[0]
const executablePath = findChromium() ?? (await findDownloadedChromium())
const browser = await chromium.launch({ executablePath, args: chromiumFlags })

/** One picture: a fresh visitor at this size, in this theme, after these steps. */
async function take(name, [width, height], theme, steps = async () => {}) {
  if (wanted.length > 0 && !wanted.includes(name)) return
  const context = await browser.newContext({ viewport: { width, height }, hasTouch: width < 1000 })
  const page = await context.newPage()
  await page.addInitScript((kept) => localStorage.setItem('groundweave-preferences', JSON.stringify(kept)), {
    theme,
    workspace: 'locate',
    storySeen: true,
    lastSite: null,
  })
  await page.goto(address)
  await page.getByText('Lead for inspection').first().waitFor({ timeout: 60_000 })
  await steps(page)
  await page.waitForTimeout(1200)
  await page.screenshot({ path: join(pictures, `${name}.png`) })
  await context.close()
}

const chooseFirst = (page) =>
  page
    .getByRole('button', { name: /Jumper between/ })
    .first()
    .click()
/** Opens the tracker plant; its first ranking is some seconds of work. */
const openTracker = async (page) => {
  await page.getByRole('button', { name: /^Open the list of sites/ }).click()
  await page.getByRole('button', { name: 'Open Ostermoor Plain' }).click()
  await page
    .getByText(/jumper between table 78/)
    .first()
    .waitFor({ timeout: 300_000 })
  await chooseFirst(page)
}
/** A row of the field is chosen and dragged; the picture is taken while the hand still holds it. */
const drag = async (page) => {
  await page.getByRole('tab', { name: 'Draw' }).click()
  const box = await page.getByRole('application').boundingBox()
  const at = (x, y) => [box.x + x * box.width, box.y + y * box.height]
  await page.mouse.click(...at(0.5, 0.45))
  await page.getByRole('region', { name: 'What is chosen' }).waitFor()
  await page.mouse.move(...at(0.5, 0.45))
  await page.mouse.down()
  await page.mouse.move(...at(0.51, 0.42), { steps: 4 })
  await page.mouse.move(...at(0.52, 0.38), { steps: 4 })
}
/** The report of the field, opened from the ranking. */
const report = async (page) => {
  await page.getByRole('button', { name: 'Report and test sheet' }).click()
  await page.getByRole('heading', { name: 'Report of bonding tests' }).waitFor({ timeout: 60_000 })
}
/** A plan of the field, what it would show, and the way through it. */
const plan = async (page) => {
  await page.getByRole('tab', { name: 'Plan' }).click()
  await page
    .getByText(/would show if one/)
    .first()
    .waitFor({ timeout: 120_000 })
  await page.getByRole('region', { name: 'The walk' }).waitFor({ timeout: 120_000 })
}
/** An AC fault on a frame of the field, with the volts of parts and of the ground. */
const fault = async (page) => {
  await page.getByRole('tab', { name: 'Fault current' }).click()
  await page.getByRole('combobox', { name: /The fault is at/ }).fill('R4/T5/F2.3')
  await page.keyboard.press('Enter')
  await page
    .getByRole('combobox', { name: 'Source' })
    .selectOption({ label: 'Auxiliary supply of inverter 1' })
  await page
    .getByText(/frame 2.3, table 4-05.* to Main earth bar/i)
    .first()
    .waitFor({ timeout: 60_000 })
  await page.getByRole('switch', { name: /Volts of the ground/ }).click()
  await page.waitForTimeout(4000)
  await page.getByRole('region', { name: 'Where the current goes' }).scrollIntoViewIfNeeded()
}
const measure = (page) => page.getByRole('tab', { name: 'Measure' }).click()

try {
  await take('field-located', [1440, 860], 'light', chooseFirst)
  await take('field-plan', [1440, 960], 'light', plan)
  await take('field-fault', [1440, 960], 'light', fault)
  await take('field-report', [1440, 1000], 'light', report)
  await take('field-drawing', [1440, 860], 'light', drag)
  await take('field-measure-sunlight', [1180, 820], 'sunlight', measure)
  await take('field-phone-dark', [390, 844], 'dark')
  await take('tracker-located', [1440, 860], 'light', openTracker)
} finally {
  await browser.close()
  await server.close()
  rmSync(outDir, { recursive: true, force: true })
}
process.stdout.write(`Pictures are in ${pictures}\n`)
