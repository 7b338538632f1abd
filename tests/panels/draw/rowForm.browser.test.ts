import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { page, userEvent } from 'vitest/browser'
import { render } from 'vitest-browser-svelte'
import '../../../src/app/app.css'
import type { DrawnItem } from '../../../src/model/drawnItem.ts'
import { tableCount } from '../../../src/model/queries/tablePosition.ts'
import ItemForm from '../../../src/panels/draw/ItemForm.svelte'
import type { AppState } from '../../../src/state/appState.ts'
import { exampleSite } from '../../model/exampleSite.ts'
import { breaches, themes, tooSmallForTouch, wear } from '../../ui/accessibility.ts'
import PanelHarness from '../PanelHarness.svelte'
import { panelState } from '../panelState.ts'

const onshow = vi.fn<(item: DrawnItem) => void>()
const onclear = vi.fn<() => void>()
const onchoose = vi.fn<(items: readonly DrawnItem[]) => void>()
let app: AppState

async function show(...items: readonly DrawnItem[]): Promise<void> {
  app = panelState(exampleSite())
  const props = { items, onshow, onclear, onchoose }
  await render(PanelHarness, { app, panels: [{ panel: ItemForm, props }] })
}

const field = (name: string | RegExp) => page.getByLabelText(name, { exact: true })
const button = (name: string | RegExp) => page.getByRole('button', { name, exact: true })
const drawing = () => app.session.site!.drawing
const row = (id: number) => drawing().rows.find((each) => each.id === id)!

async function type(name: string | RegExp, text: string, key = '{Enter}') {
  const input = field(name).element() as HTMLInputElement
  input.focus()
  input.select()
  await userEvent.keyboard(`${text}${key}`)
}

beforeEach(async () => {
  for (const mock of [onshow, onclear, onchoose]) mock.mockClear()
  await page.viewport(400, 1800)
})

afterEach(async () => {
  wear('system')
  await page.viewport(1280, 800)
})

describe('RowForm', () => {
  it('sets label, start, bearing and gap, and tells length and pitch', async () => {
    await show({ sort: 'row', id: 3 })
    await expect.element(page.getByText('17.74 m', { exact: true })).toBeVisible()
    await expect.element(page.getByText('6.08 m from start to start')).toBeVisible()
    await type('Gap between tables', '20 in')
    await type('Bearing', '-270')
    await type('x, east', '4')
    await type('Label', 'C')
    expect(row(3)).toMatchObject({ label: 'C', gapM: 0.508, bearingDeg: 90, originM: { x: 4, y: 12.5 } })
    expect(app.session.undoLabel).toBe('label of row B')
    for (const step of ['start of row B', 'gap of row B', null]) {
      app.session.undo()
      expect(app.session.undoLabel).toBe(step)
    }
  })

  it('makes a row longer at once and asks before it makes it shorter where readings lie', async () => {
    await show({ sort: 'row', id: 3 })
    await type('Tables', '5')
    expect(tableCount(row(3))).toBe(5)
    await type('Tables', '2.5')
    await expect.element(page.getByText('A whole number is needed here.')).toBeVisible()
    await type('Tables', '0')
    await expect.element(page.getByText(/at least 1/)).toBeVisible()
    expect(tableCount(row(3))).toBe(5)
    await type('Tables', '1')
    const dialog = page.getByRole('dialog', { name: 'Number of tables of row B?' })
    await expect.element(dialog).toBeVisible()
    await dialog.getByRole('button', { name: /^Go back/ }).click()
    await expect.element(field('Tables')).toHaveValue('5')
    await type('Tables', '1')
    await dialog.getByRole('button', { name: /^Go on/ }).click()
    expect(tableCount(row(3))).toBe(1)
    expect(drawing().asBuilt).toHaveLength(4)
  })

  it('shows that a row is mixed, and makes all its tables of one type', async () => {
    await show({ sort: 'row', id: 1 })
    await button('One table of it').click()
    await type('Table, counted along the row', '2')
    await field('Type of table 2').selectOptions('1 high × 5 on a tube')
    expect(row(1).runs.map(({ type, count }) => [type, count])).toEqual([
      ['fixed', 1],
      ['tracker', 1],
      ['fixed', 1],
      ['fixed', 1],
    ])
    await expect.element(field('Table type')).toHaveValue('')
    await field('Table type').selectOptions('2 high × 4, portrait')
    expect(new Set(row(1).runs.map(({ type }) => type))).toEqual(new Set(['fixed']))
    expect(app.session.undoLabel).toBe('table type of row A')
  })

  it('asks before a type without the parts that were measured, and springs back', async () => {
    await show({ sort: 'row', id: 3 })
    await field('Table type').selectOptions('2 high × 4, portrait')
    const dialog = page.getByRole('dialog', { name: 'Table type of row B?' })
    await dialog.getByRole('button', { name: /^Go back/ }).click()
    await expect.element(field('Table type')).toHaveValue('tracker')
    expect(app.session.undoLabel).toBeNull()
    await field('Table type').selectOptions('2 high × 4, portrait')
    await dialog.getByRole('button', { name: /^Go on/ }).click()
    await expect.element(field('Table type')).toHaveValue('fixed')
    expect(app.session.site!.record).toHaveLength(exampleSite().record.length)
  })

  it('inserts, labels and removes one table by keys', async () => {
    await show({ sort: 'row', id: 3 })
    button('One table of it').element().focus()
    await userEvent.keyboard('{Enter}')
    await type('Table, counted along the row', '7')
    await expect.element(page.getByRole('alert').filter({ hasText: '1 to 3' })).toBeVisible()
    await type('Table, counted along the row', '2')
    button('Table before it').element().focus()
    await userEvent.keyboard('{Enter}')
    expect(app.session.undoLabel).toBe('a table before table 2 of row B')
    expect(row(3).runs.map(({ firstTable, count }) => [firstTable, count])).toEqual([
      [1, 1],
      [4, 1],
      [2, 2],
    ])
    await type(/^Label of table 4/, 'B-01a')
    expect(row(3).tableLabels).toEqual({ '4': 'B-01a' })
    await button('Remove table B-01a').click()
    expect(tableCount(row(3))).toBe(3)
  })

  it('sets the links between its tables', async () => {
    await show({ sort: 'row', id: 3 })
    await field('Links between tables').selectOptions('Two, on the first and last long member')
    await field('Kind of these links').selectOptions('frame link')
    expect(row(3).links).toEqual({ count: 2, kind: 'frameLink' })
    expect(app.session.undoLabel).toBe('kind of links of row B')
  })
})

