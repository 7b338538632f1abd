import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Browser, BrowserContext, Page } from 'playwright'
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { launchChromium, serveBuild, watch, type ServedBuild, type Watched } from './servedBuild.ts'
import { storyPage, type StoryPage } from './storyPage.ts'

let browser: Browser
let served: ServedBuild
let folder: string
const contexts: BrowserContext[] = []
const watching: Watched[] = []

beforeAll(async () => {
  browser = await launchChromium()
})
afterAll(() => browser.close())
beforeEach(async () => {
  served = await serveBuild()
  folder = mkdtempSync(join(tmpdir(), 'groundweave-files-'))
})
afterEach(async () => {
  for (const context of contexts.splice(0)) await context.close()
  watching.splice(0)
  await served.end()
  rmSync(folder, { recursive: true, force: true })
})

/** A tablet of its own, which hands files out and in as a browser without a file dialogue does. */
async function tablet(): Promise<StoryPage> {
  const context = await browser.newContext({ viewport: { width: 1180, height: 820 }, acceptDownloads: true })
  contexts.push(context)
  watching.push(watch(context, served.address))
  const page = await context.newPage()
  await page.addInitScript(() => {
    Reflect.deleteProperty(window, 'showOpenFilePicker')
    Reflect.deleteProperty(window, 'showSaveFilePicker')
  })
  const story = storyPage(page)
  await story.open(served.address)
  await story.endIntroduction()
  return story
}

async function measure(story: StoryPage, from: string, to: string, ohms: string): Promise<void> {
  const { page, panel, resistance } = story
  await page.getByRole('tab', { name: 'Measure' }).click()
  for (const [field, address] of [
    ['From', from],
    ['To', to],
  ]) {
    await panel.getByRole('combobox', { name: field, exact: true }).fill(address)
    await page.keyboard.press('Enter')
  }
  await story.sayNoVolts()
  await resistance.fill(ohms)
  await resistance.press('Enter')
  const nulled = panel.getByRole('button', { name: 'Nulled now' })
  await nulled
    .or(panel.getByText(/^Reading \d+/))
    .first()
    .waitFor()
  if (await nulled.isVisible()) await nulled.click()
  await story.saved()
}

async function sites(page: Page) {
  await page.getByRole('button', { name: /Open the list of sites/ }).click()
  const dialog = page.getByRole('dialog', { name: 'Sites' })
  await dialog.waitFor()
  return dialog
}

async function saveFile(story: StoryPage, name: string): Promise<string> {
  const dialog = await sites(story.page)
  const [download] = await Promise.all([
    story.page.waitForEvent('download'),
    dialog.getByRole('button', { name: 'Save to a file' }).click(),
  ])
  const path = join(folder, name)
  await download.saveAs(path)
  await story.page.keyboard.press('Escape')
  return path
}

async function openFile(story: StoryPage, path: string): Promise<void> {
  const dialog = await sites(story.page)
  const [chooser] = await Promise.all([
    story.page.waitForEvent('filechooser'),
    dialog.getByRole('button', { name: 'Open a file' }).click(),
  ])
  await chooser.setFiles(path)
  await dialog.waitFor({ state: 'detached' })
}

/** Readings as they are kept, by id. */
function kept(page: Page): Promise<Record<string, unknown>> {
  return page.evaluate(async () => {
    const done = <T>(request: IDBRequest<T>) =>
      new Promise<T>((resolve) => (request.onsuccess = () => resolve(request.result)))
    const database = await done(indexedDB.open('groundweave'))
    const stores = database.transaction(['sites', 'texts'])
    const rows = (await done(stores.objectStore('sites').getAll())) as { copies: { key: string }[] }[]
    if (rows.length !== 1) throw new Error(`${rows.length} sites`)
    const text = (await done(
      database.transaction('texts').objectStore('texts').get(rows[0].copies[0].key),
    )) as Uint8Array
    database.close()
    const { record, drawing } = JSON.parse(new TextDecoder().decode(text)) as {
      record: { id: string }[]
      drawing: unknown
    }
    return { drawing, ...Object.fromEntries(record.map((entry) => [entry.id, entry])) }
  })
}

