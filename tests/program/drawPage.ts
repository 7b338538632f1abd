import type { Locator, Page } from 'playwright'
import { expect } from 'vitest'

export interface PlanPoint {
  readonly x: number
  readonly y: number
}

/**
 * The page while an array is drawn, worked by what can be seen of it. Every press, drag and typed field is counted, as
 * someone would count who watches the hands.
 */
export interface DrawPage {
  readonly page: Page
  readonly map: Locator
  readonly panel: Locator
  /** Presses, drags and typed fields so far. */
  gestures(): number
  press(place: Locator): Promise<void>
  type(label: string | RegExp, text: string, within?: Locator): Promise<void>
  pick(label: string, option: string, within?: Locator): Promise<void>
  key(key: string): Promise<void>
  tap(at: PlanPoint): Promise<void>
  drag(from: PlanPoint, to: PlanPoint): Promise<void>
  /** Where a place of the plan is on the screen now. */
  onScreen(at: PlanPoint): Promise<PlanPoint>
}

const number = String.raw`([−-]?\d+(?:\.\d+)?)`
const place = new RegExp(String.raw`^x ${number} m, y ${number} m$`)

export function drawPage(page: Page, mapName: string | RegExp = /^Map of /): DrawPage {
  const map = page.getByRole('application', { name: mapName })
  const panel = page.getByRole('tabpanel')
  let gestures = 0

  /** What the readout says the pointer points at. Places snap: far from everything and with Alt they do not. */
  async function pointed(at: PlanPoint): Promise<PlanPoint> {
    await page.mouse.move(at.x + 3, at.y + 3)
    await page.mouse.move(at.x, at.y)
    const readout = map.getByText(place)
    await readout.waitFor()
    await page.waitForTimeout(80)
    const [, x, y] = place.exec((await readout.innerText()).replaceAll('−', '-'))!
    return { x: Number(x), y: Number(y) }
  }

  /** Pixels per metre and the pixel of the origin, from what the readout says of two places. */
  async function view() {
    const box = (await map.boundingBox())!
    const a = { x: box.x + 0.3 * box.width, y: box.y + 0.3 * box.height }
    const b = { x: box.x + 0.7 * box.width, y: box.y + 0.7 * box.height }
    await page.keyboard.down('Alt')
    const [atA, atB] = [await pointed(a), await pointed(b)]
    await page.keyboard.up('Alt')
    const k = (b.x - a.x) / (atB.x - atA.x)
    return { k, x: a.x - k * atA.x, y: a.y + k * atA.y }
  }

  async function onScreen(at: PlanPoint): Promise<PlanPoint> {
    const { k, x, y } = await view()
    return { x: x + k * at.x, y: y - k * at.y }
  }

  return {
    page,
    map,
    panel,
    gestures: () => gestures,
    onScreen,
    async press(button) {
      gestures++
      await button.click()
    },
    async type(label, text, within = panel) {
      gestures++
      const field = within.getByRole('textbox', { name: label })
      await field.fill(text)
      await field.press('Enter')
      await expect.poll(() => field.getAttribute('aria-invalid')).not.toBe('true')
    },
    async pick(label, option, within = panel) {
      gestures++
      await within.getByRole('combobox', { name: label }).selectOption({ label: option })
    },
    async key(key) {
      gestures++
      await page.keyboard.press(key)
    },
    async tap(at) {
      gestures++
      const { x, y } = await onScreen(at)
      // two taps at one place within a moment would end a line
      await page.waitForTimeout(360)
      await page.mouse.click(x, y)
    },
    async drag(from, to) {
      gestures++
      const [a, b] = [await onScreen(from), await onScreen(to)]
      await page.mouse.move(a.x, a.y)
      await page.mouse.down()
      await page.mouse.move((a.x + b.x) / 2, (a.y + b.y) / 2, { steps: 4 })
      await page.mouse.move(b.x, b.y, { steps: 4 })
      await page.waitForTimeout(60)
      await page.mouse.up()
    },
  }
}
