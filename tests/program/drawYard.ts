import { readFileSync } from 'node:fs'
import type { BrowserContext, BrowserContextOptions, Browser, Page } from 'playwright'
import { assert } from '../../src/base/assert.ts'
import { openSite } from '../../src/files/openSite.ts'
import { saveSite } from '../../src/files/saveSite.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { drawPage, type DrawPage, type PlanPoint } from './drawPage.ts'
import { watch, type ServedBuild, type Watched } from './servedBuild.ts'

/** Bytes or a path of a file as a site. */
export function siteOf(from: string | Uint8Array): Site {
  const opened = openSite(typeof from === 'string' ? readFileSync(from) : from, 'site')
  assert(opened.ok, 'the file opens')
  return opened.value
}

/** Where the rods of the yard stand, and its bar and enclosure. */
export const yardPlaces = {
  southRod: { x: -3, y: -4 },
  bar: { x: -3, y: 3 },
  enclosure: { x: -6, y: 3 },
} as const

const rodSize = { lengthM: 2.4, diameterM: 0.016 } as const

/** Two rows of three tables of the first demo, 6.5 m apart, an enclosure, a bar and a rod; nothing is read. */
export function yardSite(): Site {
  const { drawing, ...site } = siteOf('demo-data/field.json')
  const rows = drawing.rows.slice(0, 2).map((row) => ({
    ...row,
    runs: [{ ...row.runs[0], count: 3 }],
    nextTable: 4,
    tableLabels: {},
  }))
  return {
    ...site,
    id: '7d0c9a58-51c1-4a0f-8f14-0d5a2c1f8a11',
    name: 'Yard',
    record: [],
    drawing: {
      ...drawing,
      rows,
      enclosures: [{ ...drawing.enclosures[0], atM: yardPlaces.enclosure }],
      earthBars: [{ ...drawing.earthBars[0], atM: yardPlaces.bar }],
      electrodes: [
        { id: 1, label: 'South rod', measuredOhm: null, form: 'rod', ...rodSize, atM: yardPlaces.southRod },
      ],
      conductors: [],
      aisles: [],
      plans: [],
      sources: [],
      devices: [],
    },
  }
}

export interface Yard extends DrawPage {
  readonly context: BrowserContext
  readonly watched: Watched
  /** The site as the program writes it to a file now. */
  saved(): Promise<Site>
  /** The same site without what a step of its history changes by itself. */
  drawn(): Promise<Omit<Site['drawing'], 'revision' | 'parent'>>
}

const patience = 15_000

/** A page of its own with a site open in Draw. */
export async function openYard(
  browser: Browser,
  served: ServedBuild,
  options: BrowserContextOptions = {},
  site: Site = yardSite(),
): Promise<Yard> {
  const context = await browser.newContext({
    viewport: { width: 1280, height: 800 },
    reducedMotion: 'reduce',
    ...options,
  })
  const watched = watch(context, served.address)
  const page = await context.newPage()
  page.setDefaultTimeout(patience)
  await page.addInitScript(() => {
    Reflect.deleteProperty(window, 'showSaveFilePicker')
    Reflect.deleteProperty(window, 'showOpenFilePicker')
  })
  await page.goto(served.address)
  await page.getByRole('button', { name: 'Skip' }).click()
  await openInto(page, site)
  await page.getByRole('tab', { name: 'Draw' }).click()
  const draw = drawPage(page, `Map of ${site.name}`)
  await draw.map.waitFor()
  // room to draw around what is there
  await page.getByRole('button', { name: 'Further away' }).click()
  const saved = () => savedSite(page)
  return {
    ...draw,
    context,
    watched,
    saved,
    async drawn() {
      const { revision: _, parent: __, ...drawing } = (await saved()).drawing
      return drawing
    },
  }
}

async function openInto(page: Page, site: Site): Promise<void> {
  await page.getByRole('button', { name: /^Open the list of sites/ }).click()
  const [chooser] = await Promise.all([
    page.waitForEvent('filechooser'),
    page.getByRole('button', { name: 'Open a file' }).click(),
  ])
  const buffer = Buffer.from(saveSite(site))
  await chooser.setFiles({ name: 'yard.json', mimeType: 'application/json', buffer })
  await page.getByRole('dialog').waitFor({ state: 'hidden' })
}

async function savedSite(page: Page): Promise<Site> {
  await page.getByRole('button', { name: /^Open the list of sites/ }).click()
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save to a file' }).click(),
  ])
  await page.keyboard.press('Escape')
  await page.getByRole('dialog').waitFor({ state: 'hidden' })
  return siteOf(await download.path())
}

/** One way of working the map: by mouse, finger or keyboard. */
export interface Hand {
  take(tool: string): Promise<void>
  pick(label: string, option: string): Promise<void>
  tap(...places: readonly PlanPoint[]): Promise<void>
  /** From place to place; where the hand cannot drag, by a tap on each. */
  drag(from: PlanPoint, to: PlanPoint): Promise<void>
  finish(): Promise<void>
}

