import type { Browser, Page } from 'playwright'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { clean, openFault, patience, region, said, type OpenedFault } from './faultPage.ts'
import { launchChromium, serveBuild, type ServedBuild } from './servedBuild.ts'

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

/** Beside the array, as a share of the map, and what is drawn there. */
const bare = { x: 0.5, y: 0.12 }
async function pixelThere(page: Page): Promise<string> {
  return page.locator('canvas.base').evaluate((element, { x, y }) => {
    const canvas = element as HTMLCanvasElement
    // beside the crosses by which the eye holds on
    const [column, row] = [Math.round(x * canvas.width) + 3, Math.round(y * canvas.height) + 3]
    const data = canvas.getContext('2d')!.getImageData(column, row, 1, 1).data
    return [...data.slice(0, 3)].join(' ')
  }, bare)
}

/** The place on the page where the ground is bare. */
async function bareGround({ story }: OpenedFault) {
  const box = (await story.map.boundingBox())!
  return { x: box.x + bare.x * box.width + 3, y: box.y + bare.y * box.height + 3 }
}

const toggle = (page: Page) => page.getByRole('switch', { name: 'Volts of the ground' })
const card = (page: Page) => region(page, 'Ground, step and touch')
const here = (page: Page) => region(page, 'The ground here')

describe('the ground of the field demo', () => {
  it('by mouse: tinted on the map, asked about by a click, there again after a reload, the largest step shown, and plain again', async () => {
    const opened = await openFault(browser, served, { viewport: { width: 1440, height: 900 } })
    const { page, story, context } = opened
    await page.getByRole('button', { name: 'Sources and devices' }).click()
    await page.getByRole('button', { name: 'An AC phase' }).click()
    const [one] = await story.twoParts()
    await page.mouse.click(one.x, one.y)
    await said(page)
    const plain = await pixelThere(page)
    await toggle(page).click()
    await expect.poll(() => pixelThere(page), patience).not.toBe(plain)
    // a grey: no hue of the parts is taken for it
    const channels = (await pixelThere(page)).split(' ').map(Number)
    expect(Math.max(...channels) - Math.min(...channels)).toBeLessThan(14)
    const ground = await bareGround(opened)
    await page.mouse.click(ground.x, ground.y)
    await here(page)
      .getByText(/The ground here stands at/)
      .waitFor(patience)
    await expect
      .poll(() => here(page).innerText(), patience)
      .toContain('No metal above ground is within reach')
    const figure = here(page).locator('[data-figure]').first()
    await figure.click()
    await here(page).getByText(/asinh/).waitFor(patience)
    await page.reload()
    await story.map.waitFor(patience)
    await page.getByRole('switch', { name: 'Volts of the ground', checked: true }).waitFor(patience)
    await here(page)
      .getByText(/The ground here stands at/)
      .waitFor(patience)
    await card(page).getByRole('button', { name: 'Show the largest step on the map' }).click()
    await here(page).getByRole('button', { name: 'Let the place go' }).click()
    await expect.poll(() => here(page).count(), patience).toBe(0)
    await page.getByRole('button', { name: 'Show the whole site' }).click()
    await toggle(page).click()
    await expect.poll(() => pixelThere(page), patience).toBe(plain)
    clean(opened)
    await context.close()
  })

  it('by touch, on a tablet: the switch and a tap on bare ground', async () => {
    const opened = await openFault(browser, served, {
      viewport: { width: 1024, height: 768 },
      hasTouch: true,
    })
    const { page, story, context } = opened
    await page.getByRole('button', { name: 'Sources and devices' }).tap()
    await page.getByRole('button', { name: 'An AC phase' }).tap()
    const [one] = await story.twoParts()
    await page.touchscreen.tap(one.x, one.y)
    await said(page)
    const plain = await pixelThere(page)
    await toggle(page).tap()
    await expect.poll(() => pixelThere(page), patience).not.toBe(plain)
    const ground = await bareGround(opened)
    await page.touchscreen.tap(ground.x, ground.y)
    await here(page)
      .getByText(/The ground here stands at/)
      .waitFor(patience)
    const close = (await here(page).getByRole('button', { name: 'Let the place go' }).boundingBox())!
    expect(Math.min(close.width, close.height)).toBeGreaterThanOrEqual(44)
    clean(opened)
    await context.close()
  })

  it('by keyboard alone: the switch, a metre from the part that was picked, heard, and let go', async () => {
    const opened = await openFault(browser, served, { viewport: { width: 1280, height: 900 } })
    const { page, story, context } = opened
    await page.getByRole('button', { name: 'Sources and devices' }).focus()
    await page.keyboard.press('Enter')
    await page.getByRole('button', { name: 'An AC phase' }).focus()
    await page.keyboard.press('Enter')
    await story.map.getByRole('button').first().focus()
    await page.keyboard.press('ArrowRight')
    await page.keyboard.press('Enter')
    await said(page)
    const plain = await pixelThere(page)
    await toggle(page).focus()
    await page.keyboard.press('Space')
    await expect.poll(() => pixelThere(page), patience).not.toBe(plain)
    await card(page).getByLabel('Place on the ground').focus()
    await page.keyboard.type('1 m')
    await here(page)
      .getByText(/between it and the ground here/)
      .first()
      .waitFor(patience)
    // what is heard, once it belongs to the place of now
    await page
      .locator('[aria-live]', { hasText: /The ground here stands at [\d.]+ m?V to remote earth\./ })
      .waitFor({ ...patience, state: 'attached' })
    await here(page).getByRole('button', { name: 'Let the place go' }).focus()
    await page.keyboard.press('Enter')
    await expect.poll(() => here(page).count(), patience).toBe(0)
    clean(opened)
    await context.close()
  })
})
