import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setTimeout as pause } from 'node:timers/promises'
import type { Page } from 'playwright'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { randomStream } from '../../src/base/random.ts'
import { startKillable, type KillableBrowser } from './killableBrowser.ts'
import { serveBuild, type ServedBuild } from './servedBuild.ts'
import { sayNoVolts, storyPage } from './storyPage.ts'

/** More of them: GROUNDWEAVE_KILLS=50 npx vitest run --project program tests/program/killed.program.test.ts */
const kills = Number(process.env['GROUNDWEAVE_KILLS'] ?? 6)
const isLong = process.env['GROUNDWEAVE_KILLS'] !== undefined
const longestMs = 4000

let served: ServedBuild
let profile: string
let running: KillableBrowser | null = null

beforeEach(async () => {
  served = await serveBuild()
  profile = mkdtempSync(join(tmpdir(), 'groundweave-profile-'))
})
afterEach(async () => {
  await running?.kill()
  running = null
  await served.end()
  rmSync(profile, { recursive: true, force: true, maxRetries: 5 })
})

/** What the screen has said so far: how many readings it showed, and how many of them as saved. */
interface Said {
  shown: number
  saved: number
}

async function open(): Promise<{ page: Page; said: Said }> {
  running = await startKillable(profile)
  const page = running.context.pages()[0] ?? (await running.context.newPage())
  const said: Said = { shown: 0, saved: 0 }
  await page.exposeFunction('groundweaveSaid', (shown: number, isSaved: boolean) => {
    said.shown = Math.max(said.shown, shown)
    if (isSaved) said.saved = Math.max(said.saved, shown)
  })
  await page.addInitScript(watchScreen)
  await page.goto(served.address)
  const tab = page.getByRole('tab', { name: 'Measure' })
  await tab.waitFor()
  const skip = page.getByRole('button', { name: 'Skip' })
  await page.getByRole('application').waitFor()
  if (await skip.isVisible()) await skip.click()
  await tab.click()
  await page
    .getByText(/^\d+ readings$/)
    .first()
    .waitFor()
  return { page, said }
}

/** Runs in the page: tells each time what the screen says, as soon as it says it. */
function watchScreen() {
  const told = window as unknown as { groundweaveSaid(shown: number, isSaved: boolean): void }
  const look = () => {
    const said = [...document.querySelectorAll('[role=tabpanel] *')].map(({ textContent }) =>
      textContent.trim(),
    )
    const shown = Number.parseInt(said.find((text) => /^\d+ readings$/.test(text)) ?? '0')
    const words = document.querySelector('[role=status][title]')?.getAttribute('title')
    told.groundweaveSaid(shown, words === 'Saved on this device')
  }
  const begin = () =>
    new MutationObserver(look).observe(document, {
      subtree: true,
      childList: true,
      attributes: true,
      characterData: true,
    })
  begin()
}

/** The readings of the newest sound copy of every site, as they are kept: their ohms by the name of the site. */
async function kept(page: Page): Promise<{ sites: number; unreadable: number; readings: number[] }> {
  return page.evaluate(async () => {
    const done = <T>(request: IDBRequest<T>) =>
      new Promise<T>((resolve, reject) => {
        request.onsuccess = () => resolve(request.result)
        request.onerror = () => reject(new Error(String(request.error)))
      })
    const database = await done(indexedDB.open('groundweave'))
    const stores = database.transaction(['sites', 'texts'])
    const rows = (await done(stores.objectStore('sites').getAll())) as {
      copies: { key: string; sha256: string }[]
    }[]
    let unreadable = 0
    const readings: number[] = []
    for (const { copies } of rows) {
      const [{ key, sha256 }] = copies
      const text = (await done(database.transaction('texts').objectStore('texts').get(key))) as
        Uint8Array<ArrayBuffer> | undefined
      const digest = text && new Uint8Array(await crypto.subtle.digest('SHA-256', text))
      const found = digest && Array.from(digest, (byte) => byte.toString(16).padStart(2, '0')).join('')
      if (found !== sha256) {
        unreadable += 1
        continue
      }
      const site = JSON.parse(new TextDecoder().decode(text)) as {
        record: { entry: string; result: { ohm: number } }[]
      }
      readings.push(...site.record.filter(({ entry }) => entry === 'reading').map(({ result }) => result.ohm))
    }
    database.close()
    return { sites: rows.length, unreadable, readings }
  })
}