describe('two tablets', () => {
  it('that measured apart end with one record after their files were exchanged', async () => {
    const [a, b] = [await tablet(), await tablet()]
    await measure(a, 'R4/T4/L1.5', 'R4/T5/L1.5', '0.031')
    await measure(a, 'R4/T4/L1.5', 'R4/T6/L1.5', '0.032')
    await measure(b, 'R3/T1/L1.5', 'R3/T2/L1.5', '0.041')
    const [fileA, fileB] = [await saveFile(a, 'a.json'), await saveFile(b, 'b.json')]
    await openFile(a, fileB)
    const dialog = a.page.getByRole('dialog', { name: 'Join two records of one site' })
    await dialog.getByText(/\(device [0-9a-f]{8}\): 1 reading and \d other entr/).waitFor()
    await dialog.getByText(/entries of the file are on this device already/).waitFor()
    await dialog.getByRole('button', { name: 'Join' }).click()
    await dialog.waitFor({ state: 'detached' })
    await a.counted(53)
    await openFile(b, fileA)
    const there = b.page.getByRole('dialog', { name: 'Join two records of one site' })
    await there.getByText(/: 2 readings and /).waitFor()
    await there.getByRole('button', { name: 'Join' }).click()
    await b.counted(53)
    await a.saved()
    await b.saved()
    expect(await kept(b.page)).toEqual(await kept(a.page))
    // a second time there is nothing to join
    await openFile(b, await saveFile(a, 'again.json'))
    await b.page.getByText('The file holds nothing that is not on this device already.').waitFor()
    await b.counted(53)
    expect(watching.map(({ complaints }) => complaints)).toEqual([[], []])
  })
})

describe('an earlier version', () => {
  it('is listed after a join, opens as a copy, and is gone back to with every reading kept', async () => {
    const [a, b] = [await tablet(), await tablet()]
    await measure(b, 'R3/T1/L1.5', 'R3/T2/L1.5', '0.041')
    await openFile(a, await saveFile(b, 'b.json'))
    await a.page.getByRole('button', { name: 'Join', exact: true }).click()
    await a.counted(51)
    const dialog = await sites(a.page)
    await dialog.getByRole('button', { name: /^Earlier versions/ }).click()
    const list = dialog.getByRole('list', { name: 'Earlier versions' })
    const version = list.getByRole('listitem').filter({ hasText: 'before records were joined' })
    expect(await version.innerText()).toMatch(/6 rows, 50 readings, \d+ kB/)
    await version.getByRole('button', { name: /^Go back to it/ }).click()
    await a.page.getByText(/Every entry of the record stays/).waitFor()
    await a.counted(51)
    await a.saved()
    const again = await sites(a.page)
    await again.getByRole('button', { name: /^Earlier versions/ }).click()
    await again
      .getByRole('listitem')
      .filter({ hasText: 'before records were joined' })
      .getByRole('button', { name: /^Open as a copy/ })
      .click()
    await a.page
      .getByText(/Larkmoor Field, as of /)
      .first()
      .waitFor()
    await a.counted(50)
    expect(watching.map(({ complaints }) => complaints)).toEqual([[], []])
  })
})

describe('a second tab', () => {
  it('only looks on at a site that is being joined elsewhere, and is told so when a file comes', async () => {
    const [a, b] = [await tablet(), await tablet()]
    await measure(b, 'R3/T1/L1.5', 'R3/T2/L1.5', '0.041')
    const file = await saveFile(b, 'b.json')
    const second = storyPage(await contexts[0].newPage())
    await second.page.addInitScript(() => Reflect.deleteProperty(window, 'showOpenFilePicker'))
    await second.page.goto(served.address)
    await second.page.getByText('Open in another tab', { exact: true }).first().waitFor()
    await openFile(second, file)
    await second.page
      .getByText(/can only be looked at here/)
      .first()
      .waitFor()
    expect(await second.page.getByRole('dialog', { name: /^Join/ }).count()).toBe(0)
    await openFile(a, file)
    await a.page.getByRole('button', { name: 'Join', exact: true }).click()
    await a.counted(51)
    await second.counted(51)
  })
})
