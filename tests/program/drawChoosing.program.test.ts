import type { Browser } from 'playwright'
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { between, fingersOf, openYard, siteOf, yardSite, type Yard } from './drawYard.ts'
import { launchChromium, serveBuild, type ServedBuild } from './servedBuild.ts'

let browser: Browser
let served: ServedBuild

/** The yard with a conductor from the rod by a bend to row 1, and one reading from the bar to row 2. */
function readYard() {
  const { drawing, ...site } = yardSite()
  const { record } = siteOf('demo-data/field.json')
  const kept = record.slice(0, 2)
  const reading = record.find((entry) => entry.entry === 'reading' && entry.to.part === 'R2/T1/L4.1')!
  const points = [
    { id: 1, atM: { x: -3, y: -4 }, landing: { part: 'G1', kind: 'rodClamp' } },
    { id: 2, atM: { x: 4, y: -4 }, landing: null },
    { id: 3, atM: { x: 0, y: 0.453 }, landing: { part: 'R1/T1/L1.1', kind: 'crimpLug' } },
  ]
  const base = { label: '', material: 'copper', areaMm2: 16, size: 'mm2-16', closed: false } as const
  const conductors = [{ id: 1, ...base, points, nextPoint: 4, lengthM: null }]
  return {
    ...site,
    record: [...kept, { ...reading, plan: null, planPair: null }],
    drawing: { ...drawing, conductors },
  }
}

beforeAll(async () => {
  browser = await launchChromium()
  served = await serveBuild()
})
afterAll(async () => {
  await browser.close()
  await served.end()
})

