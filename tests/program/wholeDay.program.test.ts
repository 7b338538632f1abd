import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { chromium, type BrowserContext, type Page } from 'playwright'
import { afterEach, beforeEach, expect, it } from 'vitest'
import { chromiumFlags, findChromium, findDownloadedChromium } from '../../.ci/chromium.mjs'
import type { Site } from '../../src/model/schema/site.ts'
import { keypadHand } from './keypadHand.ts'
import { chooseEnd, givesFiles, keptRecord, openVisit, readingsOf, savedSite } from './measuringPage.ts'
import { serveBuild, watch, type ServedBuild } from './servedBuild.ts'
import { sayNoVolts, storyPage } from './storyPage.ts'

const demoReadings = 50
const patience = { timeout: 60_000 }
const base = 'R1/T4/L1.6'

interface Pair {
  readonly to: string
  readonly milliohm: number
}

/** Frames of the field demo, each with what the meter shows for it: one in forty is far too high. */
const pairs: readonly Pair[] = [1, 3, 5, 7, 9].flatMap((column, c) =>
  [1, 2, 3, 4, 5, 6].flatMap((row, r) =>
    [1, 2, 3, 4, 5, 6, 7, 8].map((table, t) => {
      const n = c * 48 + r * 8 + t
      return { to: `R${row}/T${table}/F1.${column}`, milliohm: n % 40 === 39 ? 1400 : 20 + 10 * (n % 6) }
    }),
  ),
)
const [online, ...rest] = pairs
const keyed = rest.slice(0, 120)
const listed = rest.slice(120, 200)
const all = [online, ...keyed, ...listed]

let served: ServedBuild
let profile: string
let context: BrowserContext

beforeEach(async () => {
  served = await serveBuild()
  profile = mkdtempSync(join(tmpdir(), 'groundweave-day-'))
})
afterEach(async () => {
  await context.close()
  await served.end()
  rmSync(profile, { recursive: true, force: true, maxRetries: 5 })
})

/** A tablet in the hand; it finds again what it kept. */
async function tablet(): Promise<Page> {
  context = await chromium.launchPersistentContext(profile, {
    executablePath: findChromium() ?? (await findDownloadedChromium()),
    args: chromiumFlags,
    viewport: { width: 820, height: 1180 },
    hasTouch: true,
    isMobile: true,
  })
  context.setDefaultTimeout(patience.timeout)
  await givesFiles(context)
  return context.pages()[0] ?? (await context.newPage())
}

/** The list as another instrument wrote it: semicolons, and commas in the numbers. */
function listOf(lines: readonly Pair[]) {
  const text = lines.map(
    ({ to, milliohm }) => `${base};${to};${(milliohm / 1000).toFixed(2).replace('.', ',')}`,
  )
  const buffer = Buffer.from(`from;to;ohm\r\n${text.join('\r\n')}\r\n`)
  return { name: 'other-meter.csv', mimeType: 'text/csv', buffer }
}

/** Every reading of the day stands in a record once, with its value, and nothing else was added. */
function expectWhole(site: Pick<Site, 'record'>): void {
  const added = readingsOf(site).slice(demoReadings)
  const told = added.map(({ from, to, result }) => [from.part, to.part, result.form === 'ohm' && result.ohm])
  const due = all.map(({ to, milliohm }) => [base, to, milliohm / 1000])
  const sorted = (rows: readonly unknown[]) => rows.map((row) => JSON.stringify(row)).sort()
  expect(sorted(told)).toEqual(sorted(due))
  expect(new Set(site.record.map(({ id }) => id)).size).toBe(site.record.length)
}

it('a whole day: first online, then without a net; 200 readings by keypad and by a list, a reload amid an entry, and each is kept once', async () => {
  let page = await tablet()
  const watched = watch(context, served.address)
  const story = () => storyPage(page)
  const count = (readings: number) =>
    page.getByRole('tabpanel').getByText(`${readings} readings`, { exact: true }).waitFor(patience)
  const toMeasure = () => page.getByRole('tab', { name: 'Measure' }).click()

  await page.goto(served.address)
  await page.evaluate(async () => {
    await navigator.serviceWorker.ready
  })
  await story().endIntroduction()
  await toMeasure()
  await openVisit(page)
  await chooseEnd(page, 'From', base)
  const first = keypadHand(page)
  await chooseEnd(page, 'To', online.to)
  await sayNoVolts(page)
  await first.press(`${online.milliohm}`)
  await page.getByRole('button', { name: 'Nulled now' }).click()
  await count(demoReadings + 1)
  await story().saved()

  // the van drives on, beyond the last mast
  await served.stop()
  await page.close()
  page = await context.newPage()
  await page.goto(served.address)
  await toMeasure()
  await count(demoReadings + 1)
  const { press, type } = keypadHand(page)
  const later = page.getByRole('button', { name: 'Later' })
  await chooseEnd(page, 'From', base)
  for (const [k, { to, milliohm }] of keyed.entries()) {
    await chooseEnd(page, 'To', to)
    await sayNoVolts(page)
    if (k === 60) {
      await type(`${milliohm}`)
      await page.reload()
      await toMeasure()
      await page.getByText(/^Kept from before/).waitFor(patience)
      expect(await story().resistance.inputValue()).toBe(`${milliohm}`)
      expect(await page.getByRole('combobox', { name: 'To', exact: true }).inputValue()).toBe(to)
      await press('')
    } else await press(`${milliohm}`)
    await count(demoReadings + 2 + k)
    if (await later.isVisible()) await later.click()
  }

  await page.getByRole('button', { name: 'Readings from a list …' }).click()
  const dialog = page.getByRole('dialog', { name: 'Readings from a list' })
  const file = dialog.getByLabel('File with readings')
  const broken = listed.map((pair, k) => (k === 40 ? { ...pair, to: 'R9/T1/F1.1' } : pair))
  await file.setInputFiles(listOf(broken))
  await dialog.getByText(/^79 readings of 80 lines can be recorded\. 1 line is rejected/).waitFor(patience)
  await dialog
    .getByRole('list', { name: 'Rejected lines' })
    .getByText(/^to, line 42: .*“R9\/T1\/F1\.1”/)
    .waitFor()
  expect(
    await dialog
      .getByRole('button', { name: 'Record 79 readings', exact: true })
      .getAttribute('aria-disabled'),
  ).toBe('true')
  await file.setInputFiles(listOf(listed))
  await dialog.getByRole('button', { name: 'Record 80 readings', exact: true }).click(patience)
  await dialog.getByText(/^80 readings recorded from list/).waitFor(patience)
  await dialog.getByRole('button', { name: 'Close' }).last().click()
  await count(demoReadings + all.length)
  await story().saved()
  const { site } = await savedSite(page)
  expectWhole(site)
  expect(watched).toEqual({ strayRequests: [], complaints: [] })

  await context.close()
  page = await tablet()
  await page.goto(served.address)
  await toMeasure()
  await count(demoReadings + all.length)
  const kept = await keptRecord(page)
  expectWhole(kept)
  expect(kept.record.map(({ id }) => id)).toEqual(site.record.map(({ id }) => id))
}, 1_800_000)
