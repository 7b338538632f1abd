import type { Browser, BrowserContextOptions, Page } from 'playwright'
import { serveFolder } from '../../program/staticServer.ts'
import { formatReadOhm } from '../../../src/text/ohms.ts'
import { shownOhm, type DemoVisit } from './demoVisits.ts'
import { watchVerdict } from './watchVerdict.ts'

export type Way = 'keypad' | 'keyboard'

export interface TimedReading {
  /** From the second end chosen until the form says what a sound array reads, ms. */
  readonly expectedMs: number
  /** From the press that records the reading until its verdict is shown, ms. */
  readonly verdictMs: number
  /** Of that: until the words stand in the document, ms. */
  readonly writtenMs: number
  /** Processor time of the page's main thread meanwhile, ms: it hardly hangs on what else the machine does. */
  readonly busyMs: number
  readonly words: string
}

const patience = { timeout: 300_000 }

/** A tablet in the hand for the large keys, a screen with a keyboard for the other. */
const screens: Readonly<Record<Way, BrowserContextOptions>> = {
  keypad: { viewport: { width: 820, height: 1180 }, hasTouch: true, isMobile: true },
  keyboard: { viewport: { width: 1280, height: 800 } },
}

/** Opens a visit in a demo site of the built program and enters so many readings, each of another pair. */
export async function timeReadings(
  browser: Browser,
  folder: string,
  visit: DemoVisit,
  way: Way,
  slowdown: number,
  count: number,
): Promise<TimedReading[]> {
  const server = await serveFolder(folder)
  const context = await browser.newContext(screens[way])
  try {
    const page = await context.newPage()
    page.on('pageerror', (error) => process.stderr.write(`the page says: ${error.message}\n`))
    await page.addInitScript(watchVerdict)
    await page.addInitScript((kept) => localStorage.setItem('groundweave-preferences', kept), preferences)
    await page.goto(server.address)
    await openVisit(page, visit)
    await chooseEnd(page, 'From', visit.from)
    const session = await context.newCDPSession(page)
    await session.send('Performance.enable', { timeDomain: 'threadTicks' })
    const busyMs = async () => {
      const { metrics } = await session.send('Performance.getMetrics')
      return 1000 * (metrics.find((metric) => metric.name === 'TaskDuration')?.value ?? NaN)
    }
    // Chromium slows the main thread of the page; its workers go on as they are.
    await session.send('Emulation.setCPUThrottlingRate', { rate: slowdown })
    const timed: TimedReading[] = []
    // the first one opens the question whether the leads are nulled, and warms the page up
    for (let n = 0; n <= count; n++) {
      const reading = await timeOne(page, visit.to[n % visit.to.length], way, shownOhm(n), n === 0, busyMs)
      if (n > 0) timed.push(reading)
    }
    return timed
  } finally {
    await context.close()
    await server.stop()
  }
}

const preferences = JSON.stringify({
  theme: 'light',
  workspace: 'measure',
  storySeen: true,
  lastSite: null,
})

const panelOf = (page: Page) => page.getByRole('tabpanel')

async function openVisit(page: Page, { key, name }: DemoVisit): Promise<void> {
  if (key !== 'field') {
    await page.getByRole('button', { name: /^Open the list of sites/ }).click(patience)
    await page.getByRole('button', { name: `Open ${name}` }).click()
  }
  await page.getByRole('application', { name: `Map of ${name}` }).waitFor(patience)
  await page.getByRole('tab', { name: 'Measure' }).click()
  const card = panelOf(page).getByRole('region', { name: 'Visit' })
  await card.getByRole('button', { name: 'Open a visit' }).click(patience)
  await card.getByRole('textbox', { name: 'Who measures' }).fill('A. Rowan')
  await card.getByRole('button', { name: 'Open the visit' }).click()
  await card.getByText(/^A\. Rowan · /).waitFor()
}

async function chooseEnd(page: Page, name: 'From' | 'To', address: string): Promise<void> {
  await page.getByRole('combobox', { name, exact: true }).fill(address)
  await page.keyboard.press('Enter')
}

async function timeOne(
  page: Page,
  to: string,
  way: Way,
  ohm: number,
  isFirst: boolean,
  busyMs: () => Promise<number>,
): Promise<TimedReading> {
  const panel = panelOf(page)
  await chooseEnd(page, 'To', to)
  const chosen = performance.now()
  const allZero = panel.getByRole('button', { name: 'All four read 0.0 V' })
  const resistance = panel.getByRole('textbox', { name: 'Resistance' })
  if (isFirst) await allZero.click(patience)
  await panel.getByText(/^A sound array reads /).waitFor(patience)
  const expectedMs = performance.now() - chosen
  const before = await page.evaluate(() => window.verdictWatch.arm())
  if (before !== '') throw new Error(`a verdict stands there before anything is entered: ${before}`)
  if (way === 'keypad') await pressDigits(page, ohm)
  else await resistance.pressSequentially(`${ohm.toFixed(2)}`)
  const busyBefore = await busyMs()
  if (way === 'keypad') await keysOf(page).getByRole('button', { name: 'Enter the reading' }).tap()
  else await page.keyboard.press('Enter')
  if (isFirst) await panel.getByRole('button', { name: 'Nulled now' }).click()
  await page.waitForFunction(() => window.verdictWatch.times !== null, undefined, patience)
  const busy = (await busyMs()) - busyBefore
  const { pressedAt, writtenAt, shownAt, words } = (await page.evaluate(() => window.verdictWatch.times))!
  if (!words.includes(formatReadOhm(ohm))) throw new Error(`not of ${ohm} ohms: ${words}`)
  const later = panel.getByRole('button', { name: 'Later' })
  if (await later.isVisible()) await later.click()
  const [verdictMs, writtenMs] = [shownAt - pressedAt, writtenAt - pressedAt]
  return { expectedMs, verdictMs, writtenMs, busyMs: busy, words }
}

const keysOf = (page: Page) => page.getByRole('group', { name: 'Keys for the resistance' })

async function pressDigits(page: Page, ohm: number): Promise<void> {
  const isMilli = await page.getByRole('radio', { name: 'mΩ', exact: true }).isChecked()
  for (const digit of isMilli ? `${Math.round(1000 * ohm)}` : ohm.toFixed(2)) {
    await keysOf(page)
      .getByRole('button', { name: digit === '.' ? 'point' : digit, exact: true })
      .tap()
  }
}
