import type { Browser, BrowserContext } from 'playwright'
import { mkdirSync } from 'node:fs'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { launchChromium, serveBuild, watch, type ServedBuild, type Watched } from './servedBuild.ts'
import { storyPage } from './storyPage.ts'

const patience = { timeout: 20_000 }
/** Where pictures of what the test sees are wanted: GROUNDWEAVE_SHOTS=folder. */
const shots = process.env['GROUNDWEAVE_SHOTS']

let browser: Browser
let served: ServedBuild
let context: BrowserContext
let watched: Watched

beforeEach(async () => {
  browser = await launchChromium()
  served = await serveBuild()
  context = await browser.newContext({ viewport: { width: 1180, height: 820 } })
  watched = watch(context, served.address)
})
afterEach(async () => {
  await context.close()
  await browser.close()
  await served.end()
})

describe('a defect of the demo field', () => {
  it('is opened, looked at, repaired, retested and signed; a correction opens it and the sheet again', async () => {
    const story = storyPage(await context.newPage())
    const { page, panel } = story
    const dialog = page.getByRole('dialog')
    const defect = (state: string) => panel.getByRole('article', { name: `D1, ${state}` })
    const unfold = async (name: RegExp) => {
      const head = panel.getByRole('button', { name })
      await head.waitFor(patience)
      if ((await head.getAttribute('aria-expanded')) === 'false') await head.click()
    }
    const shot = async (name: string) => {
      if (shots === undefined) return
      mkdirSync(shots, { recursive: true })
      await page.screenshot({ path: `${shots}/${name}.png` })
    }
    const press = (name: string) => dialog.getByRole('button', { name, exact: true }).click()
    const record = () => panel.getByRole('button', { name: /^Record it.*D1$/ }).last()

    await story.open(served.address)
    await story.endIntroduction()
    await story.firstSuspect.click()
    await panel.getByRole('button', { name: 'Open a defect' }).click()
    await defect('suspected').waitFor(patience)

    const card = defect('suspected')
    await card.getByRole('button', { name: /^Record a look/ }).click()
    await press('loose')
    await press('corroded')
    await shot('look')
    await press('Record the look')
    await card.getByRole('button', { name: /^Record a repair/ }).click()
    await press('set to torque')
    await dialog.getByRole('textbox', { name: 'Torque set' }).fill('25')
    await shot('repair')
    await press('Record the repair')
    await record().click()
    await defect('repaired').waitFor(patience)
    await shot('defect')

    await panel
      .getByRole('button', { name: /^Retest: measure / })
      .first()
      .click()
    await story.sayNoVolts()
    await story.resistance.waitFor(patience)
    await story.resistance.fill('0,034')
    await story.resistance.press('Enter')
    await story.sayNulled()
    await unfold(/^Defects: 1 open of 1/)
    await record().click()
    await panel.getByRole('button', { name: /^Defects: 0 open of 1/ }).waitFor(patience)

    await unfold(/^Signatures/)
    for (const [role, name] of [
      ['tester', 'A. Rowan'],
      ['witness', 'C. Hazel'],
    ] as const) {
      await panel.getByRole('button', { name: 'Sign the visit …' }).click()
      await press(role)
      await dialog.getByRole('textbox', { name: 'Name' }).fill(name)
      await dialog.getByRole('switch').click()
      await shot(`sign-${role}`)
      await press('Sign')
      await dialog.waitFor({ state: 'hidden' })
    }
    await expect.poll(() => panel.getByText('holds', { exact: true }).count(), patience).toBe(2)
    await shot('signed')

    await story.readings.getByRole('option', { name: /34 mΩ/ }).first().click()
    await panel.getByRole('button', { name: 'Correct it …' }).first().click()
    await dialog.getByRole('textbox').fill('2.1')
    await press('Correct it')
    await panel.getByText('The sheet is open again').waitFor(patience)
    await panel.getByRole('button', { name: /^Defects: 1 open of 1/ }).waitFor(patience)
    await shot('reopened')
    await story.saved()

    await page.reload()
    await page.getByRole('tab', { name: 'Measure' }).click()
    await panel.getByText('The sheet is open again').waitFor(patience)
    await unfold(/^Defects: 1 open of 1/)
    await defect('repaired').waitFor(patience)
    await unfold(/^Signatures \(2\)/)
    await expect.poll(() => panel.getByText('open again', { exact: true }).count(), patience).toBe(2)
    for (const [width, name] of [
      [390, 'phone'],
      [820, 'tablet'],
    ] as const) {
      await page.setViewportSize({ width, height: 1000 })
      await defect('repaired').scrollIntoViewIfNeeded()
      await shot(name)
    }
    expect(watched).toEqual({ strayRequests: [], complaints: [] })
  }, 120_000)
})
