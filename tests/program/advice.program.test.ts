import type { Browser, BrowserContext, BrowserContextOptions, Locator, Page } from 'playwright'
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { namePair } from '../../src/text/partNames.ts'
import { openNameBook } from '../../src/text/places.ts'
import { fieldStory } from '../generator/demoSites.ts'
import { launchChromium, serveBuild, watch, type ServedBuild, type Watched } from './servedBuild.ts'
import { sayNoVolts, tabTo } from './storyPage.ts'
import { field, fieldMeter, readingsOf, undecidedField, undecidedFile } from './undecidedField.ts'

const patience = { timeout: 20_000 }
const mostReadings = 6
const meter = fieldMeter()
const book = openNameBook(undecidedField.drawing)
const readingsAtFirst = readingsOf(undecidedField).length
const jumper = 'jumper between table 4-06 and table 4-07 of Row 4'

let browser: Browser
let served: ServedBuild
let context: BrowserContext
let watched: Watched

type Box = NonNullable<Awaited<ReturnType<Locator['boundingBox']>>>

/** How someone presses a button, and enters what the meter shows where the page waits for it. */
interface Hand {
  press(place: Locator): Promise<void>
  enter(page: Page, ohm: number): Promise<void>
}

async function typeOhms(page: Page, ohm: number): Promise<void> {
  const resistance = panelOf(page).getByRole('textbox', { name: 'Resistance' })
  await expect.poll(() => resistance.evaluate((element) => element === document.activeElement)).toBe(true)
  await page.keyboard.type(String(ohm))
  await page.keyboard.press('Enter')
}

const mouse: Hand = { press: (place) => place.click(), enter: typeOhms }

const keyboard: Hand = {
  async press(place) {
    await place.waitFor(patience)
    await tabTo(place.page(), place)
    await place.page().keyboard.press('Enter')
  },
  enter: typeOhms,
}

const finger: Hand = {
  press: (place) => place.tap(),
  async enter(page, ohm) {
    const keys = panelOf(page).getByRole('group', { name: 'Keys for the resistance' })
    for (const key of String(Math.round(1000 * ohm))) {
      await keys.getByRole('button', { name: key, exact: true }).tap()
    }
    await panelOf(page).getByRole('button', { name: 'Enter the reading' }).tap()
  },
}

const panelOf = (page: Page) => page.getByRole('tabpanel')
const mapOf = (page: Page) => page.getByRole('application', { name: `Map of ${undecidedField.name}` })
const adviceOf = (page: Page) => panelOf(page).getByRole('region', { name: 'What to do next' })

/** Where the first thing to do is offered: in Locate, on the map, in Measure. */
const offers = {
  card: (page: Page) => adviceOf(page).getByRole('article').first().getByRole('button').first(),
  tag: (page: Page) => mapOf(page).getByRole('button', { name: /^Next reading: .*\. Measure it$/ }),
  line: (page: Page) => lineOf(page).getByRole('button'),
}
const lineOf = (page: Page) => panelOf(page).getByRole('region', { name: 'Next', exact: true })

async function textOf(place: Locator): Promise<string> {
  return (await place.innerText()).replace(/\s+/g, ' ')
}

/** Whether all of it is in sight: on the screen, and in the part of the panel or the map that is shown. */
async function isInSight(place: Locator): Promise<boolean> {
  const box = await place.boundingBox()
  const { width, height } = place.page().viewportSize()!
  const onScreen = { x: 0, y: 0, width, height }
  return (
    box !== null &&
    isWithin(box, onScreen) &&
    (await place.evaluate((element) => {
      const shown = element.closest('[role=tabpanel]')?.getBoundingClientRect()
      const { top, bottom } = element.getBoundingClientRect()
      return shown === undefined || (top >= shown.top && bottom <= shown.bottom)
    }))
  )
}

function isWithin(inner: Box, outer: Box): boolean {
  return (
    inner.x >= outer.x &&
    inner.y >= outer.y &&
    inner.x + inner.width <= outer.x + outer.width &&
    inner.y + inner.height <= outer.y + outer.height
  )
}

/** What is said of the reading that is advised. */
function saidOf(page: Page, way: keyof typeof offers): Promise<string> {
  if (way === 'tag')
    return offers
      .tag(page)
      .getAttribute('aria-label')
      .then((name) => name ?? '')
  return textOf(way === 'line' ? lineOf(page) : offers.card(page))
}

async function begin(options: BrowserContextOptions = {}): Promise<Page> {
  context = await browser.newContext({ viewport: { width: 1180, height: 820 }, ...options })
  watched = watch(context, served.address)
  // as in a browser that asks for a file by its own dialog
  await context.addInitScript(() => Reflect.deleteProperty(window, 'showOpenFilePicker'))
  const page = await context.newPage()
  await page.goto(served.address)
  await page.getByRole('application', { name: `Map of ${field.name}` }).waitFor(patience)
  return page
}

/** Opens the file of the undecided field, and waits for what to do about it. */
async function openUndecided(page: Page, { press }: Hand): Promise<void> {
  await press(page.getByRole('button', { name: 'Skip' }))
  await press(page.getByRole('button', { name: /^Open the list of sites/ }))
  const dialog = page.getByRole('dialog', { name: 'Sites' })
  const asked = page.waitForEvent('filechooser')
  await press(dialog.getByRole('button', { name: 'Open a file' }))
  await (await asked).setFiles(undecidedFile)
  await mapOf(page).waitFor(patience)
  await dialog.waitFor({ state: 'hidden' })
  await offers.tag(page).waitFor(patience)
  await panelOf(page).getByText('The readings do not decide').waitFor(patience)
}

