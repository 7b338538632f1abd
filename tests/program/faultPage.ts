import type { Browser, BrowserContext, Page } from 'playwright'
import { expect } from 'vitest'
import { watch, type ServedBuild, type Watched } from './servedBuild.ts'
import { storyPage, type StoryPage } from './storyPage.ts'

export const patience = { timeout: 30_000 }

export interface OpenedFault {
  readonly context: BrowserContext
  readonly page: Page
  readonly story: StoryPage
  readonly watched: Watched
}

/** The workspace, its first question still unasked. */
export async function openFault(
  browser: Browser,
  served: ServedBuild,
  options: Parameters<Browser['newContext']>[0],
): Promise<OpenedFault> {
  const context = await browser.newContext({ reducedMotion: 'reduce', ...options })
  const watched = watch(context, served.address)
  const page = await context.newPage()
  const story = storyPage(page)
  await story.open(served.address)
  await story.endIntroduction()
  await page.getByRole('tab', { name: 'Fault current' }).click()
  await page.getByRole('heading', { name: /Tap a part on the map/ }).waitFor(patience)
  return { context, page, story, watched }
}

export const region = (page: Page, name: string) => page.getByRole('region', { name })

/** The sentence that is said of the fault, once it belongs to the question of now. */
export async function said(page: Page): Promise<string> {
  await page.waitForFunction(
    () => {
      const card = document.querySelector('section[aria-label="Where the current goes"]')
      const isBusy = card?.querySelector('[aria-busy="true"], [role="progressbar"]')
      return !!card && !isBusy && /flows/.test(card.querySelector('[aria-live]')?.textContent ?? '')
    },
    undefined,
    patience,
  )
  return region(page, 'Where the current goes').locator('[aria-live]').innerText()
}

/** Nothing was complained of, and nothing asked of elsewhere. */
export function clean({ watched }: OpenedFault) {
  expect(watched.complaints).toEqual([])
  expect(watched.strayRequests).toEqual([])
}
