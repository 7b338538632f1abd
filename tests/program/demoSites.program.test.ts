import type { Browser, BrowserContext, Page } from 'playwright'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { launchChromium, serveBuild, watch, type ServedBuild, type Watched } from './servedBuild.ts'

let browser: Browser
let served: ServedBuild
let context: BrowserContext
let page: Page
let watched: Watched
/** What the page itself asked for, not its service worker. */
const asked: string[] = []

beforeAll(async () => {
  browser = await launchChromium()
  served = await serveBuild()
  context = await browser.newContext()
  watched = watch(context, served.address)
  page = await context.newPage()
  page.on('request', (request) => asked.push(new URL(request.url()).pathname))
})
afterAll(async () => {
  await browser.close()
  await served.end()
})

const mapOf = (name: string) => page.getByRole('application', { name: `Map of ${name}` })

describe('the demo sites of the built page', () => {
  it('are listed without being fetched, but for the one that a first visit opens', async () => {
    await page.goto(served.address)
    await mapOf('Larkmoor Field').waitFor()
    await page.getByRole('button', { name: 'Skip' }).click()
    await page.getByRole('button', { name: /^Open the list of sites/ }).click()
    const dialog = page.getByRole('dialog', { name: 'Sites' })
    await dialog.getByText('100 rows, 9981 tables, 1,287,945 joints; 50 readings in the record.').waitFor()
    expect(await dialog.getByRole('button', { name: /^Open ./ }).count()).toBeGreaterThanOrEqual(3)
    const files = asked.filter((path) => path.endsWith('.json'))
    expect(files).toHaveLength(1)
    expect(files[0]).toContain('/field-')
  })

  it('open without a server, a plant of 1.3 million joints too', async () => {
    await page.evaluate(() => navigator.serviceWorker.ready)
    await served.stop()
    await page.reload()
    await mapOf('Larkmoor Field').waitFor()
    await page.getByRole('button', { name: /^Open the list of sites/ }).click()
    await page.getByRole('button', { name: 'Open Ostermoor Plain' }).click()
    await mapOf('Ostermoor Plain').waitFor()
    await page.getByRole('dialog', { name: 'Sites' }).waitFor({ state: 'detached' })
    await page.getByText('Saved on this device', { exact: true }).waitFor()
    expect(watched).toEqual({ strayRequests: [], complaints: [] })
  })
})
