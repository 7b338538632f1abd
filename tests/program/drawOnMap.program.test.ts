import type { Browser, Locator, Page } from 'playwright'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { drawPage } from './drawPage.ts'
import { mouseHand, openYard, yardSite } from './drawYard.ts'
import { launchChromium, serveBuild, type ServedBuild } from './servedBuild.ts'

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

const clean = { strayRequests: [], complaints: [] }

async function middleOf(map: Locator) {
  const box = (await map.boundingBox())!
  return { x: box.x + box.width / 2, y: box.y + box.height / 2 }
}

async function chooseColours(page: Page, name: string): Promise<void> {
  await page.getByRole('button', { name: 'Colours of the screen' }).click()
  await page.getByRole('menuitemradio', { name: new RegExp(`^${name}`) }).click()
}

describe('the map while it is drawn on', () => {
  it('reaches ground 150 m away on an empty site, and zooms no further than one can draw', async () => {
    const { drawing, ...site } = yardSite()
    const empty = { ...drawing, rows: [], enclosures: [], earthBars: [], electrodes: [] }
    const yard = await openYard(browser, served, {}, { ...site, drawing: empty })
    const { page, map, panel } = yard
    const middle = await middleOf(map)
    await page.mouse.move(middle.x, middle.y)
    for (let k = 0; k < 40; k++) await page.mouse.wheel(0, 900)
    await page.waitForTimeout(300)
    const west = await yard.onScreen({ x: -150, y: 0 })
    const north = await yard.onScreen({ x: 0, y: 150 })
    const box = (await map.boundingBox())!
    expect(west.x).toBeGreaterThan(box.x - 40)
    expect(north.y).toBeGreaterThan(box.y - 40)
    const hand = mouseHand(yard)
    await hand.take('Electrode')
    await hand.tap({ x: -100, y: -50 })

    // dragged there, with the middle button and any tool in hand
    await hand.take('Row')
    for (let k = 0; k < 3; k++) {
      await page.mouse.move(middle.x - 200, middle.y)
      await page.mouse.down({ button: 'middle' })
      await page.mouse.move(middle.x + 200, middle.y, { steps: 6 })
      await page.mouse.up({ button: 'middle' })
    }
    await page.waitForTimeout(200)
    const further = await yard.onScreen({ x: -150, y: 0 })
    expect(further.x).toBeGreaterThan(west.x + 60)
    expect(further.x).toBeLessThan(box.x + box.width)

    const at = await middleOf(map)
    await page.mouse.move(at.x, at.y)
    for (let k = 0; k < 60; k++) await page.mouse.wheel(0, -900)
    await page.waitForTimeout(300)
    const [a, b] = [await yard.onScreen({ x: 0, y: 0 }), await yard.onScreen({ x: 1, y: 0 })]
    expect(b.x - a.x).toBeGreaterThan(300)
    expect(b.x - a.x).toBeLessThan(520)

    await page.getByRole('button', { name: 'Show the whole site' }).click()
    await page.waitForTimeout(400)
    const rod = await yard.onScreen({ x: -100, y: -50 })
    expect(rod.x).toBeGreaterThan(box.x)
    expect(rod.x).toBeLessThan(box.x + box.width)
    expect((await yard.drawn()).electrodes.map((rod) => rod.form === 'rod' && rod.atM)).toEqual([
      { x: -100, y: -50 },
    ])
    expect((await yard.drawn()).rows).toEqual([])
    expect(await panel.getByText('Table types').count()).toBeGreaterThan(0)
    expect(yard.watched).toEqual(clean)
    await yard.context.close()
  })

  it('keeps a conductor under way when the window or its colours change, and gives it up with the workspace', async () => {
    const yard = await openYard(browser, served)
    const { page, panel } = yard
    const before = await yard.drawn()
    const hand = mouseHand(yard)
    await hand.take('Conductor')
    await hand.tap({ x: -3, y: -4 }, { x: 4, y: -4 })
    await page.setViewportSize({ width: 1000, height: 900 })
    await page.waitForTimeout(400)
    await hand.tap({ x: 0, y: 0.453 })
    await page.setViewportSize({ width: 1280, height: 800 })
    await page.waitForTimeout(400)
    await chooseColours(page, 'Dark')
    await panel.getByRole('button', { name: 'Finish' }).click()
    const drawn = await yard.drawn()
    expect(drawn.conductors[0].points.map(({ atM, landing }) => landing?.part ?? atM)).toEqual([
      'G1',
      { x: 4, y: -4 },
      'R1/T1/L1.1',
    ])
    await page.keyboard.press('Control+z')
    expect(await yard.drawn()).toEqual(before)

    await hand.take('Conductor')
    await hand.tap({ x: -3, y: -4 }, { x: -3, y: 3 })
    await page.getByRole('tab', { name: 'Measure' }).click()
    await page.getByRole('tabpanel', { name: 'Measure' }).waitFor()
    await page.keyboard.press('Enter')
    expect(await yard.drawn()).toEqual(before)
    await page.getByRole('tab', { name: 'Draw' }).click()
    await panel.getByRole('radio', { name: 'Conductor' }).waitFor()
    expect(await panel.getByRole('button', { name: 'Finish' }).count()).toBe(0)
    await page.keyboard.press('Enter')
    expect(await yard.drawn()).toEqual(before)

    // undo while it is under way takes its last point
    await hand.tap({ x: -3, y: -4 }, { x: 4, y: -4 }, { x: 8, y: -8 })
    await page.keyboard.press('Control+z')
    await hand.tap({ x: -3, y: 3 })
    await hand.finish()
    const [{ points }] = (await yard.drawn()).conductors
    expect(points.map(({ atM, landing }) => landing?.part ?? atM)).toEqual(['G1', { x: 4, y: -4 }, 'B1'])

    // another site: nothing of this one is under way or chosen there
    await hand.take('Choose')
    await hand.tap({ x: 6, y: 2 })
    const chosen = panel.getByRole('region', { name: 'What is chosen' })
    await chosen.waitFor()
    await page.getByRole('button', { name: /^Open the list of sites/ }).click()
    await page
      .getByRole('dialog')
      .getByRole('button', { name: /^Open Larkmoor|^Open$/ })
      .first()
      .click()
    await page.getByRole('application', { name: 'Map of Larkmoor Field' }).waitFor()
    expect(await chosen.count()).toBe(0)
    expect(yard.watched).toEqual(clean)
    await yard.context.close()
  })

  it('puts things where they were pointed at on screens of density 2 and 3', async () => {
    for (const deviceScaleFactor of [2, 3]) {
      const yard = await openYard(browser, served, {
        deviceScaleFactor,
        viewport: { width: 900, height: 640 },
      })
      const hand = mouseHand(yard)
      await hand.take('Electrode')
      await hand.tap({ x: 8, y: -8 })
      await hand.take('Choose')
      await yard.page.keyboard.press('Escape')
      await hand.tap({ x: 6, y: 2 })
      const { electrodes } = await yard.drawn()
      expect(electrodes.at(-1)).toMatchObject({ form: 'rod', atM: { x: 8, y: -8 } })
      const chosen = yard.panel.getByRole('region', { name: 'What is chosen' })
      expect(await chosen.getByRole('heading', { level: 2 }).first().innerText()).toBe('Row 1')
      expect(yard.watched).toEqual(clean)
      await yard.context.close()
    }
  })

  it('is kept over a reload, and a second tab can look but says why it does not draw', async () => {
    const yard = await openYard(browser, served)
    const { page, context } = yard
    const hand = mouseHand(yard)
    await hand.take('Electrode')
    await hand.tap({ x: 8, y: -8 })
    const drawn = await yard.drawn()
    expect(drawn.electrodes).toHaveLength(2)
    await page.getByText('Saved on this device', { exact: true }).waitFor()
    await page.reload()
    await yard.map.waitFor()
    expect(await page.getByRole('tab', { name: 'Draw' }).getAttribute('aria-selected')).toBe('true')
    expect(await yard.drawn()).toEqual(drawn)

    const second = await context.newPage()
    await second.goto(served.address)
    const other = drawPage(second, 'Map of Yard')
    await other.map.waitFor()
    await other.panel
      .getByText('Another tab holds this site: it can be looked at here, not drawn on.')
      .waitFor()
    for (const name of ['Choose', 'Row', 'Conductor']) {
      expect(await other.panel.getByRole('radio', { name, exact: true }).isDisabled()).toBe(true)
    }
    await other.map.getByRole('button').first().focus()
    for (const key of ['5', 'ArrowRight', 'ArrowRight', 'Space', 'Enter', 'Control+a', 'Delete', 'Control+v'])
      await second.keyboard.press(key)
    const middle = await middleOf(other.map)
    await second.mouse.click(middle.x, middle.y + 100)
    await second.mouse.move(middle.x, middle.y)
    await second.mouse.down()
    await second.mouse.move(middle.x + 100, middle.y + 40, { steps: 4 })
    await second.mouse.up()
    expect(await second.getByRole('dialog').count()).toBe(0)
    await page.bringToFront()
    expect(await yard.drawn()).toEqual(drawn)
    expect(yard.watched).toEqual(clean)
    await context.close()
  })
})