export function mouseHand(yard: Yard): Hand {
  const { page, panel } = yard
  return {
    async take(tool) {
      await panel.getByRole('radio', { name: tool, exact: true }).check({ force: true })
    },
    pick: (label, option) => yard.pick(label, option),
    async tap(...places) {
      for (const place of places) await yard.tap(place)
    },
    drag: (from, to) => yard.drag(from, to),
    async finish() {
      await page.keyboard.press('Enter')
    },
  }
}

export type Finger = Readonly<{ id: number }> & PlanPoint

/** Fingers on the screen, in CSS pixels: those that are down after each event. */
export async function fingersOf({ page, context }: Yard) {
  const session = await context.newCDPSession(page)
  const send = (type: 'touchStart' | 'touchMove' | 'touchEnd', touchPoints: readonly Finger[]) =>
    session.send('Input.dispatchTouchEvent', { type, touchPoints: [...touchPoints] })
  return {
    down: (...fingers: readonly Finger[]) => send('touchStart', fingers),
    move: (...fingers: readonly Finger[]) => send('touchMove', fingers),
    up: (...left: readonly Finger[]) => send('touchEnd', left),
  }
}

/** Between two points, so many steps, both ends included. */
export function between(from: PlanPoint, to: PlanPoint, steps = 6): readonly PlanPoint[] {
  return Array.from({ length: steps + 1 }, (_, k) => ({
    x: from.x + ((to.x - from.x) * k) / steps,
    y: from.y + ((to.y - from.y) * k) / steps,
  }))
}

export async function fingerHand(yard: Yard): Promise<Hand> {
  const { page, panel } = yard
  const fingers = await fingersOf(yard)
  return {
    async take(tool) {
      await panel.getByRole('radio', { name: tool, exact: true }).locator('xpath=..').tap()
    },
    pick: (label, option) => yard.pick(label, option),
    async tap(...places) {
      for (const place of places) {
        const at = await yard.onScreen(place)
        await page.waitForTimeout(360)
        await fingers.down({ id: 1, ...at })
        await fingers.up()
      }
    },
    async drag(from, to) {
      const [a, b] = [await yard.onScreen(from), await yard.onScreen(to)]
      const [first, ...rest] = between(a, b)
      await fingers.down({ id: 1, ...first })
      for (const at of rest) await fingers.move({ id: 1, ...at })
      await page.waitForTimeout(60)
      await fingers.up()
    },
    async finish() {
      await panel.getByRole('button', { name: 'Finish' }).tap()
    },
  }
}

const toolKeys: Readonly<Record<string, string>> = {
  Choose: '1',
  Row: '2',
  Repeat: '3',
  Equipment: '4',
  Electrode: '5',
  Conductor: '6',
  Ground: '7',
  'Metal path': '8',
  Distance: '9',
}

const readout = /^x ([−-]?[\d.]+) m, y ([−-]?[\d.]+) m$/

/** The keyboard alone; the map has the focus when it begins, and nothing is chosen. */
export async function keyHand(yard: Yard, toMap: () => Promise<void>): Promise<Hand> {
  const { page, map, panel } = yard
  const press = (key: string) => page.keyboard.press(key)
  const told = async (): Promise<PlanPoint> => {
    await page.waitForTimeout(100)
    const [, x, y] = readout.exec((await map.getByText(readout).first().innerText()).replaceAll('−', '-'))!
    return { x: Number(x), y: Number(y) }
  }
  await toMap()
  await press('ArrowRight')
  const first = await told()
  await press('ArrowRight')
  let cross = await told()
  const stepM = cross.x - first.x
  assert(stepM > 0, 'the cross moves eastwards')

  async function along(byM: number, [plus, minus]: readonly [string, string]) {
    const steps = Math.round(Math.abs(byM) / stepM)
    const key = byM > 0 ? plus : minus
    for (let k = 0; k < Math.floor(steps / 10); k++) await press(`Shift+${key}`)
    for (let k = 0; k < steps % 10; k++) await press(key)
  }
  async function go({ x, y }: PlanPoint) {
    await along(x - cross.x, ['ArrowRight', 'ArrowLeft'])
    await along(y - cross.y, ['ArrowUp', 'ArrowDown'])
    cross = { x, y }
  }
  async function tap(...places: readonly PlanPoint[]) {
    for (const place of places) {
      await go(place)
      await press('Space')
    }
  }
  return {
    async take(tool) {
      await toMap()
      await press(toolKeys[tool])
    },
    async pick(label, option) {
      const field = panel.getByRole('combobox', { name: label })
      await field.focus()
      await page.keyboard.type(option)
      await toMap()
    },
    tap,
    drag: (from, to) => tap(from, to),
    finish: () => press('Enter'),
  }
}
