import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import type Axe from 'axe-core'
import type { Browser, BrowserContext, Page } from 'playwright'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { launchChromium, serveBuild, type ServedBuild } from './servedBuild.ts'
import { storyPage, type StoryPage } from './storyPage.ts'

const axeSource = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8')

let browser: Browser
let served: ServedBuild
let context: BrowserContext
let story: StoryPage
let page: Page

beforeAll(async () => {
  browser = await launchChromium()
  served = await serveBuild()
  context = await browser.newContext({ viewport: { width: 1180, height: 820 }, reducedMotion: 'reduce' })
  page = await context.newPage()
  story = storyPage(page)
  await story.open(served.address)
  await page.evaluate(axeSource)
})
afterAll(async () => {
  await browser.close()
  await served.end()
})

/** What axe finds on the page as it stands, as `rule: markup`. */
function breaches(): Promise<string[]> {
  return page.evaluate(async () => {
    const { axe } = window as unknown as { axe: typeof Axe }
    const { violations } = await axe.run(document)
    return violations.flatMap(({ id, nodes }) => nodes.map(({ html }) => `${id}: ${html}`))
  })
}

/** Elements beside the map that reach past the right edge of the page. */
function wideThings(): Promise<string[]> {
  return page.evaluate(() => {
    const places = 'header, [role=tablist], [role=tabpanel], dialog, [role=dialog]'
    const edge = document.documentElement.clientWidth
    return [...document.querySelectorAll(`:is(${places}), :is(${places}) *`)]
      .filter((element) => element.getClientRects().length > 0)
      .filter((element) => element.getBoundingClientRect().right > edge + 0.5)
      .map((element) => element.outerHTML.slice(0, 120))
  })
}

async function chooseColours(name: string): Promise<void> {
  await page.getByRole('button', { name: 'Colours of the screen' }).click()
  await page.getByRole('menuitemradio', { name: new RegExp(`^${name}`) }).click()
}

async function inDialog(opener: string | RegExp, look: () => Promise<void>): Promise<void> {
  await page.getByRole('button', { name: opener }).click()
  await page.getByRole('dialog').waitFor()
  await look()
  await page.keyboard.press('Escape')
  await page.getByRole('dialog').waitFor({ state: 'hidden' })
}

/** Both workspaces in turn: the ranking with a suspect open, then entering a pair. */
async function inWorkspaces(look: (view: string) => Promise<void>): Promise<void> {
  await page.getByRole('tab', { name: 'Locate' }).click()
  await look('ranking')
  await page.getByRole('tab', { name: 'Measure' }).click()
  await look('measuring')
}

async function inDialogs(look: (view: string) => Promise<void>): Promise<void> {
  await inDialog(/^Open the list of sites/, () => look('sites'))
  await inDialog('Help', () => look('help'))
}

describe('the whole page', () => {
  it('has no breach that axe can find while it introduces itself, then with a suspect open', async () => {
    expect(await breaches()).toEqual([])
    await story.endIntroduction()
    await story.firstSuspect.click()
    await page.getByRole('button', { name: 'On the map', exact: true }).click()
    expect(await breaches()).toEqual([])
  })

  it('is looked at by an axe that finds a breach where there is one', async () => {
    await page.evaluate(() => document.querySelector('main')!.append(document.createElement('img')))
    expect(await breaches()).toEqual(['image-alt: <img>'])
    await page.evaluate(() => document.querySelector('main > img')!.remove())
  })

  it('has no breach that axe can find at three sizes in any colours, dialogs included', async () => {
    const found: Record<string, string[]> = {}
    for (const colours of ['Dark', 'Sunlight', 'Light']) {
      await chooseColours(colours)
      const look = async (view: string) => {
        found[`${view}, ${page.viewportSize()!.width} px, ${colours}`] = await breaches()
      }
      for (const [width, height] of [
        [390, 844],
        [1920, 1080],
        [1180, 820],
      ]) {
        await page.setViewportSize({ width, height })
        await inWorkspaces(look)
      }
      await inDialogs(look)
    }
    expect(Object.keys(found)).toHaveLength(24)
    expect(Object.entries(found).filter(([, list]) => list.length > 0)).toEqual([])
  })

  it('fits a width of 360 px in every view', async () => {
    await page.setViewportSize({ width: 360, height: 740 })
    const wide: string[] = []
    const look = async (view: string) => {
      wide.push(...(await wideThings()).map((thing) => `${view}: ${thing}`))
    }
    await inWorkspaces(look)
    await inDialogs(look)
    expect(wide).toEqual([])
  })

  it('names its parts', async () => {
    await page.setViewportSize({ width: 1180, height: 820 })
    await page.getByRole('tab', { name: 'Locate' }).click()
    for (const [role, name] of [
      ['application', 'Map of Larkmoor Field'],
      ['tablist', 'Workspace'],
      ['tabpanel', 'Locate'],
      ['button', 'Show the whole site'],
      ['button', 'Link two parts into a pair'],
      ['button', 'Colours of the screen'],
      ['button', 'Help'],
    ] as const) {
      expect(await page.getByRole(role, { name }).count(), name).toBe(1)
    }
    expect(await page.getByRole('heading', { level: 1 }).allTextContents()).toEqual(['Groundweave'])
    expect(await page.getByRole('main').count()).toBe(1)
    expect(await page.getByRole('banner').count()).toBe(1)
  })
})
