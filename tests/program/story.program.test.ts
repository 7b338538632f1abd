import { readFileSync } from 'node:fs'
import type { Browser, BrowserContext, BrowserContextOptions, Locator, Page } from 'playwright'
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { launchChromium, serveBuild, watch, type ServedBuild, type Watched } from './servedBuild.ts'
import { storyPage, tabTo, type StoryPage } from './storyPage.ts'

const demoText = readFileSync(new URL('../../demo-data/field.json', import.meta.url), 'utf8')
const demo = JSON.parse(demoText) as { name: string; id: string; record: { entry: string }[] }
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
})
afterEach(async () => {
  await context.close()
  await served.end()
})

async function begin(options: BrowserContextOptions = {}): Promise<StoryPage> {
  context = await browser.newContext({ viewport: { width: 1180, height: 820 }, ...options })
  watched = watch(context, served.address)
  const story = storyPage(await context.newPage())
  await story.open(served.address)
  return story
}

/** Types a pair by its addresses and the ohms, and enters the reading. */
async function chooseTyped({ page, panel }: StoryPage): Promise<void> {
  await page.getByRole('tab', { name: 'Measure' }).click()
  for (const [field, address] of [
    ['From', 'R4/T4/L1.5'],
    ['To', 'R4/T5/L1.5'],
  ]) {
    await panel.getByRole('combobox', { name: field, exact: true }).fill(address)
    await page.keyboard.press('Enter')
  }
}

async function enterTyped(story: StoryPage, ohms = '0,03'): Promise<void> {
  await chooseTyped(story)
  await story.sayNoVolts()
  await story.resistance.fill(ohms)
  await story.resistance.press('Enter')
}

/** Whether the middle of something is on the screen and nothing lies over it. */
function isInSight(place: Locator): Promise<boolean> {
  return place.evaluate((element) => {
    const { x, y, width, height } = element.getBoundingClientRect()
    const hit = document.elementFromPoint(x + width / 2, y + height / 2)
    return hit !== null && (element.contains(hit) || hit.contains(element))
  })
}

function hasFocus(place: Locator): Promise<boolean> {
  return place.evaluate((element) => element === document.activeElement)
}

/** How many samples of the legend, as far as it is unfolded, show nothing. */
function emptySamples(page: Page): Promise<number> {
  return page.evaluate(() => {
    const samples = [...document.querySelectorAll<HTMLCanvasElement>('li canvas')]
    const shown = samples.filter((canvas) => canvas.getClientRects().length > 0)
    if (shown.length === 0) throw new Error('the legend has no samples')
    return shown.filter((canvas) => {
      if (canvas.width * canvas.height === 0) return true
      const { data } = canvas.getContext('2d')!.getImageData(0, 0, canvas.width, canvas.height)
      return data.every((value) => value === 0)
    }).length
  })
}

const namesTheJumper = /jumper between table 4-06 and table 4-07 of Row 4 \(R4\/T6\+T7~1\)\.\s*99 % likely/