async function chooseEnds(page: Page, hasFrom: boolean): Promise<void> {
  const field = (name: string) => page.getByRole('combobox', { name, exact: true })
  if (!hasFrom) {
    await field('From').fill('R4/T4/L1.5')
    await page.keyboard.press('Enter')
  }
  await field('To').fill('R4/T5/L1.5')
  await page.keyboard.press('Enter')
}

/** Types a value on the large keys of the form. */
async function key(page: Page, digits: string): Promise<void> {
  const keys = page.getByRole('group', { name: 'Keys for the resistance' })
  if (!(await keys.isVisible())) await page.getByRole('button', { name: 'Keys', exact: true }).click()
  for (const digit of digits) {
    const name = digit === '.' ? 'point' : digit
    await keys.getByRole('button', { name, exact: true }).click()
  }
}

async function enter(page: Page, milliohms: string): Promise<void> {
  const from = page.getByRole('combobox', { name: 'From', exact: true })
  const clear = page.getByRole('button', { name: 'Clear it' })
  if (await clear.isVisible()) await clear.click()
  await chooseEnds(page, (await from.inputValue()) !== '')
  await sayNoVolts(page)
  await key(page, milliohms)
  await page.getByRole('button', { name: 'Enter the reading' }).click()
  const nulled = page.getByRole('button', { name: 'Nulled now' })
  if (await nulled.isVisible()) await nulled.click()
}

/** Enters readings one after the other, and kills the browser at that moment whatever it is doing. */
async function enterUntil(page: Page, ms: number, next: () => string): Promise<void> {
  let isKilled = false
  const entering = (async () => {
    while (!isKilled) await enter(page, next())
  })().catch((error: unknown) => {
    if (!isKilled) throw error
  })
  await Promise.race([entering, pause(ms)])
  isKilled = true
  await running!.kill()
  await entering
}

describe('a browser that is killed', () => {
  it(
    `${kills} times while readings are entered keeps all that the screen said was saved`,
    { timeout: 60_000 + kills * 15_000 },
    async () => {
      const random = randomStream(20331)
      let [value, entered, lost, broughtBack] = [100, 0, 0, 0]
      let { page, said } = await open()
      for (let k = 0; k < kills; k++) {
        const before = said.shown
        await enterUntil(page, random.uniform() * longestMs, () => `${(value++ / 10).toFixed(1)}`)
        const after = await open()
        const { sites, readings, unreadable } = await kept(after.page)
        const facts = `kill ${k + 1}: shown ${said.shown}, said saved ${said.saved}, kept ${readings.length}`
        if (await after.page.getByText(/brought back from the second copy/).isVisible()) broughtBack += 1
        if (isLong) console.log(facts)
        expect([sites, unreadable], facts).toEqual([1, 0])
        await expect.poll(() => after.said.shown, { message: facts }).toBe(readings.length)
        expect(readings.length, facts).toBeGreaterThanOrEqual(said.saved)
        expect(said.shown - readings.length, facts).toBeLessThanOrEqual(1)
        entered += said.shown - before
        if (readings.length < said.shown) lost += 1
        page = after.page
        said = after.said
      }
      expect(entered).toBeGreaterThan(kills / 2)
      const sum = `${kills} kills, ${entered} readings shown, ${lost} in flight and not kept`
      if (isLong) console.log(`${sum}; the database was lost and brought back ${broughtBack} times`)
    },
  )

  it('while a value is being typed gives it back, with a line that says so', async () => {
    const { page } = await open()
    await chooseEnds(page, false)
    await sayNoVolts(page)
    await storyPage(page).saved()
    await key(page, '12.3')
    await pause(400)
    await running!.kill()
    const again = await open()
    const { panel } = storyPage(again.page)
    await panel.getByText(/^Kept from before/).waitFor()
    expect(await panel.getByRole('textbox', { name: 'Resistance' }).inputValue()).toBe('12.3')
    expect(await panel.getByRole('combobox', { name: 'To', exact: true }).inputValue()).not.toBe('')
    await panel.getByRole('button', { name: 'Clear it' }).click()
    expect(await panel.getByRole('combobox', { name: 'From', exact: true }).inputValue()).toBe('')
  })
})
