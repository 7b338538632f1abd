import type { Browser, BrowserContext, Page } from 'playwright'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { launchChromium, serveBuild, watch, type ServedBuild } from './servedBuild.ts'
import { storyPage } from './storyPage.ts'

const demoReadings = 50

let browser: Browser
let served: ServedBuild
let context: BrowserContext

beforeAll(async () => {
  browser = await launchChromium()
  served = await serveBuild()
})
afterAll(async () => {
  await context.close()
  await browser.close()
  await served.end()
})

async function choosePair(page: Page, from: string, to: string): Promise<void> {
  for (const [name, address] of [
    ['From', from],
    ['To', to],
  ]) {
    await page.getByRole('combobox', { name, exact: true }).fill(address)
    await page.keyboard.press('Enter')
  }
}

/** DC and AC between the clips, then to earth. */
async function enterVolts(page: Page, volts: readonly string[]): Promise<void> {
  const group = page.getByRole('group', { name: 'Volts before ohms' })
  for (const [k, text] of volts.entries()) await group.getByRole('textbox').nth(k).fill(text)
  await group.getByRole('button', { name: 'Enter the volts' }).click()
}

it('a visit is opened, volts come before ohms, leads are checked, changes are amended, and a reload keeps all', async () => {
  context = await browser.newContext({ viewport: { width: 820, height: 1180 } })
  const watched = watch(context, served.address)
  const page = await context.newPage()
  const story = storyPage(page)
  const { panel, resistance } = story
  await story.open(served.address)
  await story.endIntroduction()
  await page.getByRole('tab', { name: 'Measure' }).click()
  const card = panel.getByRole('region', { name: 'Visit' })
  await card.getByText(/The visit of 12 May .*is over/).waitFor()
  await card.getByRole('button', { name: 'Open a visit' }).click()
  await card.getByRole('textbox', { name: 'Who measures' }).fill('A. Rowan')
  await card.getByRole('combobox', { name: 'Isolators' }).selectOption('open')
  await card
    .getByRole('button', { name: /two-wire, 200 mA$/ })
    .first()
    .click()
  await card.getByLabel('Calibration due').fill('2026-01-31')
  await card.getByRole('button', { name: 'Open the visit' }).click()
  await card.getByText(/^A\. Rowan · .*isolators open$/).waitFor()
  const expired = /^Calibration of .* ended on 2026-01-31/
  await card.getByText(expired).waitFor()

  await choosePair(page, 'R4/T4/L1.5', 'R4/T5/L1.5')
  await enterVolts(page, ['0.1', '0.3', '0', '24.5'])
  const alarm = panel.getByRole('alert').filter({ hasText: 'Stop: volts are present' })
  await alarm.getByText(/24\.5 V AC from the clip at .*more than 10 V/).waitFor()
  expect(await resistance.count()).toBe(0)
  await enterVolts(page, ['0.1', '0.3', '0', '0.4'])
  await resistance.waitFor()
  // beside the value as well as in the card
  expect(await panel.getByText(expired).count()).toBe(2)
  await resistance.fill('0.03')
  await resistance.press('Enter')
  await panel.getByRole('button', { name: 'Nulled now' }).click()
  await story.counted(demoReadings + 1)

  await card.getByRole('button', { name: 'Change the visit' }).click()
  await card.getByText(/^Closing check outstanding for .* since \d\d:\d\d \(1 reading\)\.$/).waitFor()
  await card.getByRole('textbox', { name: /Read with the lead shorted/ }).fill('0.01')
  await card.getByRole('button', { name: 'Enter a lead check' }).click()
  await card.getByText(/^Closing check outstanding/).waitFor({ state: 'detached' })
  await card.getByRole('combobox', { name: 'Inverter' }).selectOption('off')
  await card.getByRole('button', { name: 'Enter the changes' }).click()
  await card.getByText(/inverter off, isolators open$/).waitFor()
  await story.saved()

  await page.reload()
  await page.getByRole('tab', { name: 'Measure' }).click()
  await card.getByText(/^A\. Rowan · .*inverter off, isolators open$/).waitFor()
  await story.counted(demoReadings + 1)
  // the isolation was noted otherwise after the last check of volts
  await choosePair(page, 'R4/T4/L1.5', 'R4/T6/L1.5')
  await panel.getByText(/isolation was noted otherwise since/).waitFor()
  expect(await resistance.count()).toBe(0)
  expect(watched).toEqual({ strayRequests: [], complaints: [] })
})
