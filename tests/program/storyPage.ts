import type { Locator, Page } from 'playwright'
import { expect } from 'vitest'

/** What a user sees and does on the page, by names, roles and text alone. */
export interface StoryPage {
  readonly page: Page
  readonly map: Locator
  readonly panel: Locator
  /** The sentence that answers "which joint is bad". */
  readonly headline: Locator
  readonly firstSuspect: Locator
  /** That sentence and how likely it is. */
  answered(): Promise<string>
  readonly resistance: Locator
  readonly readings: Locator
  /** Opens the page and waits for a ranking. */
  open(address: string): Promise<void>
  /** Waits until what the ranking says belongs to the site as it is now. */
  ranked(): Promise<void>
  endIntroduction(): Promise<void>
  /** Waits until the header says that the work is kept. */
  saved(): Promise<void>
  /** Enters that volts read nought in all four places, as each new set-up asks before ohms; the hand goes on there. */
  sayNoVolts(press?: (place: Locator) => Promise<void>): Promise<void>
  /** Answers for the first reading of the day that the leads have just been nulled; the reading is entered then. */
  sayNulled(): Promise<void>
  /** How many readings the list says there are. */
  counted(readings: number): Promise<void>
  /** Waits until the opened suspect's evidence, for, against and silent, is of so many readings. */
  weighed(readings: number): Promise<void>
  /** Where two parts lie on the screen that the keyboard reaches one after the other, and what they are called. */
  twoParts(): Promise<readonly [PlacedPart, PlacedPart]>
}

export interface PlacedPart {
  readonly name: string
  readonly x: number
  readonly y: number
}

const patience = { timeout: 20_000 }

export function storyPage(page: Page): StoryPage {
  const map = page.getByRole('application', { name: 'Map of Larkmoor Field' })
  const panel = page.getByRole('tabpanel')
  const headline = panel.getByText(/Lead for inspection: /)
  const firstSuspect = panel.getByRole('button', { name: /^Suspect 1:/ })
  const resistance = panel.getByRole('textbox', { name: 'Resistance' })
  const readings = panel.getByRole('listbox', { name: 'Readings' })
  const tab = (name: string) => page.getByRole('tab', { name })

  async function ranked() {
    await tab('Locate').click()
    await headline.waitFor(patience)
    await page.waitForFunction(
      () => document.querySelector('[role="tabpanel"] [aria-busy="true"]') === null,
      undefined,
      patience,
    )
    await firstSuspect.waitFor(patience)
  }

  /** Where the keyboard stands on the map; a reading that is proposed has a button of its own. */
  const standpoint = map.getByRole('button', { name: /^(?!Next reading)/ })

  async function standing(): Promise<PlacedPart> {
    const box = (await standpoint.boundingBox())!
    const name = (await standpoint.getAttribute('aria-label'))!
    return { name, x: box.x + box.width / 2, y: box.y + box.height / 2 }
  }

  async function twoParts() {
    await standpoint.focus()
    await map.getByRole('button', { name: /^Map: arrow keys/ }).waitFor({ state: 'detached' })
    const first = await standing()
    await page.keyboard.press('ArrowRight')
    await page.keyboard.press('ArrowRight')
    await expect.poll(async () => (await standing()).name).not.toBe(first.name)
    return [first, await standing()] as const
  }

  async function weighed(readings: number) {
    const counts = async () => {
      const [, bearing, against] = /(\d+) readings? for it, (\d+) against/.exec(await panel.innerText()) ?? []
      const [, silent = 0] = /(\d+) readings? that says? nothing about it/.exec(await panel.innerText()) ?? []
      return Number(bearing) + Number(against) + Number(silent)
    }
    await expect.poll(counts, patience).toBe(readings)
  }

  return {
    page,
    map,
    panel,
    headline,
    firstSuspect,
    resistance,
    readings,
    ranked,
    weighed,
    twoParts,
    answered: () => headline.locator('xpath=..').innerText(),
    async open(address) {
      await page.goto(address)
      await ranked()
    },
    async endIntroduction() {
      await page.getByRole('button', { name: 'Skip' }).click()
      await page.getByRole('button', { name: 'Skip' }).waitFor({ state: 'detached' })
    },
    async saved() {
      await page.getByText('Saved on this device', { exact: true }).waitFor(patience)
    },
    sayNoVolts: (press) => sayNoVolts(page, press),
    async sayNulled() {
      await panel.getByText(/^Leads were last nulled on 12 May/).waitFor(patience)
      await panel.getByRole('button', { name: 'Nulled now' }).click()
    },
    async counted(count) {
      await tab('Measure').click()
      await panel.getByText(`${count} readings`, { exact: true }).waitFor(patience)
    },
  }
}

/** Where volts are asked for before ohms: enters that the meter shows nought in all four places. */
export async function sayNoVolts(
  page: Page,
  press: (place: Locator) => Promise<void> = (place) => place.click(),
): Promise<void> {
  const panel = page.getByRole('tabpanel')
  const allZero = panel.getByRole('button', { name: 'All four read 0.0 V' })
  const resistance = panel.getByRole('textbox', { name: 'Resistance' })
  await allZero.or(resistance).first().waitFor(patience)
  if (await resistance.isVisible()) return
  await press(allZero)
  await resistance.waitFor(patience)
}

/** Presses Tab until the focus has come to a place, as someone without a pointer does. */
export async function tabTo(page: Page, goal: Locator): Promise<void> {
  for (let presses = 0; presses < 60; presses++) {
    const isThere =
      (await goal.count()) === 1 && (await goal.evaluate((element) => element === document.activeElement))
    if (isThere) return
    await page.keyboard.press('Tab')
  }
  const stoodOn = await page.evaluate(() => document.activeElement?.outerHTML.slice(0, 200))
  throw new Error(`60 presses of Tab did not come to ${String(goal)}; the focus is on ${stoodOn}`)
}
