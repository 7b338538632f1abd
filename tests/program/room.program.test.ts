import type { Browser, BrowserContext, Page } from 'playwright'
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { launchChromium, serveBuild, type ServedBuild } from './servedBuild.ts'
import { sayNoVolts, storyPage } from './storyPage.ts'

const asked = { viewport: { width: 1180, height: 820 }, acceptDownloads: true }
let browser: Browser
let served: ServedBuild
let context: BrowserContext
let page: Page

beforeAll(async () => {
  browser = await launchChromium()
})
afterAll(() => browser.close())
beforeEach(async () => {
  served = await serveBuild()
  context = await browser.newContext(asked)
  page = await context.newPage()
  await page.addInitScript(() => Reflect.deleteProperty(window, 'showSaveFilePicker'))
})
afterEach(async () => {
  await context.close()
  await served.end()
})

async function enter(ohms: string): Promise<void> {
  const { panel, resistance } = storyPage(page)
  await page.getByRole('tab', { name: 'Measure' }).click()
  for (const [field, address] of [
    ['From', 'R4/T4/L1.5'],
    ['To', 'R4/T5/L1.5'],
  ]) {
    await panel.getByRole('combobox', { name: field, exact: true }).fill(address)
    await page.keyboard.press('Enter')
  }
  await sayNoVolts(page)
  await resistance.fill(ohms)
  await resistance.press('Enter')
  const nulled = panel.getByRole('button', { name: 'Nulled now' })
  await nulled.waitFor()
  if (await panel.getByText('Say first whether the leads are nulled').isVisible()) await nulled.click()
  await expect.poll(() => resistance.inputValue()).toBe('')
}

/** The file that the button of the banner gives, opened as text. */
async function savedFile(): Promise<{ record: { entry: string }[] }> {
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save as a file' }).click(),
  ])
  const chunks: Buffer[] = []
  for await (const chunk of await download.createReadStream()) chunks.push(chunk as Buffer)
  return JSON.parse(Buffer.concat(chunks).toString('utf8')) as { record: { entry: string }[] }
}

/** Fills what room there is, in ever smaller pieces, and says how the last one ended. */
function fill(on: Page): Promise<string> {
  return on.evaluate(async () => {
    const database = await new Promise<IDBDatabase>((resolve) => {
      const request = indexedDB.open('filler')
      request.onupgradeneeded = () => request.result.createObjectStore('bytes')
      request.onsuccess = () => resolve(request.result)
    })
    const put = (bytes: number) =>
      new Promise<string>((resolve) => {
        const transaction = database.transaction('bytes', 'readwrite')
        // such as cannot be packed smaller
        const pieces = Array.from({ length: bytes / 50_000 }, () =>
          crypto.getRandomValues(new Uint8Array(50_000)),
        )
        transaction.objectStore('bytes').put(pieces, Math.random())
        transaction.oncomplete = () => resolve('filled')
        transaction.onabort = () => resolve(transaction.error?.name ?? '')
      })
    let last = ''
    for (const bytes of [5_000_000, 500_000, 50_000]) {
      for (let k = 0; k < 60; k++) {
        last = await put(bytes)
        if (last !== 'filled') break
      }
    }
    database.close()
    return last
  })
}

describe('a device without room', () => {
  it('says at once that the reading is not saved, gives the site as a file, and saves once there is room', async () => {
    await context.close()
    // the copy of the program that the page keeps would take room too
    context = await browser.newContext({ ...asked, serviceWorkers: 'block' })
    page = await context.newPage()
    await page.addInitScript(() => Reflect.deleteProperty(window, 'showSaveFilePicker'))
    const session = await context.newCDPSession(page)
    const { origin } = new URL(served.address)
    await session.send('Storage.overrideQuotaForOrigin', { origin, quotaSize: 600_000 })
    const story = storyPage(page)
    await story.open(served.address)
    await story.endIntroduction()
    await story.saved()
    const alert = page.getByRole('alert').filter({ hasText: 'There is no room on this device' })
    expect(await fill(page)).toBe('QuotaExceededError')
    await enter('0.031')
    await alert.waitFor()
    await page.getByText('Not saved', { exact: true }).first().waitFor()
    const { record } = await savedFile()
    expect(record.filter(({ entry }) => entry === 'reading')).toHaveLength(51)
    await session.send('Storage.overrideQuotaForOrigin', { origin })
    await page.getByRole('button', { name: 'Try to save again' }).click()
    await story.saved()
    await alert.waitFor({ state: 'detached' })
    await page.reload()
    await story.counted(51)
  })

  it('tells the room that is left, and whether the browser may clear what is kept', async () => {
    const story = storyPage(page)
    await story.open(served.address)
    await page.getByRole('button', { name: /Open the list of sites/ }).click()
    await page.getByText(/Kept on this device: .* Room left: about .*B\./).waitFor()
    await page
      .getByText(/a browser may clear what it keeps|has agreed not to clear|may clear it when/)
      .waitFor()
  })
})

describe('a browser that keeps nothing', () => {
  it('says so at once, works all the same, and gives the site as a file', async () => {
    await page.addInitScript(() => {
      Object.defineProperty(window, 'indexedDB', {
        get() {
          throw new DOMException('storage is off', 'SecurityError')
        },
      })
    })
    const story = storyPage(page)
    await story.open(served.address)
    await story.endIntroduction()
    await page.getByText(/This browser keeps nothing for this page/).waitFor()
    await page.getByText('Not kept on this device', { exact: true }).first().waitFor()
    await enter('0.031')
    await story.counted(51)
    const { record } = await savedFile()
    expect(record.filter(({ entry }) => entry === 'reading')).toHaveLength(51)
  })
})
