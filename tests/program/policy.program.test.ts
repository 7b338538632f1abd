import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Browser, BrowserContext, Page } from 'playwright'
import { afterAll, afterEach, beforeAll, beforeEach, expect, inject, it } from 'vitest'
import { launchChromium, serveBuild, watch, type ServedBuild, type Watched } from './servedBuild.ts'
import { storyPage } from './storyPage.ts'

let browser: Browser
let served: ServedBuild
let context: BrowserContext
let page: Page
let watched: Watched
const broken: string[] = []

beforeAll(async () => {
  browser = await launchChromium()
})
afterAll(() => browser.close())
beforeEach(async () => {
  served = await serveBuild()
  context = await browser.newContext({ viewport: { width: 1180, height: 820 }, acceptDownloads: true })
  watched = watch(context, served.address)
  page = await context.newPage()
  await page.exposeFunction('groundweaveBroken', (what: string) => broken.push(what))
  await page.addInitScript(() => {
    Reflect.deleteProperty(window, 'showSaveFilePicker')
    const told = window as unknown as { groundweaveBroken(what: string): void }
    document.addEventListener('securitypolicyviolation', ({ effectiveDirective, blockedURI, sample }) =>
      told.groundweaveBroken(`${effectiveDirective} ${blockedURI} ${sample}`),
    )
  })
})
afterEach(async () => {
  await context.close()
  await served.end()
})

it('the page allows itself no script or style but its own files, and asks nobody else', () => {
  const html = readFileSync(join(inject('builtFolder'), 'index.html'), 'utf8')
  const policy = /http-equiv="Content-Security-Policy"\s+content="([^"]*)"/.exec(html)![1]
  expect(policy).not.toContain('unsafe')
  expect(policy.split('; ')).toEqual(
    expect.arrayContaining([
      `default-src 'none'`,
      `script-src 'self'`,
      `style-src 'self'`,
      `connect-src 'self'`,
    ]),
  )
})

async function closeDialog(): Promise<void> {
  await page.keyboard.press('Escape')
  await page.getByRole('dialog').waitFor({ state: 'detached' })
}

it('a walk through the whole program sends nothing away and breaks no rule of the page', async () => {
  const story = storyPage(page)
  await story.open(served.address)
  await story.endIntroduction()
  await story.firstSuspect.click()
  await page.getByRole('button', { name: 'On the map', exact: true }).click()
  const [from, to] = await story.twoParts()
  await page.getByRole('button', { name: 'Link two parts into a pair' }).click()
  await page.mouse.move(from.x, from.y)
  await page.mouse.down()
  await page.mouse.move(to.x, to.y, { steps: 4 })
  await page.mouse.up()
  await story.panel.getByText(/^A sound array reads /).waitFor()
  await story.sayNoVolts()
  await page.keyboard.type('0,03')
  await page.keyboard.press('Enter')
  await story.sayNulled()
  await story.counted(51)
  await page.getByRole('button', { name: 'Help', exact: true }).click()
  await closeDialog()
  await page.getByRole('tab', { name: 'Draw' }).click()
  await story.panel.getByRole('button', { name: 'Bring in a list or map file' }).click()
  await closeDialog()
  await story.panel.getByRole('button', { name: 'Take out map and lists' }).click()
  for (const what of ['PNG', 'SVG']) {
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page
        .getByRole('dialog')

        .getByRole('button', { name: `Save Map as ${what}` })
        .click(),
    ])
    expect(download.suggestedFilename()).toMatch(new RegExp(what, 'i'))
  }
  await closeDialog()
  for (const theme of ['Dark', 'Sunlight', 'Light']) {
    await page.getByRole('button', { name: 'Colours of the screen' }).click()
    await page.getByRole('menuitemradio', { name: new RegExp(`^${theme}`) }).click()
  }
  await page.getByRole('button', { name: /Open the list of sites/ }).click()
  await page
    .getByRole('dialog')
    .getByRole('button', { name: /^Open .*roof/i })
    .click()
  await page.getByRole('dialog').waitFor({ state: 'detached' })
  await page.getByRole('tab', { name: 'Locate' }).click()
  await page.setViewportSize({ width: 390, height: 844 })
  await page.getByRole('application').waitFor()
  await page.reload()
  await page.getByRole('application').waitFor()
  await expect.poll(() => page.workers().length).toBeGreaterThan(0)
  expect(broken).toEqual([])
  expect(watched).toEqual({ strayRequests: [], complaints: [] })
})