describe('what is chosen', () => {
  let yard: Yard
  const chosen = () => yard.panel.getByRole('region', { name: 'What is chosen' })
  const undo = () => yard.page.getByRole('button', { name: /^Undo/ })
  const redo = () => yard.page.getByRole('button', { name: /^Redo/ })
  /** Heading of what is chosen; '' where nothing is. */
  const title = async () =>
    (await chosen().count()) === 0 ? '' : chosen().getByRole('heading', { level: 2 }).first().innerText()

  beforeAll(async () => {
    yard = await openYard(browser, served, {}, readYard())
  })
  afterAll(async () => {
    expect(yard.watched).toEqual({ strayRequests: [], complaints: [] })
    await yard.context.close()
  })
  beforeEach(async () => {
    const { page } = yard
    for (let k = 0; k < 3; k++) await page.keyboard.press('Escape')
    while ((await undo().count()) > 0 && (await undo().getAttribute('aria-disabled')) !== 'true') {
      await undo().click()
    }
    await yard.map.click({ position: { x: 300, y: 20 } })
    await expect.poll(title).toBe('')
  })

  it('is chosen by a tap, more with Shift, and by a box, wholly inside or touched', async () => {
    const { page } = yard
    await yard.tap({ x: 6, y: 2 })
    expect(await title()).toBe('Row 1')
    await page.keyboard.down('Shift')
    await yard.tap({ x: 6, y: 8.5 })
    expect(await title()).toBe('2 rows')
    await yard.tap({ x: 6, y: 2 })
    await page.keyboard.up('Shift')
    expect(await title()).toBe('Row 2')
    await yard.tap({ x: 20, y: -8 })
    expect(await title()).toBe('')
    // wholly inside: row 2 is not
    await page.keyboard.down('Shift')
    await yard.drag({ x: -9, y: -2 }, { x: 38, y: 8 })
    await page.keyboard.up('Shift')
    expect(await title()).toMatch(/1 row, 1 enclosure and 1 earth bar/)
    await page.keyboard.press('Escape')
    await page.getByRole('switch', { name: 'The box takes all it touches' }).click()
    await page.keyboard.down('Shift')
    await yard.drag({ x: 38, y: 8 }, { x: 2, y: -2 })
    await page.keyboard.up('Shift')
    expect(await title()).toMatch(/2 rows and 1 conductor/)
    await page.keyboard.press('Escape')
    await page.keyboard.press('Control+a')
    expect(await title()).toMatch(/^2 rows, 1 enclosure, 1 earth bar, 1 electrode and 1 conductor/)
  })

  it('is moved by a drag as one step that has a name, and stays where Escape comes before the end', async () => {
    const { page } = yard
    const before = await yard.drawn()
    await yard.tap({ x: 6, y: 8.5 })
    const [a, b] = [await yard.onScreen({ x: 6, y: 8.5 }), await yard.onScreen({ x: 6, y: 14.5 })]
    await page.mouse.move(a.x, a.y)
    await page.mouse.down()
    await page.mouse.move(b.x, b.y, { steps: 5 })
    await page.waitForTimeout(60)
    await page.keyboard.press('Escape')
    await page.mouse.move(b.x + 20, b.y - 20, { steps: 3 })
    await page.mouse.up()
    expect(await title()).toBe('Row 2')
    expect(await yard.drawn()).toEqual(before)
    await yard.drag({ x: 6, y: 8.5 }, { x: 6, y: 14.5 })
    expect(await undo().getAttribute('aria-label')).toBe('Undo: move 1 thing')
    expect((await yard.drawn()).rows[1].originM).toEqual({ x: 0, y: 12.5 })
    await undo().click()
    expect(await yard.drawn()).toEqual(before)
  })

  it('is turned by its handle, and a row is pulled longer by its end', async () => {
    await yard.tap({ x: 6, y: 8.5 })
    const top = await yard.onScreen({ x: 17.74, y: 10.65 })
    const handle = { x: top.x, y: top.y - 30 }
    const centre = await yard.onScreen({ x: 17.74, y: 8.575 })
    // a quarter of a turn to the right
    await yard.page.mouse.move(handle.x, handle.y)
    await yard.page.mouse.down()
    for (const at of between(handle, { x: centre.x + 90, y: centre.y }, 6))
      await yard.page.mouse.move(at.x, at.y)
    await yard.page.waitForTimeout(60)
    await yard.page.mouse.up()
    expect((await yard.drawn()).rows[1].bearingDeg).toBe(180)
    expect(await undo().getAttribute('aria-label')).toBe('Undo: turn 1 thing')
    await undo().click()
    await yard.drag({ x: 35.48, y: 8.575 }, { x: 48, y: 8.575 })
    const [, row] = (await yard.drawn()).rows
    expect(row).toMatchObject({ bearingDeg: 90, originM: { x: 0, y: 6.5 } })
    expect(row.runs.reduce((sum, { count }) => sum + count, 0)).toBe(4)
    expect(await undo().getAttribute('aria-label')).toBe('Undo: make the row 4 tables long')
  })

  it('is a conductor whose point goes onto another part', async () => {
    await yard.tap({ x: 0.5, y: -4 })
    expect(await title()).toMatch(/[Cc]onductor/)
    await yard.drag({ x: 0, y: 0.453 }, { x: 0, y: 6.953 })
    const [{ points }] = (await yard.drawn()).conductors
    expect(points.map(({ landing }) => landing?.part ?? null)).toEqual(['G1', null, 'R2/T1/L1.1'])
    expect(await undo().getAttribute('aria-label')).toBe('Undo: move a point')
  })

  it('is moved by arrows, several as one step, and copied, cut and put in again', async () => {
    const { page } = yard
    const before = await yard.drawn()
    await yard.tap({ x: -3, y: 3 })
    await expect.poll(title).toMatch(/[Ee]arth bar/)
    const grid = async () => (await yard.drawn()).earthBars.at(-1)!.atM
    await page.keyboard.press('ArrowLeft')
    await page.keyboard.press('ArrowLeft')
    await page.keyboard.press('ArrowDown')
    const moved = await grid()
    expect(moved.x).toBeLessThan(-3)
    expect((moved.x + 3) / 2).toBeCloseTo(moved.y - 3, 6)
    await undo().click()
    expect(await yard.drawn()).toEqual(before)

    await yard.map.getByRole('button').first().focus()
    await page.keyboard.press('Control+c')
    await page.keyboard.press('Control+v')
    expect((await yard.drawn()).earthBars).toHaveLength(2)
    await yard.map.getByRole('button').first().focus()
    await page.keyboard.press('Control+x')
    expect((await yard.drawn()).earthBars).toHaveLength(1)
    await yard.map.getByRole('button').first().focus()
    await page.keyboard.press('Control+v')
    await page.keyboard.press('Control+v')
    const after = await yard.drawn()
    expect(after.earthBars).toHaveLength(3)
    expect(new Set(after.earthBars.map(({ atM }) => atM.x)).size).toBe(3)

    let steps = 0
    for (; (await undo().getAttribute('aria-disabled')) !== 'true'; steps++) await undo().click()
    expect(await yard.drawn()).toEqual(before)
    for (let step = 0; step < steps; step++) await redo().click()
    expect(await redo().getAttribute('aria-disabled')).toBe('true')
    expect(await yard.drawn()).toEqual(after)
  })

  it('goes with Delete, after a question where readings would lose their place', async () => {
    const { page } = yard
    const before = await yard.saved()
    await yard.tap({ x: 6, y: 8.5 })
    await page.keyboard.press('Delete')
    const dialog = page.getByRole('dialog')
    await dialog.getByText(/^1 reading names what this change takes out/).waitFor()
    await dialog.getByRole('button', { name: 'Go back, change nothing' }).click()
    await dialog.waitFor({ state: 'hidden' })
    expect((await yard.saved()).drawing).toEqual(before.drawing)
    expect(await title()).toBe('Row 2')
    await yard.map.getByRole('button').first().focus()
    await page.keyboard.press('Delete')
    await dialog.getByRole('button', { name: 'Go on, it stays on record' }).click()
    await dialog.waitFor({ state: 'hidden' })
    const after = await yard.saved()
    expect(after.drawing.rows.map(({ id }) => id)).toEqual([1])
    expect(after.record).toEqual(before.record)
    await undo().click()
    expect((await yard.saved()).drawing.rows).toEqual(before.drawing.rows)

    await yard.tap({ x: -6, y: 3 })
    await page.keyboard.press('Delete')
    expect(await dialog.count()).toBe(0)
    expect((await yard.drawn()).enclosures).toEqual([])
  })

  it('hears no keys of drawing while a dialog is open over it', async () => {
    const { page, panel } = yard
    const before = await yard.drawn()
    await yard.tap({ x: 6, y: 8.5 })
    await chosen()
      .getByRole('button', { name: /^(Number|Labels)/ })
      .click()
    const dialog = page.getByRole('dialog')
    await dialog.getByRole('button', { name: 'Close' }).focus()
    for (const key of ['2', 'Delete', 'Backspace', 'Control+x', 'PageDown']) await page.keyboard.press(key)
    expect(await page.getByRole('dialog').count()).toBe(1)
    await page.keyboard.press('Escape')
    await dialog.waitFor({ state: 'hidden' })
    expect(await title()).toBe('Row 2')
    expect(await panel.getByRole('radio', { name: 'Choose' }).isChecked()).toBe(true)
    expect(await yard.drawn()).toEqual(before)
  })

  it('lets two fingers move the map and never draw, and gives up a drag when the second comes', async () => {
    const touched = await openYard(browser, served, { hasTouch: true }, readYard())
    const { page } = touched
    const fingers = await fingersOf(touched)
    const before = await touched.drawn()
    const tap = async (at: { x: number; y: number }) => {
      await fingers.down({ id: 1, ...at })
      await fingers.up()
      await page.waitForTimeout(400)
    }
    const take = (tool: string) =>
      touched.panel.getByRole('radio', { name: tool, exact: true }).locator('xpath=..').tap()

    // a row under way goes when the second finger comes, and the map follows the two
    await take('Row')
    const [a, b] = [await touched.onScreen({ x: 0, y: 14 }), await touched.onScreen({ x: 20, y: 14 })]
    await fingers.down({ id: 1, ...a })
    for (const at of between(a, b)) await fingers.move({ id: 1, ...at })
    const other = { id: 2, x: b.x - 100, y: b.y + 60 }
    await fingers.down({ id: 1, ...b }, other)
    for (const { x } of between({ x: 0, y: 0 }, { x: 120, y: 0 }))
      await fingers.move({ id: 1, x: b.x + x, y: b.y }, { id: 2, x: other.x + x, y: other.y })
    await fingers.up({ id: 1, x: b.x + 120, y: b.y })
    await fingers.up()
    expect(await touched.drawn()).toEqual(before)
    const moved = await touched.onScreen({ x: 0, y: 14 })
    expect(moved.x).toBeCloseTo(a.x + 120, -1)

    // what taps have set stays when two fingers move the map
    await take('Conductor')
    await tap(await touched.onScreen({ x: -3, y: 3 }))
    const [c, d] = [
      { x: 300, y: 300 },
      { x: 420, y: 380 },
    ]
    await fingers.down({ id: 1, ...c })
    await fingers.down({ id: 1, ...c }, { id: 2, ...d })
    for (const { x } of between({ x: 0, y: 0 }, { x: 60, y: 0 }))
      await fingers.move({ id: 1, x: c.x + x / 2, y: c.y }, { id: 2, x: d.x - x / 2, y: d.y })
    await fingers.up({ id: 1, x: c.x + 30, y: c.y })
    await fingers.up()
    // and when a leg that was being dragged is given up by a second finger
    const from = await touched.onScreen({ x: -3, y: 3 })
    const to = { x: from.x + 80, y: from.y - 40 }
    await fingers.down({ id: 1, ...from })
    for (const at of between(from, to)) await fingers.move({ id: 1, ...at })
    await fingers.down({ id: 1, ...to }, { id: 2, x: to.x + 90, y: to.y })
    await fingers.up({ id: 1, ...to })
    await fingers.up()
    await page.waitForTimeout(400)
    await tap(await touched.onScreen({ x: -6, y: 3 }))
    await touched.panel.getByRole('button', { name: 'Finish' }).tap()
    const drawn = await touched.drawn()
    expect(drawn.conductors.at(-1)!.points.map(({ landing }) => landing?.part ?? null)).toEqual(['B1', 'E1'])
    expect(touched.watched).toEqual({ strayRequests: [], complaints: [] })
    await touched.context.close()
  })
})
