import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Browser, BrowserContext, Page } from 'playwright'
import { afterAll, afterEach, beforeAll, beforeEach, expect, it } from 'vitest'
import { launchChromium, serveBuild, watch, type ServedBuild, type Watched } from './servedBuild.ts'
import { storyPage } from './storyPage.ts'

const demo = JSON.parse(readFileSync(new URL('../../demo-data/field.json', import.meta.url), 'utf8')) as {
  id: string
  drawing: { facts: { anchor: unknown } }
}
const anchor = { latitudeDeg: 52, longitudeDeg: 5, bearingDeg: 0 }
let browser: Browser
let served: ServedBuild
let context: BrowserContext
let page: Page
let watched: Watched
let folder: string

beforeAll(async () => {
  browser = await launchChromium()
})
afterAll(() => browser.close())
beforeEach(async () => {
  served = await serveBuild()
  context = await browser.newContext({ viewport: { width: 1180, height: 820 } })
  watched = watch(context, served.address)
  page = await context.newPage()
  await page.addInitScript(() => Reflect.deleteProperty(window, 'showOpenFilePicker'))
  folder = mkdtempSync(join(tmpdir(), 'groundweave-here-'))
})
afterEach(async () => {
  await context.close()
  await served.end()
  rmSync(folder, { recursive: true, force: true })
})

/** The field with a place on the earth, as a site of its own. */
async function openAnchored(): Promise<void> {
  const id = `${demo.id.slice(0, -4)}aaaa`
  const facts = { ...demo.drawing.facts, anchor }
  const path = join(folder, 'anchored.json')
  writeFileSync(path, JSON.stringify({ ...demo, id, name: 'Anchored', drawing: { ...demo.drawing, facts } }))
  await page.getByRole('button', { name: /Open the list of sites/ }).click()
  const [chooser] = await Promise.all([
    page.waitForEvent('filechooser'),
    page.getByRole('dialog').getByRole('button', { name: 'Open a file' }).click(),
  ])
  await chooser.setFiles(path)
  await page.getByRole('application', { name: 'Map of Anchored' }).waitFor()
}

it('shows where the device is only on a site with a place, and tells when it may not', async () => {
  const story = storyPage(page)
  await story.open(served.address)
  await story.endIntroduction()
  const ask = page.getByRole('button', { name: 'Where am I' })
  expect(await ask.count()).toBe(0)
  await openAnchored()
  await ask.click()
  await page.getByText(/was not allowed to say where the device is/).waitFor()
  await context.grantPermissions(['geolocation'], { origin: new URL(served.address).origin })
  await context.setGeolocation({ latitude: 52.0002, longitude: 5.0002, accuracy: 12 })
  await page.waitForTimeout(300)
  const before = await page.locator('[role=application]').screenshot()
  await ask.click()
  await page.getByText(/give or take 12 m\. It is not kept\./).waitFor()
  await page.waitForTimeout(300)
  expect((await page.locator('[role=application]').screenshot()).equals(before)).toBe(false)
  await page.getByRole('button', { name: 'Hide where I am' }).click()
  await context.setGeolocation({ latitude: 48, longitude: 5, accuracy: 12 })
  await ask.click()
  await page.getByText(/km from the origin of the drawing/).waitFor()
  const kept = await page.evaluate(() => JSON.stringify({ ...localStorage }))
  expect(kept).not.toContain('52.0002')
  expect(watched).toEqual({ strayRequests: [], complaints: [] })
})