describe('the story of a field', () => {
  it('is told by mouse: suspect, evidence, a pair drawn on the map, a ranking that follows', async () => {
    const story = await begin()
    const { page, panel, map } = story
    expect(await story.answered()).toMatch(namesTheJumper)
    await story.endIntroduction()
    await story.firstSuspect.click()
    await panel.getByRole('heading', { name: 'Evidence' }).waitFor()
    // what comes into sight in the panel must not push the page itself
    expect(await page.evaluate(() => document.querySelector('.frame')?.scrollTop)).toBe(0)
    await panel.getByRole('button', { name: /^Reading 36 speaks strongly for it/ }).waitFor()
    await page.getByRole('button', { name: 'On the map', exact: true }).click()
    await page.getByText('current of the chosen reading: share in each joint').waitFor()
    await expect.poll(() => emptySamples(page)).toBe(0)
    await page.getByRole('button', { name: 'On the map', exact: true }).click()

    const [from, to] = await story.twoParts()
    await page.getByRole('button', { name: 'Link two parts into a pair' }).click()
    await page.mouse.move(from.x, from.y)
    await page.mouse.down()
    await page.mouse.move((from.x + to.x) / 2, from.y + 8, { steps: 4 })
    await page.mouse.move(to.x, to.y, { steps: 4 })
    await page.mouse.up()
    await panel.getByText(/^A sound array reads /).waitFor()
    expect(await panel.getByRole('combobox', { name: 'From', exact: true }).inputValue()).not.toBe('')
    expect(await panel.getByText(from.name, { exact: false }).count()).toBeGreaterThan(0)
    expect(await panel.getByText(to.name, { exact: false }).count()).toBeGreaterThan(0)
    await story.sayNoVolts()
    await expect.poll(() => hasFocus(story.resistance)).toBe(true)
    await page.keyboard.type('0,03')
    await page.keyboard.press('Enter')
    await story.sayNulled()
    await story.counted(demoReadings + 1)
    await story.readings.getByRole('option', { name: /30 mΩ/ }).first().waitFor()
    await story.saved()
    await story.ranked()
    expect(await story.answered()).toMatch(namesTheJumper)
    await story.weighed(demoReadings + 1)
    await map.waitFor()
    expect(watched).toEqual({ strayRequests: [], complaints: [] })
  })

  it('is told by fingers on a phone', async () => {
    const story = await begin({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true })
    const { page, panel } = story
    await page.getByRole('button', { name: 'Skip' }).tap()
    await story.firstSuspect.tap()
    await panel.getByRole('heading', { name: 'Evidence' }).waitFor()
    const [from, to] = await story.twoParts()
    await page.getByRole('button', { name: 'Link two parts into a pair' }).tap()
    await page.touchscreen.tap(from.x, from.y)
    await page
      .getByText(/Now the second part\.$/)
      .first()
      .waitFor()
    await page.waitForTimeout(400)
    await page.touchscreen.tap(to.x, to.y)
    await story.sayNoVolts((place) => place.tap())
    const keys = panel.getByRole('group', { name: 'Keys for the resistance' })
    await keys.waitFor()
    await expect.poll(() => isInSight(story.resistance)).toBe(true)
    for (const key of ['7', '3', '0']) {
      expect(await isInSight(keys.getByRole('button', { name: key, exact: true }))).toBe(true)
    }
    for (const key of ['3', '0']) await keys.getByRole('button', { name: key, exact: true }).tap()
    await panel.getByText('Enters 30 mΩ.').waitFor()
    await panel.getByRole('button', { name: 'Enter the reading' }).tap()
    await story.sayNulled()
    await story.counted(demoReadings + 1)
    await story.saved()
    await story.ranked()
    expect(await story.answered()).toMatch(namesTheJumper)
    expect(watched).toEqual({ strayRequests: [], complaints: [] })
  })

  it('is told by keys alone', async () => {
    const story = await begin()
    const { page, panel } = story
    await page.keyboard.press('Escape')
    await page.getByRole('button', { name: 'Skip' }).waitFor({ state: 'detached' })
    expect(await hasFocus(panel)).toBe(true)
    await tabTo(page, page.getByRole('tab', { name: 'Locate' }))
    await tabTo(page, story.firstSuspect)
    await page.keyboard.press('Enter')
    await panel.getByRole('heading', { name: 'Evidence' }).waitFor()
    await page.keyboard.press('Shift+Tab')
    await tabTo(page, panel.getByRole('button', { name: /^Reading 36 speaks strongly for it/ }))
    await page.keyboard.press('Enter')
    await panel
      .getByRole('heading', { name: /Reading 36/ })
      .first()
      .waitFor()
    await tabTo(page, page.getByRole('tab', { name: 'Locate' }))
    await page.keyboard.press('ArrowLeft')
    await tabTo(page, panel.getByRole('combobox', { name: 'From', exact: true }))
    await page.keyboard.type('R4/T4/L1.5')
    await page.keyboard.press('Enter')
    await tabTo(page, panel.getByRole('combobox', { name: 'To', exact: true }))
    await page.keyboard.type('R4/T5/L1.5')
    await page.keyboard.press('Enter')
    await panel.getByText(/^A sound array reads /).waitFor()
    await story.sayNoVolts(async (place) => {
      await tabTo(page, place)
      await page.keyboard.press('Enter')
    })
    await tabTo(page, story.resistance)
    await page.keyboard.type('0,03')
    await page.keyboard.press('Enter')
    await tabTo(page, panel.getByRole('button', { name: 'Nulled now' }))
    await page.keyboard.press('Enter')
    await panel.getByText(`${demoReadings + 1} readings`, { exact: true }).waitFor()
    await story.saved()
    await tabTo(page, story.readings)
    await page.keyboard.press('Home')
    await page.keyboard.press('Enter')
    for (const [ask, answer] of [
      ['Withdraw this reading …', 'Typed wrongly'],
      ['Count it again …', 'Count it again'],
    ]) {
      await tabTo(page, panel.getByRole('button', { name: ask }))
      await page.keyboard.press('Enter')
      await tabTo(page, page.getByRole('dialog').getByRole('button', { name: answer, exact: true }))
      await page.keyboard.press('Enter')
      await page.getByRole('dialog').waitFor({ state: 'detached' })
      expect(await page.evaluate(() => document.activeElement?.tagName)).toBe('BUTTON')
    }
    await panel.getByRole('button', { name: 'Withdraw this reading …' }).waitFor()
    await tabTo(page, panel.getByRole('button', { name: 'Close' }))
    await page.keyboard.press('Enter')
    expect(await page.evaluate(() => document.activeElement === document.body)).toBe(false)
    expect(watched).toEqual({ strayRequests: [], complaints: [] })
  })
})