describe('several things', () => {
  const both: DrawnItem[] = [
    { sort: 'enclosure', id: 1 },
    { sort: 'earthBar', id: 1 },
  ]

  it('are counted, moved and turned by typed numbers, each as one step', async () => {
    await show(...both)
    await expect.element(page.getByRole('heading', { name: '1 enclosure and 1 earth bar' })).toBeVisible()
    await expect.element(button(/^Move/)).toHaveAttribute('aria-disabled', 'true')
    await type('By x, east', '10 ft')
    await type('By y, north', '-1')
    await button('Move').click()
    expect(drawing().enclosures[0].atM.x).toBeCloseTo(0.048, 6)
    expect(drawing().earthBars[0].atM.y).toBeCloseTo(2, 6)
    expect(app.session.undoLabel).toBe('move 1 enclosure and 1 earth bar')
    app.session.undo()
    await button('Turn').click()
    expect(drawing().enclosures[0].bearingDeg).toBe(180)
    app.session.undo()
    expect(drawing().enclosures[0]).toEqual(exampleSite().drawing.enclosures[0])
  })

  it('are brought into line and spaced', async () => {
    await show(...both, { sort: 'electrode', id: 1 })
    await button('West sides').click()
    expect(app.session.undoLabel).toBe('bring 1 enclosure, 1 earth bar and 1 electrode into line')
    app.session.undo()
    await button('South to north').click()
    expect(app.session.undoLabel).toBe('equal space between 1 enclosure, 1 earth bar and 1 electrode')
  })

  it('are copied with a pitch, and the copies are chosen', async () => {
    await show({ sort: 'row', id: 3 })
    await button('Move, turn, copy').click()
    await type('Copies', '4')
    await type('Pitch y, north', '8')
    await button('Copy').click()
    expect(drawing().rows).toHaveLength(6)
    expect(drawing().rows.at(-1)!.originM.y).toBe(12.5 + 32)
    expect(app.session.undoLabel).toBe('copy row B, 4 times')
    expect(onchoose).toHaveBeenCalledExactlyOnceWith([4, 5, 6, 7].map((id) => ({ sort: 'row', id })))
  })

  it('says why copies cannot be made', async () => {
    await show({ sort: 'row', id: 3 })
    await button('Move, turn, copy').click()
    await type('Copies', '0')
    await type('Pitch y, north', '8')
    await button('Copy').click()
    await expect.element(page.getByText(/at least 1/)).toBeVisible()
    expect(app.session.undoLabel).toBeNull()
  })

  it.each(themes)('have no breach that axe can find and fit 390 px, %s', async (theme) => {
    wear(theme)
    await show(...both, { sort: 'row', id: 1 })
    await page.viewport(390, 1800)
    expect(await breaches()).toEqual([])
    expect(tooSmallForTouch(document.querySelector('main')!)).toEqual([])
    expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(390)
  })

  it.each(themes)('and so has a row, %s', async (theme) => {
    wear(theme)
    await show({ sort: 'row', id: 1 })
    await page.viewport(390, 1800)
    await button('One table of it').click()
    expect(await breaches()).toEqual([])
    expect(tooSmallForTouch(document.querySelector('main')!)).toEqual([])
    expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(390)
  })
})
