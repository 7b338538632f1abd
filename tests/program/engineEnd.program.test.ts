import { readFileSync } from 'node:fs'
import type { Browser, BrowserContext } from 'playwright'
import { afterAll, afterEach, beforeAll, beforeEach, expect, it } from 'vitest'
import { launchChromium, serveBuild, watch, type ServedBuild, type Watched } from './servedBuild.ts'
import { storyPage } from './storyPage.ts'

const demoText = readFileSync(new URL('../../demo-data/field.json', import.meta.url), 'utf8')
const demo = JSON.parse(demoText) as { record: { entry: string }[] }
const demoReadings = demo.record.filter(({ entry }) => entry === 'reading').length

let browser: Browser
let served: ServedBuild
let context: BrowserContext
let watched: Watched

beforeAll(async () => {
  browser = await launchChromium()
})
afterAll(() => browser.close())
beforeEach(async () => {
  served = await serveBuild()
  context = await browser.newContext({ viewport: { width: 1180, height: 820 } })
  watched = watch(context, served.address)
})
afterEach(async () => {
  await context.close()
  await served.end()
})

it('a reading is ranked although the worker closed itself without a word', async () => {
  const story = storyPage(await context.newPage())
  const { page, panel, resistance } = story
  await story.open(served.address)
  await story.endIntroduction()
  const [worker] = page.workers()
  const isGone = new Promise((resolve) => worker.once('close', resolve))
  await worker.evaluate(() => self.close())
  await isGone
  await page.getByRole('tab', { name: 'Measure' }).click()
  for (const [field, address] of [
    ['From', 'R4/T4/L1.5'],
    ['To', 'R4/T5/L1.5'],
  ]) {
    await panel.getByRole('combobox', { name: field, exact: true }).fill(address)
    await page.keyboard.press('Enter')
  }
  await story.sayNoVolts()
  await resistance.fill('0.03')
  await resistance.press('Enter')
  await story.sayNulled()
  await story.counted(demoReadings + 1)
  await story.ranked()
  await story.firstSuspect.click()
  await story.weighed(demoReadings + 1)
  expect(page.workers()).toHaveLength(1)
  expect(page.workers()[0]).not.toBe(worker)
  expect(watched).toEqual({ strayRequests: [], complaints: [] })
})
