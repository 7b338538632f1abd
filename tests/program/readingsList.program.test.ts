import type { Browser, Page } from 'playwright'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { launchChromium, serveBuild, type ServedBuild } from './servedBuild.ts'
import { storyPage } from './storyPage.ts'

let browser: Browser
let served: ServedBuild

beforeAll(async () => {
  browser = await launchChromium()
  served = await serveBuild()
})
afterAll(async () => {
  await browser.close()
  await served.end()
})

/** Frames of two tables of the field demo, sixty pairs of them. */
const pairs = Array.from({ length: 60 }, (_, k) => {
  const table = 1 + (k % 6)
  return `R${1 + (k % 3)}/T${table}/F1.${1 + (k % 2)}\tR${1 + (k % 3)}/T${table + 1}/F1.1\t${(0.2 + k / 1000).toFixed(3)}`
})
const list = (lines: readonly string[]) => `from\tto\tohm\n${lines.join('\n')}\n`

async function measuring(): Promise<Page> {
  const context = await browser.newContext({ viewport: { width: 1400, height: 900 } })
  const page = await context.newPage()
  const story = storyPage(page)
  await story.open(served.address)
  await story.endIntroduction()
  await toMeasure(page)
  return page
}

async function toMeasure(page: Page): Promise<void> {
  await page.getByRole('tab', { name: 'Measure' }).click()
}

const shown = (page: Page, count: number) =>
  page.getByRole('region', { name: 'Readings', exact: true }).getByText(`${count} readings`, { exact: true })

async function openList(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'Readings from a list …' }).click()
}

describe('a list of readings in the program', () => {
  it('is pasted, recorded, weighed, kept, and withdrawn; a file with rejected lines writes nothing', async () => {
    const page = await measuring()
    await shown(page, 50).waitFor()
    await openList(page)
    await page.getByLabel('Or paste cells from a spreadsheet').fill(list(pairs))
    await page.getByRole('button', { name: 'Read what is pasted' }).click()
    await page.getByRole('button', { name: 'Record 60 readings', exact: true }).click()
    await page
      .getByRole('dialog')
      .getByText(/^60 readings recorded from list/)
      .waitFor()

    await page.getByLabel('File with readings').setInputFiles({
      name: 'second.csv',
      mimeType: 'text/csv',
      buffer: Buffer.from(
        list([...pairs, 'R1/T1/F1.1\tR99/T1/F1.1\t0.2', 'R1/T1/F1.1\tR1/T2/F1.2\t-3']).replaceAll('\t', ';'),
      ),
    })
    await page.getByText(/60 lines are there already, and are left out\. 2 lines are rejected/).waitFor()
    await page
      .getByRole('list', { name: 'Rejected lines' })
      .getByText(/line 63: .*no less than zero ohms/)
      .waitFor()
    const record = page.getByRole('button', { name: 'Record 0 readings', exact: true })
    expect(await record.getAttribute('aria-disabled')).toBe('true')
    await page.getByRole('button', { name: 'Leave it' }).click()

    await shown(page, 110).waitFor()
    const readings = page.getByRole('region', { name: 'Readings', exact: true })
    await expect.poll(() => readings.getByText('being weighed').count(), { timeout: 60_000 }).toBe(0)
    await page.getByText('Saved on this device', { exact: true }).waitFor()

    await page.reload()
    await toMeasure(page)
    await shown(page, 110).waitFor()
    await openList(page)
    await page.getByRole('button', { name: 'Withdraw this list' }).click()
    await page.getByRole('button', { name: 'Withdraw all of it' }).click()
    await page.getByText('“pasted list”: 0 readings, 60 withdrawn').waitFor()
    await page.getByRole('button', { name: 'Leave it' }).click()
    await shown(page, 110).waitFor()
    await readings.getByText('withdrawn').first().waitFor()
    await page.context().close()
  }, 180_000)
})
