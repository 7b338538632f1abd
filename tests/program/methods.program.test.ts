import { deflateSync } from 'node:zlib'
import type { Browser, BrowserContext, Page } from 'playwright'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { crc32 } from '../../src/files/zip.ts'
import { chooseEnd, givesFiles, openVisit, readingsOf, savedSite, sha256Of } from './measuringPage.ts'
import { launchChromium, serveBuild, watch, type ServedBuild, type Watched } from './servedBuild.ts'
import { sayNoVolts, storyPage } from './storyPage.ts'

const demoReadings = 50
const patience = { timeout: 60_000 }
const jumper = 'R4/T6+T7~1'
const clamp = 'Earth loop clamp, 0.025 to 1500 ohm'
const stakes = 'Earth electrode tester, three and four spikes'

let browser: Browser
let served: ServedBuild
let context: BrowserContext
let watched: Watched

beforeAll(async () => {
  browser = await launchChromium()
  served = await serveBuild()
  context = await browser.newContext({ viewport: { width: 1180, height: 820 } })
  context.setDefaultTimeout(patience.timeout)
  await givesFiles(context)
  watched = watch(context, served.address)
})
afterAll(async () => {
  await browser.close()
  await served.end()
})

/** A PNG of two colours, 64 × 48. */
function smallPicture(): Buffer {
  const [width, height] = [64, 48]
  const rows = Array.from({ length: height }, (_, y) => [
    0,
    ...Array.from({ length: width }, (__, x) => ((x >> 3) + (y >> 3)) % 2 === 0).flatMap((isWarm) =>
      isWarm ? [200, 90, 30] : [20, 60, 120],
    ),
  ])
  const piece = (kind: string, bytes: Uint8Array) => {
    const body = Buffer.concat([Buffer.from(kind, 'latin1'), bytes])
    const [length, check] = [Buffer.alloc(4), Buffer.alloc(4)]
    length.writeUInt32BE(bytes.length)
    check.writeUInt32BE(crc32(body))
    return Buffer.concat([length, body, check])
  }
  const head = Buffer.alloc(13)
  head.writeUInt32BE(width, 0)
  head.writeUInt32BE(height, 4)
  head.set([8, 2, 0, 0, 0], 8)
  return Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
    piece('IHDR', head),
    piece('IDAT', deflateSync(Buffer.from(rows.flat()))),
    piece('IEND', Buffer.alloc(0)),
  ])
}

function formOf(page: Page) {
  const panel = page.getByRole('tabpanel')
  const form = panel.getByRole('region', { name: 'Link a pair' })
  let readings = demoReadings

  async function unfold(title: string) {
    const fold = form.getByRole('button', { name: title })
    if ((await fold.getAttribute('aria-expanded')) === 'false') await fold.click()
  }
  /** Types into fields by their labels, and leaves each. */
  async function note(texts: Readonly<Record<string, string>>) {
    await unfold('More about this reading')
    for (const [label, text] of Object.entries(texts)) {
      await form.getByRole('textbox', { name: label, exact: true }).fill(text)
      await page.keyboard.press('Tab')
    }
  }
  async function choose(label: string, option: string | RegExp) {
    await unfold('Instrument, lead and clips')
    const select = form.getByRole('combobox', { name: label, exact: true })
    const labels = await select.locator('option').allInnerTexts()
    const wished = labels.find((each) => (typeof option === 'string' ? each === option : option.test(each)))
    await select.selectOption({ label: wished ?? String(option) })
  }
  async function pair(from: string, to: string) {
    await chooseEnd(page, 'From', from)
    await chooseEnd(page, 'To', to)
    await sayNoVolts(page)
  }
  /** Enters the ohms and waits until the list has the reading; what is said of it at once. */
  async function enter(ohms: string): Promise<string> {
    await form.getByRole('textbox', { name: 'Resistance' }).fill(ohms)
    await page.keyboard.press('Enter')
    const nulled = form.getByText('Say first whether the leads are nulled')
    const shown = panel.getByText(`${++readings} readings`, { exact: true })
    await nulled.or(shown).first().waitFor(patience)
    if (await nulled.isVisible()) await form.getByRole('button', { name: 'Nulled now' }).click()
    await shown.waitFor(patience)
    return form.locator('.box .first').innerText()
  }
  return { panel, form, note, choose, pair, enter }
}

/** What the list says in the row of the n-th reading, and what its card lists. */
async function shownOf(page: Page, number: number): Promise<{ row: string; facts: Record<string, string> }> {
  const panel = page.getByRole('tabpanel')
  const list = panel.getByRole('listbox', { name: 'Readings' })
  const row = list.getByRole('option').filter({ hasText: new RegExp(`^\\s*${number}\\D`) })
  const text = (await row.innerText()).replace(/\s+/g, ' ')
  await row.click()
  const card = panel.getByRole('region', { name: 'What is picked' })
  await card.getByRole('group', { name: `Reading ${number}` }).waitFor(patience)
  const facts = await card
    .locator('dl > div')
    .evaluateAll((lines) =>
      lines.map((line) => [...line.children].map(({ textContent }) => textContent.trim())),
    )
  return { row: text, facts: Object.fromEntries(facts) as Record<string, string> }
}

