import { readFileSync } from 'node:fs'
import type { Browser, BrowserContext, Page } from 'playwright'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { launchChromium, serveBuild, watch, type ServedBuild, type Watched } from './servedBuild.ts'
import { storyPage, type StoryPage } from './storyPage.ts'

const demo = JSON.parse(readFileSync(new URL('../../demo-data/field.json', import.meta.url), 'utf8')) as {
  record: { entry: string; result?: { form: string; ohm: number } }[]
  drawing: { plans: { pairs: { from: string; to: string }[] }[] }
}
const readings = demo.record.filter(({ entry }) => entry === 'reading')
const pairs = demo.drawing.plans[0].pairs

let browser: Browser
let served: ServedBuild
let context: BrowserContext
let watched: Watched
let story: StoryPage
let page: Page

beforeAll(async () => {
  browser = await launchChromium()
  served = await serveBuild()
  context = await browser.newContext({ viewport: { width: 1180, height: 820 }, reducedMotion: 'reduce' })
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

const view = () => page.getByRole('dialog', { name: 'Report and test sheet' })

async function openReport() {
  await page.getByRole('button', { name: 'Report and test sheet' }).click()
  await view().getByRole('heading', { name: 'Report of bonding tests' }).waitFor({ timeout: 30_000 })
}

async function pdfPages(): Promise<{ pages: number; landscape: boolean }> {
  const bytes = await page.pdf({ format: 'A4', preferCSSPageSize: true })
  const text = bytes.toString('latin1')
  const [, width, height] = /\/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)\s*\]/.exec(text)!
  return {
    pages: (text.match(/\/Type\s*\/Page(?!s)/g) ?? []).length,
    landscape: Number(width) > Number(height),
  }
}

/** The words that would be printed: what is on the page in print. */
async function printedText(): Promise<string> {
  await page.emulateMedia({ media: 'print' })
  const text = await page.evaluate(() => document.body.innerText)
  await page.emulateMedia({ media: 'screen' })
  return text.replace(/\s+/g, ' ')
}

describe('the report of the field demo', () => {
  it('says what the screen says, with every reading', async () => {
    await story.ranked()
    const headline = (await story.headline.innerText()).replace(/\s+/g, ' ')
    await openReport()
    const report = (await view().locator('.paper').innerText()).replace(/\s+/g, ' ')
    expect(report).toContain(headline.replace(/\.$/, ''))
    const rows = view().locator('section.readings tbody tr')
    expect(await rows.count()).toBe(readings.length)
    const read = await rows.locator('td:nth-child(4)').allInnerTexts()
    // readings of the demo in milliohms or ohms, as the list of readings writes them
    expect(read).toContain('2.14 Ω')
    expect(read).toContain('2.15 Ω')
    expect(read.filter((text) => text === '40 mΩ')).toHaveLength(
      readings.filter(({ result }) => result?.ohm === 0.04).length,
    )
  })

  it('prints on several pages of A4 and nothing else of the program with it', async () => {
    const { pages, landscape } = await pdfPages()
    expect(pages).toBeGreaterThan(2)
    expect(landscape).toBe(false)
    const printed = await printedText()
    expect(printed).toContain('2.14 Ω')
    expect(printed).toContain('Larkmoor Field')
    for (const elsewhere of [
      'Print or save as PDF',
      'always in the report',
      'Colours of the screen',
      'Suspect 1',
    ])
      expect(printed).not.toContain(elsewhere)
  })

  it('has maps that are drawn', async () => {
    const sizes = await view()
      .locator('figure img')
      .evaluateAll((images) => images.map((image) => (image as HTMLImageElement).naturalWidth))
    expect(sizes.length).toBeGreaterThan(0)
    expect(sizes.every((width) => width > 300)).toBe(true)
  })

  it('offers a name for the file while it prints', async () => {
    await page.evaluate(() => {
      const told = window as unknown as { titles: string[] }
      told.titles = []
      window.print = () => void told.titles.push(document.title)
    })
    await view().getByRole('button', { name: 'Print or save as PDF' }).click()
    const titles = await page.evaluate(() => (window as unknown as { titles: string[] }).titles)
    expect(titles).toEqual([expect.stringMatching(/^Larkmoor Field report \d{4}-\d\d-\d\d$/)])
    expect(await page.title()).not.toMatch(/report/)
  })

  it('leaves out a section that is not wanted, and keeps what limits it', async () => {
    await view().getByRole('checkbox', { name: 'Criteria' }).click()
    await view().locator('section.criteria').waitFor({ state: 'detached' })
    expect(await view().locator('section.unseen').count()).toBe(1)
    expect(
      await view()
        .getByRole('checkbox', { name: /What could not be seen/ })
        .isDisabled(),
    ).toBe(true)
  })
})

describe('the blank test sheet', () => {
  it('has the pairs of the plan on landscape pages', async () => {
    await view().getByRole('combobox', { name: 'What to print' }).selectOption('sheet')
    const rows = view().locator('table.pairs tbody tr:not(.setUp)')
    expect(await rows.count()).toBe(pairs.length)
    expect(await rows.first().innerText()).toContain(`(${pairs[0].from})`)
    expect((await pdfPages()).landscape).toBe(true)
    const printed = await printedText()
    expect(printed).toContain('Leads shorted at their far end')
    expect(printed).toContain(`(${pairs.at(-1)!.to})`)
  })

  it('has empty rows for free pairs', async () => {
    await view().getByRole('combobox', { name: 'Plan' }).selectOption('free pairs')
    expect(await view().locator('table.pairs tbody tr:not(.setUp)').count()).toBe(20)
  })

  it('gives the keyboard back when it is closed', async () => {
    await page.keyboard.press('Escape')
    await view().waitFor({ state: 'detached' })
    expect(await page.evaluate(() => document.activeElement?.textContent?.trim())).toContain(
      'Report and test sheet',
    )
    expect(watched.complaints).toEqual([])
    expect(watched.strayRequests).toEqual([])
  })
})
