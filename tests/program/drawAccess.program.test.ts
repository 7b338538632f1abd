import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import type Axe from 'axe-core'
import type { Browser, Page } from 'playwright'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { openYard, yardSite, type Yard } from './drawYard.ts'
import { launchChromium, serveBuild, type ServedBuild } from './servedBuild.ts'
import { tabTo } from './storyPage.ts'

const axeSource = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8')
/** Width and height that a finger or an unsteady hand needs at least, by WCAG 2.2, 2.5.8. */
const leastTargetPx = 24

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

/** What axe finds, sizes of targets among it, as `rule: markup`. */
function breaches(page: Page): Promise<string[]> {
  return page.evaluate(async () => {
    const { axe } = window as unknown as { axe: typeof Axe }
    const { violations } = await axe.run(document, { rules: { 'target-size': { enabled: true } } })
    return violations.flatMap(({ id, nodes }) => nodes.map(({ html }) => `${id}: ${html.slice(0, 200)}`))
  })
}

/** Controls in sight that are smaller than a target may be; a choice in a rack is as large as its label. */
function smallTargets(page: Page): Promise<string[]> {
  return page.evaluate((leastPx) => {
    const top = [...document.querySelectorAll('dialog[open]')].at(-1) ?? document.body
    const controls = top.querySelectorAll('button, input, select, textarea, summary, a[href], [role=slider]')
    return [...controls].flatMap((control) => {
      if (control.closest('[role=application], .skip') || control.getClientRects().length === 0) return []
      const isChoice = control instanceof HTMLInputElement && ['radio', 'checkbox'].includes(control.type)
      const target = (isChoice && control.closest('label')) || control
      const { width, height } = target.getBoundingClientRect()
      const isSmall = width < leastPx || height < leastPx
      return isSmall
        ? [`${Math.round(width)} × ${Math.round(height)}: ${control.outerHTML.slice(0, 160)}`]
        : []
    })
  }, leastTargetPx)
}

/** All views of Draw, one after the other. */
async function inViews(yard: Yard, look: (view: string) => Promise<void>): Promise<void> {
  const { page, panel } = yard
  const dialog = page.getByRole('dialog')
  const close = async () => {
    await page.keyboard.press('Escape')
    await dialog.waitFor({ state: 'hidden' })
  }
  await look('nothing chosen')
  await yard.tap({ x: 6, y: 2 })
  const chosen = panel.getByRole('region', { name: 'What is chosen' })
  await chosen.waitFor()
  await look('a row chosen')
  await chosen.getByRole('button', { name: /^Labels of its/ }).click()
  await dialog.waitFor()
  await look('labels')
  await close()
  await panel.getByRole('button', { name: 'Bring in a list or map file' }).click()
  await dialog.waitFor()
  await look('import')
  await close()
  await panel.getByRole('button', { name: 'Table types' }).click()
  await panel.getByRole('button', { name: /^Edit/ }).first().click()
  await dialog.waitFor()
  await look('type editor')
  await close()
  await panel.getByRole('radio', { name: 'Conductor' }).check({ force: true })
  await yard.tap({ x: -3, y: -4 })
  await panel.getByRole('button', { name: 'Finish' }).waitFor()
  await look('a conductor under way')
}

async function openLooked(site = yardSite(), colorScheme: 'light' | 'dark' = 'light') {
  const yard = await openYard(browser, served, { colorScheme }, site)
  await yard.page.evaluate(axeSource)
  return yard
}

describe('drawing, for everybody', () => {
  it('has no breach that axe can find and no small target in any view, light and dark', async () => {
    const found: Record<string, string[]> = {}
    for (const scheme of ['light', 'dark'] as const) {
      const yard = await openLooked(yardSite(), scheme)
      const { page } = yard
      await inViews(yard, async (view) => {
        found[`${view}, ${scheme}`] = [...(await breaches(page)), ...(await smallTargets(page))]
      })
      expect(yard.watched).toEqual({ strayRequests: [], complaints: [] })
      await yard.context.close()
    }
    expect(Object.keys(found)).toHaveLength(12)
    expect(Object.entries(found).filter(([, list]) => list.length > 0)).toEqual([])
  })

  it('has none on an empty site either', async () => {
    const { drawing, ...site } = yardSite()
    const nothing = { rows: [], tableTypes: [], enclosures: [], earthBars: [], electrodes: [] }
    const yard = await openLooked({ ...site, drawing: { ...drawing, ...nothing } })
    await yard.panel.getByText(/^Nothing is drawn yet/).waitFor()
    expect([...(await breaches(yard.page)), ...(await smallTargets(yard.page))]).toEqual([])
    await yard.context.close()
  })

  it('says on the map where the keyboard is, and shows it', async () => {
    const yard = await openLooked()
    const { page, map } = yard
    const standpoint = map.getByRole('button').first()
    await tabTo(page, standpoint)
    const frame = () =>
      map.evaluate((element) => {
        const { borderTopStyle, borderTopWidth, content } = getComputedStyle(element, '::after')
        return content === 'none' ? 'none' : `${borderTopStyle} ${borderTopWidth}`
      })
    expect(await frame()).toBe('dashed 2px')
    expect(await standpoint.getAttribute('aria-label')).toMatch(/cross/)
    const help = await page
      .locator(`#${(await map.getAttribute('aria-describedby'))!}`)
      .evaluate((e) => e.textContent)
    expect(help).toMatch(/^Arrow keys move a cross/)
    await page.keyboard.press('ArrowRight')
    await page.keyboard.press('ArrowRight')
    await expect.poll(() => map.locator('[aria-live]').innerText()).toMatch(/^x .* m, y .* m$/)
    await page.keyboard.press('Tab')
    expect(await frame()).toBe('none')
    await yard.context.close()
  })

  it('keeps its tools and their names whole on a phone, with half of the page for the map', async () => {
    const found: string[] = []
    for (const [width, height] of [
      [390, 844],
      [360, 740],
      [844, 390],
      [820, 1180],
    ]) {
      const yard = await openYard(browser, served, { viewport: { width, height }, hasTouch: true })
      const { page, panel, map } = yard
      for (const name of ['Choose', 'Equipment', 'Conductor', 'Distance']) {
        const label = panel.getByRole('radio', { name, exact: true }).locator('xpath=..')
        const word = (await label.locator('span').boundingBox())!
        const box = (await label.boundingBox())!
        const view = page.viewportSize()!
        if (word.height > 20) found.push(`${name} is broken at ${width} px: ${word.height}`)
        if (box.y + box.height > view.height || box.x + box.width > view.width)
          found.push(`${name} is out of sight at ${width} × ${height}`)
      }
      const plan = (await map.boundingBox())!
      if (plan.height < 0.4 * height || plan.width < 0.5 * width)
        found.push(`the map is small at ${width} px`)
      await yard.context.close()
    }
    expect(found).toEqual([])
  })
})
