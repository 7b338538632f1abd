import type { Browser, Page } from 'playwright'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { launchChromium, serveBuild, type ServedBuild } from './servedBuild.ts'
import { storyPage } from './storyPage.ts'

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

async function opened(width: number, height: number): Promise<Page> {
  const context = await browser.newContext({ viewport: { width, height }, hasTouch: width < 600 })
  const page = await context.newPage()
  const story = storyPage(page)
  await story.open(served.address)
  await story.endIntroduction()
  return page
}

const field = (page: Page) => page.getByRole('combobox', { name: 'Find a place on the map' })

describe('finding a place in the program', () => {
  it('by keys: / and a label typed without its zero shows the table and picks it', async () => {
    const page = await opened(1600, 900)
    await page.keyboard.press('/')
    await page.keyboard.type('4-6')
    await page.getByRole('option', { name: /Table 4-06/ }).waitFor()
    await page.keyboard.press('Enter')
    const picked = page.getByRole('region', { name: 'What is picked' })
    await picked.getByText('R4/T6', { exact: true }).waitFor()
    expect(await field(page).evaluate((element) => element === document.activeElement)).toBe(false)
    await page.context().close()
  })

  it('by finger on a phone: the icon opens the field over the header, a tap takes a part', async () => {
    const page = await opened(360, 740)
    expect(await field(page).isVisible()).toBe(false)
    await page.getByRole('button', { name: 'Find a place (key /)' }).tap()
    await field(page).fill('frame 1.2 4-06')
    const box = (await field(page).boundingBox())!
    expect(box.width).toBeGreaterThan(280)
    await page.getByRole('option').first().tap()
    await page
      .getByRole('region', { name: 'What is picked' })
      .getByText('R4/T6/F1.2', { exact: true })
      .waitFor()
    expect(await field(page).isVisible()).toBe(false)
    await page.context().close()
  })
})
