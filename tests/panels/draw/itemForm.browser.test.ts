import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { page, userEvent } from 'vitest/browser'
import { render } from 'vitest-browser-svelte'
import '../../../src/app/app.css'
import type { DrawnItem } from '../../../src/model/drawnItem.ts'
import type { Site } from '../../../src/model/schema/site.ts'
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
let rerender: (items: readonly DrawnItem[]) => Promise<void>

async function show(items: readonly DrawnItem[], site: Site = exampleSite()): Promise<void> {
  app = panelState(site)
  const panels = (chosen: readonly DrawnItem[]) => [
    { panel: ItemForm, props: { items: chosen, onshow, onclear, onchoose } },
  ]
  const shown = await render(PanelHarness, { app, panels: panels(items) })
  rerender = async (chosen) => {
    await shown.rerender({ panels: panels(chosen) })
  }
}

const field = (name: string | RegExp) => page.getByLabelText(name, { exact: true })
const button = (name: string | RegExp) => page.getByRole('button', { name, exact: true })
const drawing = () => app.session.site!.drawing

/** Types into a field by keys alone, in place of what stands there, and presses Enter. */
async function type(name: string | RegExp, text: string, key = '{Enter}') {
  const input = field(name).element() as HTMLInputElement
  input.focus()
  input.select()
  await userEvent.keyboard(`${text === '' ? '{Delete}' : text}${key}`)
}

function inUs(site: Site = exampleSite()): Site {
  const facts = { ...site.drawing.facts, units: 'us' as const }
  return { ...site, drawing: { ...site.drawing, facts } }
}

beforeEach(async () => {
  for (const mock of [onshow, onclear, onchoose]) mock.mockClear()
  await page.viewport(400, 1600)
})

afterEach(async () => {
  wear('system')
  await page.viewport(1280, 800)
})