/** Takes over with one press the reading that is advised, and enters what the meter shows. */
async function takeAdvised(page: Page, hand: Hand, way: keyof typeof offers): Promise<void> {
  const panel = panelOf(page)
  const offer = offers[way](page)
  await offer.waitFor(patience)
  expect(await isInSight(offer), `${way} is in sight`).toBe(true)
  const advised = await saidOf(page, way)
  await hand.press(offer)
  // what lies on the map below the offer is not picked with it
  expect(await panel.getByRole('heading', { name: /^Reading \d/ }).count()).toBe(0)
  const [from, to] = await Promise.all(
    ['From', 'To'].map((name) => panel.getByRole('combobox', { name, exact: true }).inputValue()),
  )
  expect(advised).toContain(namePair(book, from, to))
  if (/\bagain\b/.test(advised))
    await panel.getByText(/^This measures the pair of reading \d+ again/).waitFor()
  await panel.getByText(/^A sound array reads /).waitFor(patience)
  await sayNoVolts(page, hand.press)
  await hand.enter(page, meter(from, to))
}

/** Does what is advised, nothing else, until it is no reading; how many readings that took. */
async function followAdvice(page: Page, hand: Hand, ways: readonly (keyof typeof offers)[]): Promise<number> {
  const panel = panelOf(page)
  const toLocate = lineOf(page).getByRole('button', { name: 'See it in Locate' })
  for (let taken = 0; taken < mostReadings;) {
    await takeAdvised(page, hand, ways[taken] ?? 'line')
    if (taken === 0) await hand.press(panel.getByRole('button', { name: 'Nulled now' }))
    taken++
    await panel.getByText(`${readingsAtFirst + taken} readings`, { exact: true }).waitFor(patience)
    // a high one is checked first, unless that is put off
    const checks = panel.getByRole('region', { name: 'Check before a joint is blamed' })
    if ((await checks.count()) > 0) await hand.press(checks.getByRole('button', { name: 'Later' }))
    // offered only once it is worked out from all readings
    await lineOf(page).waitFor(patience)
    expect(await isInSight(lineOf(page)), 'what to do next is in sight').toBe(true)
    const told = panel
      .getByRole('region', { name: 'Link a pair' })
      .getByText(/^Reading \d+[, ]/)
      .first()
    await expect.poll(() => isInSight(told), { message: 'what the last reading says is in sight' }).toBe(true)
    if ((await toLocate.count()) === 0) continue
    await hand.press(toLocate)
    return taken
  }
  throw new Error(`after ${mostReadings} readings there was still another one advised`)
}

/** In Locate: the jumper is named, and all that is left to do is to look at it and check its torque. */
async function expectFound(page: Page): Promise<void> {
  const panel = panelOf(page)
  const advice = adviceOf(page)
  await advice.getByRole('heading', { name: new RegExp(`^Look at the ${jumper}`) }).waitFor(patience)
  const said = await textOf(panel)
  expect(said).toContain(`Lead for inspection: ${jumper} (${fieldStory.openJumper}).`)
  expect(said).toMatch(/Measured enough|See to the first suspect/)
  await panel
    .getByRole('button', { name: new RegExp(`^Suspect 1: J${jumper.slice(1)} ?(> )?9\\d %`) })
    .waitFor()
  expect(await advice.getByRole('button', { name: /^(Measure this|Repeat it)/ }).count()).toBe(0)
  expect(await advice.getByRole('button', { name: /^Show on the map/ }).count()).toBeGreaterThan(0)
  expect(watched).toEqual({ strayRequests: [], complaints: [] })
}

describe('the meter of these stories', () => {
  it('shows what was read in the demo field, but for lead, instrument and the two poor contacts', () => {
    const { repeatedPair, contradictedPair } = fieldStory
    const isPoor = (to: string, ohm: number) =>
      (to === repeatedPair.to && ohm > repeatedPair.poorOhm) || to === contradictedPair.to
    const differences = readingsOf(field).flatMap(({ from, to, result }) =>
      result.form === 'ohm' && !isPoor(to.part, result.ohm) ? [result.ohm - meter(from.part, to.part)] : [],
    )
    expect(differences).toHaveLength(readingsOf(field).length - 2)
    expect(Math.max(...differences.map(Math.abs))).toBeLessThan(0.1)
  })
})

describe('following the advice alone in a field that is undecided', () => {
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

  it('leads to the open jumper by mouse: from Locate, from the map, from Measure', async () => {
    const page = await begin()
    await openUndecided(page, mouse)
    const taken = await followAdvice(page, mouse, ['card', 'tag', 'line'])
    await expectFound(page)
    expect(taken).toBeGreaterThan(1)
  })

  it('leads to the open jumper by keys alone', async () => {
    const page = await begin()
    await openUndecided(page, keyboard)
    const taken = await followAdvice(page, keyboard, ['card', 'line', 'tag'])
    await expectFound(page)
    expect(taken).toBeGreaterThan(1)
  })

  it('leads to the open jumper by fingers on a phone', async () => {
    const page = await begin({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true })
    await openUndecided(page, finger)
    const taken = await followAdvice(page, finger, ['tag', 'line'])
    await expectFound(page)
    expect(taken).toBeGreaterThan(1)
  })
})
