import type { Browser, BrowserContext, Page } from 'playwright'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { launchChromium, serveBuild, watch, type ServedBuild, type Watched } from './servedBuild.ts'
import { storyPage, type StoryPage } from './storyPage.ts'

let browser: Browser
let served: ServedBuild
let context: BrowserContext
let watched: Watched
let story: StoryPage
let page: Page
const patience = { timeout: 30_000 }

beforeAll(async () => {
  browser = await launchChromium()
  served = await serveBuild()
  context = await browser.newContext({ viewport: { width: 1280, height: 900 }, reducedMotion: 'reduce' })
  watched = watch(context, served.address)
  page = await context.newPage()
  story = storyPage(page)
  await story.open(served.address)
  await story.endIntroduction()
})
afterAll(async () => {
  await browser.close()
  await served.end()
})

const button = (name: string | RegExp) => page.getByRole('button', { name, exact: typeof name === 'string' })
const coverage = () => page.getByRole('region', { name: 'What the plan would show' })
const pairs = () => page.getByRole('listbox', { name: 'Pairs' })

/** How many joints would show, once that is of the plan as it is now. */
async function shown(): Promise<number> {
  await page.waitForFunction(
    () => {
      const region = document.querySelector('section[aria-label="What the plan would show"]')
      const isBusy = region?.querySelector('[aria-busy="true"], [role="progressbar"]')
      return !!region && !isBusy && /would show if one/.test(region.textContent ?? '')
    },
    undefined,
    patience,
  )
  const text = await coverage().innerText()
  return Number(/([\d\u00a0\u202f ]+) of /.exec(text)![1].replace(/\D/g, ''))
}

async function pairCount(): Promise<number> {
  const chosen = await page
    .getByRole('combobox', { name: 'Plan', exact: true })
    .locator('option:checked')
    .innerText()
  return Number(/, (\d+) pairs?$/.exec(chosen)![1])
}

describe('planning the field demo', () => {
  let before = 0

  it('shows what its first plan would show, on the map and in words', async () => {
    await page.getByRole('tab', { name: 'Plan' }).click()
    before = await shown()
    expect(before).toBeGreaterThan(0)
    expect(await pairCount()).toBe(49)
    await page
      .getByRole('region', { name: 'The walk' })
      .getByText(/set-ups, .* on foot/)
      .waitFor(patience)
  })

  it('shows less without a pair that shows something alone, and as much again when that is taken back', async () => {
    // a pair that alone shows something says so in its line
    const alone = pairs().getByRole('option').filter({ hasText: 'that no other pair shows' }).first()
    await alone.click()
    const card = page.getByRole('article', { name: /^Pair \d+$/ })
    await card.getByRole('button', { name: 'Remove pair' }).click()
    await expect.poll(shown, patience).toBeLessThan(before)
    expect(await pairCount()).toBe(48)
    await page.keyboard.press('Control+z')
    await expect.poll(shown, patience).toBe(before)
    expect(await pairCount()).toBe(49)
  })

  it('shows less where a joint has to be found that is only three times its ohms', async () => {
    await page.getByRole('combobox', { name: 'If a joint goes to' }).selectOption('tripled')
    expect(await shown()).toBeLessThanOrEqual(before)
    await page.getByRole('combobox', { name: 'If a joint goes to' }).selectOption('open')
    expect(await shown()).toBe(before)
  })

  it('takes pairs of a new plan from taps on the map', async () => {
    const [first, second] = await story.twoParts()
    await button('New plan').click()
    expect(await shown()).toBe(0)
    await button('Add pairs on the map').click()
    await page.mouse.click(first.x, first.y)
    await page
      .getByText(/Now the part where it ends|Now the second part/)
      .first()
      .waitFor(patience)
    await page.mouse.click(second.x, second.y)
    await expect.poll(pairCount, patience).toBe(1)
    await button('Leave off adding').click()
    expect(await shown()).toBeGreaterThanOrEqual(0)
  })

  it('puts pairs into an order that is no longer to walk', async () => {
    await page.getByRole('combobox', { name: 'Plan', exact: true }).selectOption({ index: 0 })
    await shown()
    const walk = page.getByRole('region', { name: 'The walk' })
    const metres = async () => Number(/, (\d+(?:\.\d+)?) m on foot/.exec(await walk.innerText())![1])
    await walk.locator('[aria-busy="false"]').waitFor(patience)
    const given = await metres()
    await button('Put into a short order').click()
    // what was saved is said in the same place a moment later
    const said = page.getByRole('status').filter({ hasText: /on foot/ })
    await said.first().waitFor({ state: 'attached', ...patience })
    await walk.locator('[aria-busy="false"]').waitFor(patience)
    expect(await metres()).toBeLessThanOrEqual(given)
    expect(await shown()).toBe(before)
    await page.keyboard.press('Control+z')
  })

  it('prints the sheet: by set-ups, with what a sound array reads, and nothing else of the program', async () => {
    await shown()
    await button('Test sheet').click()
    const view = page.getByRole('dialog', { name: 'Report and test sheet' })
    await view.getByText(/^Set-up 1: first clip stays on/).waitFor(patience)
    await expect.poll(() => view.locator('.pairs tbody tr:not(.setUp)').count(), patience).toBe(49)
    await view.getByText(/Planned for:/).waitFor(patience)
    const firstRow = await view.locator('.pairs tbody tr:not(.setUp)').first().locator('td').allInnerTexts()
    expect(firstRow[0]).toBe('1')
    expect(firstRow[5]).toMatch(/Ω$/)
    expect(
      await view.locator('figure img').evaluate((image) => (image as HTMLImageElement).naturalWidth),
    ).toBeGreaterThan(300)
    const bytes = await page.pdf({ format: 'A4', preferCSSPageSize: true })
    const [, width, height] = /\/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)\s*\]/.exec(bytes.toString('latin1'))!
    expect(Number(width)).toBeGreaterThan(Number(height))
    await page.keyboard.press('Escape')
  })

  it('is walked in Measure, pair after pair', async () => {
    await button('Walk it in Measure').click()
    await page.getByText(/^Pair 1 of 49:/).waitFor(patience)
    expect(await page.getByRole('tab', { name: 'Measure' }).getAttribute('aria-selected')).toBe('true')
  })

  it('spoke to nobody but its own server and made no error', () => {
    expect(watched.strayRequests).toEqual([])
    expect(watched.complaints).toEqual([])
  })
})