describe('ItemForm', () => {
  it('says what to do while nothing is chosen', async () => {
    await show([])
    await expect.element(page.getByText(/Nothing is chosen/)).toBeVisible()
  })

  it('sets the numbers of an enclosure, each as one step with a name, and takes them back', async () => {
    await show([{ sort: 'enclosure', id: 1 }])
    await type('Width', '80 cm')
    expect(drawing().enclosures[0].widthM).toBeCloseTo(0.8, 12)
    expect(app.session.undoLabel).toBe('width of inverter 1')
    await type('x, east', '-2,5')
    expect(drawing().enclosures[0].atM).toEqual({ x: -2.5, y: 1 })
    expect(app.session.undoLabel).toBe('place of inverter 1')
    await type('Bearing', '450')
    expect(drawing().enclosures[0].bearingDeg).toBe(90)
    await type('Label', 'inverter 7')
    expect(app.session.undoLabel).toBe('label of inverter 1')
    await expect.element(page.getByRole('heading', { name: 'Inverter 7' })).toBeVisible()
    app.session.undo()
    app.session.undo()
    expect(drawing().enclosures[0]).toMatchObject({ atM: { x: -3, y: 1 }, label: 'inverter 1', widthM: 0.8 })
    app.session.undo()
    expect(app.session.undoLabel).toBeNull()
  })

  it('commits nothing while one types, once when the field is left, and nothing on Escape', async () => {
    await show([{ sort: 'enclosure', id: 1 }])
    await type('Width', '2', '')
    expect(app.session.undoLabel).toBeNull()
    await userEvent.keyboard('{Escape}')
    await expect.element(field('Width')).toHaveValue('1.2')
    await type('Width', '2', '{Tab}')
    expect(drawing().enclosures[0].widthM).toBe(2)
    await type('Width', '2.0', '{Tab}')
    app.session.undo()
    expect(app.session.undoLabel).toBeNull()
  })

  it('says at the field why a value is refused, and keeps what was typed', async () => {
    await show([{ sort: 'enclosure', id: 1 }])
    await type('Width', '-3')
    await expect.element(page.getByRole('alert').filter({ hasText: 'more than 0 m' })).toBeVisible()
    await expect.element(field('Width')).toHaveValue('-3')
    await expect.element(field('Width')).toHaveAttribute('aria-invalid', 'true')
    await type('Depth', '200 km')
    await expect.element(page.getByRole('alert').filter({ hasText: 'is not a number' })).toBeVisible()
    await type('Depth', '2000000')
    await expect.element(page.getByRole('alert').filter({ hasText: '100000' })).toBeVisible()
    expect(app.session.undoLabel).toBeNull()
  })

  it('gives what is being typed to the thing it was typed for, although another is chosen meanwhile', async () => {
    await show([{ sort: 'electrode', id: 1 }])
    await type('x, east', '77', '')
    await rerender([{ sort: 'electrode', id: 2 }])
    await expect.element(field('x, east')).toHaveValue('-9')
    const places = () => drawing().electrodes.map((each) => ('atM' in each ? each.atM : null))
    expect(places()).toEqual([{ x: 77, y: 4 }, { x: -9, y: 4 }, null])
    await type('Label', 'sheet', '')
    await rerender([{ sort: 'electrode', id: 1 }])
    await expect.element(field('Label')).toHaveValue('rod')
    expect(drawing().electrodes.map(({ label }) => label)).toEqual(['rod', 'sheet', 'ring'])
  })

  it('shows and takes feet and inches on a US site, and metres too', async () => {
    await show([{ sort: 'electrode', id: 1 }], inUs())
    await expect.element(field('Length in soil')).toHaveValue('7.874')
    await type('Length in soil', '8 ft')
    await type('Diameter', '5/8')
    expect(drawing().electrodes[0]).toMatchObject({ lengthM: 2.4384, diameterM: 0.015875 })
    await type('Length in soil', '3 m')
    expect(drawing().electrodes[0]).toMatchObject({ lengthM: 3 })
  })

  it('keeps measured ohms beside the computed ones, and says which count', async () => {
    await show([{ sort: 'electrode', id: 1 }])
    await expect.element(page.getByText(/The measured one counts/)).toBeVisible()
    await type('Measured to remote earth', '')
    expect(drawing().electrodes[0].measuredOhm).toBeNull()
    await expect.element(page.getByText(/This one counts/)).toBeVisible()
    await type('Measured to remote earth', '12.5')
    expect(drawing().electrodes[0].measuredOhm).toBe(12.5)
  })

  it('makes an electrode one of another form and back, with its id, label and ohms', async () => {
    await show([{ sort: 'electrode', id: 1 }])
    await field('Form').selectOptions('ring')
    expect(drawing().electrodes[0]).toMatchObject({
      id: 1,
      label: 'rod',
      measuredOhm: 40,
      form: 'strip',
      closed: true,
    })
    await expect.element(page.getByRole('heading', { name: /Points, .* round/ })).toBeVisible()
    await field('Form').selectOptions('plate')
    await type('Area of one face', '0.25')
    expect(drawing().electrodes[0]).toMatchObject({ form: 'plate', atM: { x: -4, y: 4 }, areaM2: 0.25 })
    for (const step of ['area of rod', 'form of rod', 'form of rod']) {
      expect(app.session.undoLabel).toContain(step.split(' ')[0])
      app.session.undo()
    }
    expect(drawing()).toEqual({
      ...exampleSite().drawing,
      revision: drawing().revision,
      parent: drawing().parent,
    })
  })

  it('sets metal, size and length of a conductor, by catalogue or by area', async () => {
    await show([{ sort: 'conductor', id: 1 }])
    const conductor = () => drawing().conductors[0]
    await field('Size').selectOptions('35 mm²')
    expect(conductor()).toMatchObject({ size: 'mm2-35', areaMm2: 35 })
    await field('Size').selectOptions('2/0 AWG')
    expect(conductor().areaMm2).toBeCloseTo(67.4, 1)
    await type('Area', '30')
    expect(conductor()).toMatchObject({ size: null, areaMm2: 30 })
    await field('Metal').selectOptions('Galvanised steel')
    await type('Measured length', '12 ft')
    expect(conductor().lengthM).toBeCloseTo(3.6576, 12)
    await type('Measured length', '')
    expect(conductor().lengthM).toBeNull()
    await expect.element(page.getByText(/per km at 20 °C/)).toBeVisible()
  })

  it('lists the points of a conductor, changes the joint at one, lets go, inserts and removes', async () => {
    await show([{ sort: 'conductor', id: 1 }])
    const points = () => drawing().conductors[0].points
    const open = button(/^Point 3 lands on inverter 1/)
    open.element().focus()
    await userEvent.keyboard('{Enter}')
    await field('Joint there').selectOptions('jumper with its lugs')
    expect(points()[2].landing).toEqual({ part: 'E1', kind: 'jumper' })
    expect(app.session.undoLabel).toBe('joint kind at point 3 of row A to bar')
    await button('Point after it').click()
    expect(points().map(({ id }) => id)).toEqual([1, 2, 4, 5, 3])
    expect(points()[3].atM).toEqual({ x: -3, y: 2.5 })
    await expect.element(button('Remove point 4')).toBeVisible()
    await button('Remove point 4').click()
    expect(points().map(({ id }) => id)).toEqual([1, 2, 4, 3])
  })

  it('asks before a landing goes that a finding is kept of', async () => {
    await show([{ sort: 'conductor', id: 2 }])
    await button(/^Point 1 lands on main bar/).click()
    await button(/^Let go/).click()
    expect(drawing().conductors[1].points[0].landing).toBeNull()
    expect(page.getByRole('dialog').elements()).toHaveLength(0)
    await rerender([{ sort: 'conductor', id: 1 }])
    await button(/^Point 4 lands on main bar/).click()
    await button(/^Let go/).click()
    const dialog = page.getByRole('dialog', { name: /^Let go at point 4/ })
    await expect.element(dialog).toBeVisible()
    await expect.element(dialog.getByText(/1 finding names what this change takes out/)).toBeVisible()
    await userEvent.keyboard('{Escape}')
    expect(drawing().conductors[0].points[3].landing).not.toBeNull()
  })

  it('asks before it deletes what readings, plans and looks are kept of, and keeps them', async () => {
    await show([{ sort: 'earthBar', id: 1 }])
    await button('Delete').click()
    const dialog = page.getByRole('dialog', { name: 'Delete main bar?' })
    await expect
      .element(dialog.getByText(/3 readings, 1 check for volts, 2 pairs of plans and 1 finding name/))
      .toBeVisible()
    await dialog.getByRole('button', { name: 'Go back, change nothing' }).click()
    expect(drawing().earthBars).toHaveLength(1)
    await button('Delete').click()
    await dialog
      .getByRole('button', { name: /^Show Reading/ })
      .first()
      .click()
    expect(app.selection.picked?.kind).toBe('reading')
    expect(drawing().earthBars).toHaveLength(1)
    await button('Delete').click()
    const records = app.session.site!.record
    await dialog.getByRole('button', { name: 'Go on, they stay on record' }).click()
    expect(drawing().earthBars).toHaveLength(0)
    expect(app.session.site!.record).toBe(records)
    expect(app.session.undoLabel).toBe('delete main bar')
    expect(onclear).toHaveBeenCalledOnce()
    app.session.undo()
    expect(drawing().earthBars).toHaveLength(1)
  })

  it('deletes at once what nothing is kept of', async () => {
    await show([{ sort: 'aisle', id: 1 }])
    await button('Delete').click()
    expect(drawing().aisles).toEqual([])
    expect(app.session.undoLabel).toBe('delete aisle 1')
  })

  it('edits the outline of an obstacle and keeps it an area', async () => {
    await show([{ sort: 'obstacle', id: 1 }])
    await type('Name', 'culvert')
    await button(/^Point 3/).click()
    await expect.element(button('Remove point 3')).toHaveAttribute('aria-disabled', 'true')
    await button('Point after it').click()
    expect(drawing().obstacles[0].outlineM[3]).toEqual({ x: 20.5, y: 9.5 })
    await button('Remove point 4').click()
    expect(drawing().obstacles[0]).toMatchObject({ name: 'culvert', outlineM: { length: 3 } })
  })

  it('writes nothing where the site is held elsewhere, and says so', async () => {
    app = panelState(exampleSite())
    app.session.saving = 'readOnly'
    const props = { items: [{ sort: 'enclosure', id: 1 }], onshow, onclear }
    await render(PanelHarness, { app, panels: [{ panel: ItemForm, props }] })
    await expect.element(page.getByText(/open elsewhere/).nth(1)).toBeVisible()
    await expect.element(field('Width')).toBeDisabled()
    await expect.element(button(/^Delete/)).toHaveAttribute('aria-disabled', 'true')
  })

  it.each(themes)('has no breach that axe can find and fits 390 px, %s', async (theme) => {
    wear(theme)
    const every: DrawnItem[] = [
      { sort: 'enclosure', id: 1 },
      { sort: 'earthBar', id: 1 },
      { sort: 'electrode', id: 1 },
      { sort: 'electrode', id: 3 },
      { sort: 'conductor', id: 1 },
      { sort: 'aisle', id: 1 },
      { sort: 'obstacle', id: 1 },
    ]
    await show(every.slice(0, 1))
    await page.viewport(390, 1600)
    for (const item of every) {
      await rerender([item])
      const first = document.querySelector<HTMLElement>('[aria-controls$="-fields"]')
      first?.click()
      expect(await breaches(), item.sort).toEqual([])
      expect(tooSmallForTouch(document.querySelector('main')!), item.sort).toEqual([])
      expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(390)
    }
  })
})