it('each way of measuring is entered on the screen, shown in the list, and stands in the saved file as entered', async () => {
  const page = await context.newPage()
  const story = storyPage(page)
  await story.open(served.address)
  await story.endIntroduction()
  await page.getByRole('tab', { name: 'Measure' }).click()
  const { panel, form, note, choose, pair, enter } = formOf(page)
  await openVisit(page, async () => {
    const kits = panel.getByRole('combobox', { name: 'Add an instrument' })
    const labels = await kits.locator('option').allInnerTexts()
    for (const name of [clamp, stakes]) {
      await kits.selectOption({ label: labels.find((label) => label.startsWith(name))! })
    }
  })

  await pair('R4/T4/L1.5', 'R4/T5/L1.5')
  await choose('From: clipped on', 'lug')
  await choose('To: clipped on', 'bolt head')
  await choose('To: surface', 'coating pierced')
  await form.getByText(/A clip on a bolt head passes by the joint/).waitFor()
  await enter('0.03')

  await pair('R4/T4/L1.5', 'R4/T6/L1.5')
  await note({
    'Least, while it would not hold still': '0.02',
    'Most, while it would not hold still': '70m',
    Note: 'it swings with the wind',
  })
  await enter('0.04')

  await pair('R4/T4/L1.5', 'R4/T3/L1.5')
  await note({ 'Read the other way round': '51m', 'Test current that was used': '150m' })
  await enter('0.05')

  await pair('R4/T4/L1.5', 'R4/T2/L1.5')
  const picture = { name: 'lug.png', mimeType: 'image/png', buffer: smallPicture() }
  const [chooser] = await Promise.all([
    page.waitForEvent('filechooser'),
    form.getByRole('button', { name: 'Add a photo …' }).click(),
  ])
  await chooser.setFiles(picture)
  await form.getByRole('img', { name: 'Photo 1' }).waitFor()
  await enter('0.06')

  await choose('Instrument', new RegExp(`^${clamp}`))
  await form.getByRole('textbox', { name: 'Clamp closed around' }).fill(jumper)
  await page.keyboard.press('Tab')
  await form.getByText(/^A sound loop reads about /).waitFor()
  expect(await enter('1.2')).toMatch(/1\.2 Ω/)

  await choose('Instrument', new RegExp(`^${stakes}`))
  await chooseEnd(page, 'Electrode', 'G1')
  await form.getByRole('textbox', { name: 'Current spike, from the electrode' }).fill('40')
  await page.keyboard.press('Tab')
  await form.getByText(/61\.8 % of 40 m is 24\.7 m/).waitFor()
  await form.getByRole('textbox', { name: 'Potential spike, from the electrode' }).fill('24.7')
  await page.keyboard.press('Tab')
  await form.getByText(/^From .* to the current spike/).waitFor()
  await sayNoVolts(page)
  expect(await enter('38')).toMatch(/38 Ω/)
  await story.saved()

  const shown: Awaited<ReturnType<typeof shownOf>>[] = []
  for (let n = 1; n <= 6; n++) shown.push(await shownOf(page, demoReadings + n))
  const [spots, unsteady, reversed, photographed, looped, earthed] = shown
  expect(spots).toMatchObject({
    row: expect.stringMatching(/30 mΩ/) as string,
    facts: {
      Method: 'two-wire',
      'First spot': 'lug, bare metal',
      'Second spot': 'bolt head, coating pierced',
    },
  })
  expect(unsteady).toMatchObject({
    row: expect.stringMatching(/40 mΩ/) as string,
    facts: { 'Did not hold still': '20 mΩ to 70 mΩ', Note: 'it swings with the wind' },
  })
  expect(reversed).toMatchObject({
    row: expect.stringMatching(/50 mΩ/) as string,
    facts: { 'The other way round': '51 mΩ', 'Test current': '0.15 A' },
  })
  expect(photographed.row).toMatch(/60 mΩ/)
  expect(looped).toMatchObject({
    row: expect.stringMatching(
      /loop clamp round the jumper between table 4-06 and table 4-07.* 1\.2 Ω/,
    ) as string,
    facts: { Method: 'loop clamp', Instrument: clamp },
  })
  expect(earthed).toMatchObject({
    row: expect.stringMatching(/electrode test of .*South rod.* to .* 38 Ω/) as string,
    facts: {
      Method: 'earth electrode',
      Instrument: stakes,
      'Potential spike': '24.7 m away',
      'Current spike': '40 m away',
    },
  })

  const { site, photos } = await savedSite(page)
  const readings = readingsOf(site).slice(demoReadings)
  expect(site.record.findLast(({ entry }) => entry === 'volts')).toMatchObject({ from: 'G1', to: 'earth' })
  const held = { reverseOhm: null, unsteady: null, around: null, spikesM: null, photos: [], note: '' }
  const ohm = (value: number) => ({ form: 'ohm', ohm: value })
  const sha256 = sha256Of(photos[0])
  expect(photos).toHaveLength(1)
  expect(readings).toMatchObject([
    {
      ...held,
      method: 'twoWire',
      result: ohm(0.03),
      from: { part: 'R4/T4/L1.5', spot: 'lug', surface: 'bare' },
      to: { part: 'R4/T5/L1.5', spot: 'boltHead', surface: 'pierced' },
    },
    {
      ...held,
      result: ohm(0.04),
      unsteady: { leastOhm: 0.02, mostOhm: 0.07 },
      note: 'it swings with the wind',
    },
    { ...held, result: ohm(0.05), reverseOhm: 0.051, testCurrentA: 0.15 },
    { ...held, result: ohm(0.06), to: { part: 'R4/T2/L1.5' }, photos: [sha256] },
    { ...held, method: 'loopClamp', kit: 'loop-clamp', lead: null, around: jumper, result: ohm(1.2) },
    {
      ...held,
      method: 'earthElectrode',
      kit: 'earth-electrode',
      from: { part: 'G1' },
      to: { part: 'earth' },
      spikesM: { current: 40, potential: 24.7 },
      result: ohm(38),
    },
  ])
  expect(watched).toEqual({ strayRequests: [], complaints: [] })
}, 240_000)