describe('what was entered', () => {
  it('is still there when the page is loaded again, also without a server', async () => {
    const story = await begin()
    await story.endIntroduction()
    await enterTyped(story)
    await story.sayNulled()
    await story.counted(demoReadings + 1)
    await story.saved()
    await story.page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined))
    await story.page.reload()
    await story.saved()
    await story.counted(demoReadings + 1)
    await served.stop()
    await story.page.reload()
    await story.ranked()
    expect(await story.answered()).toMatch(namesTheJumper)
    await story.counted(demoReadings + 1)
    expect(await story.page.getByRole('dialog').count()).toBe(0)
    expect(watched.strayRequests).toEqual([])
  })

  it('belongs to one tab at a time: the second one looks on until it takes over', async () => {
    const first = await begin()
    await first.endIntroduction()
    await first.saved()
    const second = storyPage(await context.newPage())
    await second.open(served.address)
    await second.page.getByText('Open in another tab').first().waitFor()
    await chooseTyped(second)
    const allZero = second.panel.getByRole('button', { name: 'All four read 0.0 V' })
    expect(await allZero.getAttribute('aria-disabled')).toBe('true')
    await second.panel
      .getByText(/This site can only be looked at here/)
      .filter({ visible: true })
      .first()
      .waitFor()
    await second.counted(demoReadings)
    await enterTyped(first)
    await first.sayNulled()
    await first.counted(demoReadings + 1)
    await second.counted(demoReadings + 1)

    await second.panel.getByRole('button', { name: 'Take over' }).click()
    await second.saved()
    await first.page.getByText('Open in another tab').first().waitFor()
    await enterTyped(second, '0.04')
    await second.counted(demoReadings + 2)
    await first.counted(demoReadings + 2)
    expect(watched).toEqual({ strayRequests: [], complaints: [] })
  })

  it('is ranked although the worker broke down', async () => {
    const story = await begin()
    await story.endIntroduction()
    const [worker] = story.page.workers()
    const isGone = new Promise((resolve) => worker.once('close', resolve))
    await worker.evaluate(() => {
      setTimeout(() => {
        throw new Error('the memory of the worker is full')
      })
    })
    await isGone
    await enterTyped(story)
    await story.sayNulled()
    await story.counted(demoReadings + 1)
    await story.ranked()
    await story.firstSuspect.click()
    await story.weighed(demoReadings + 1)
    expect(story.page.workers()).toHaveLength(1)
    expect(story.page.workers()[0]).not.toBe(worker)
  })
})

describe('a file that is not to be trusted', () => {
  /** Chooses a file as in a browser that asks for it by its own dialog. */
  async function choose(page: Page, name: string, text: string): Promise<void> {
    const asked = page.waitForEvent('filechooser')
    await page.getByRole('button', { name: 'Open a file' }).click()
    await (await asked).setFiles({ name, mimeType: 'application/json', buffer: Buffer.from(text) })
  }

  it('is told in a sentence while what was open stays; markup in its names is shown as text', async () => {
    const story = await begin()
    const { page } = story
    await story.endIntroduction()
    await page.evaluate(() => Reflect.deleteProperty(window, 'showOpenFilePicker'))
    await page.getByRole('button', { name: /^Open the list of sites/ }).click()
    const dialog = page.getByRole('dialog', { name: 'Sites' })
    await choose(page, 'newer.json', demoText.replace(/"version":\s*\d+\b/, '"version": 99'))
    await dialog.getByText(/was written in version 99 of the format/).waitFor()
    await choose(page, 'cut.json', demoText.slice(0, demoText.length / 2))
    await dialog.getByText(/The file ends before its content does/).waitFor()
    await choose(page, 'empty.json', '')
    await dialog.getByText(/The file is empty/).waitFor()
    await choose(page, 'deep.json', '['.repeat(200_000))
    await expect.poll(() => dialog.getByText(/deep\.json/).count()).toBeGreaterThan(0)
    expect(await page.getByRole('button', { name: /^Open the list of sites/ }).textContent()).toContain(
      demo.name,
    )
    expect(await story.answered()).toMatch(namesTheJumper)

    const name = '<img src=x onerror="window.broken=1"><b>Field</b>'
    const hostile = demoText
      .replace(JSON.stringify(demo.name), JSON.stringify(name))
      .replace(demo.id, '0b7e5f6a-3c1d-4d2e-9f00-5a6b7c8d9e0f')
      .replaceAll('"4-06"', JSON.stringify('<script>window.broken=1</script>'))
    await choose(page, 'names.json', hostile)
    await dialog.waitFor({ state: 'hidden' })
    await page.getByRole('button', { name: `Open the list of sites. Site ${name}` }).waitFor()
    await story.headline.waitFor()
    expect(await story.answered()).toContain('<script>window.broken=1</script>')
    expect(await page.locator('img, b, #app script').count()).toBe(0)
    expect(await page.evaluate(() => 'broken' in window)).toBe(false)
    expect(watched).toEqual({ strayRequests: [], complaints: [] })
  })
})
