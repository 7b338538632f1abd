import { afterEach, describe, expect, it, vi } from 'vitest'
import { page, userEvent } from 'vitest/browser'
import { render } from 'vitest-browser-svelte'
import '../../src/app/app.css'
import { addExtraJoint } from '../../src/model/edits/extraJoints.ts'
import type { Site } from '../../src/model/schema/site.ts'
import type { TableType } from '../../src/model/schema/tableType.ts'
import TableTypeList from '../../src/panels/TableTypeList.svelte'
import type { AppState } from '../../src/state/appState.ts'
import { breaches, themes, tooSmallForTouch, wear } from '../ui/accessibility.ts'
import PanelHarness from './PanelHarness.svelte'
import { fieldSite, panelState } from './panelState.ts'

const onchoose = vi.fn<(type: string) => void>()

async function show(site: Site = fieldSite()): Promise<AppState> {
  onchoose.mockClear()
  const app = panelState(site)
  await render(PanelHarness, { app, panels: [{ panel: TableTypeList, props: { onchoose } }] })
  return app
}

const button = (name: string | RegExp) => page.getByRole('button', { name, exact: true })
const field = (name: string | RegExp) => page.getByRole('textbox', { name, exact: true })
const choice = (name: string) => page.getByRole('combobox', { name, exact: true })
const types = (app: AppState): readonly TableType[] => app.session.site!.drawing.tableTypes
const dialog = () => document.querySelector('dialog[open]')!

/** What the hand did: presses and typed fields. */
let gestures: string[] = []

async function press(name: string | RegExp) {
  gestures.push(`press ${String(name)}`)
  await button(name).click()
}

async function type(name: string | RegExp, text: string) {
  gestures.push(`type ${String(name)}`)
  await field(name).fill(text)
  await userEvent.keyboard('{Enter}')
}

async function begin(starter: RegExp) {
  await press('New type from a pattern')
  gestures.push('choose the pattern')
  await page.getByRole('menuitem', { name: starter }).click()
  await expect.element(page.getByRole('dialog', { name: 'New table type' })).toBeVisible()
}

async function edit(name: string) {
  await press(`Edit ${name}`)
  await expect.element(page.getByRole('dialog', { name: 'Table type' })).toBeVisible()
}

afterEach(async () => {
  gestures = []
  wear('system')
  await page.viewport(1280, 800)
})

describe('a table type from a pattern', () => {
  it('is the field demo type after a few numbers', async () => {
    const app = await show()
    const [demo] = types(app)
    await begin(/^Fixed tilt, 2 high portrait/)
    await type('Modules across', '10')
    await type('Tilt', '25')
    await type(/^Outer rails in from/, '0.5')
    await type('Metal area of each rail', '420')
    await type('Stations of cross members and posts', '2, 5, 8, 10')
    await press('Keep this type')
    const { id, name, ...made } = types(app)[1]
    const { id: _id, name: demoName, ...wanted } = demo
    expect(made).toEqual(wanted)
    expect(name).toBe(demoName)
    expect(id).toBe('type-2-high-10-portrait')
    expect(gestures.length).toBe(8)
    expect(onchoose).toHaveBeenCalledExactlyOnceWith(id)
  })

  it('is one step of undo, and nothing when it is cancelled', async () => {
    const app = await show()
    await begin(/^Flush on a roof/)
    await press('Cancel')
    expect(types(app)).toHaveLength(1)
    expect(app.session.undoLabel).toBeNull()
    await begin(/^Flush on a roof/)
    await type('Modules across', '8')
    await type('Short side', '1.05')
    await press('Keep this type')
    expect(types(app)).toHaveLength(2)
    expect(app.session.undoLabel).toBe('New table type 1 high × 8, portrait, flush')
    app.session.undo()
    expect(types(app)).toHaveLength(1)
    expect(app.session.undoLabel).toBeNull()
  })

  it('asks before changes are left behind', async () => {
    const app = await show()
    const [first] = types(app)
    await edit(first.name)
    await type('Tilt', '30')
    await press('Cancel')
    await press('Go on editing')
    await expect.element(field('Tilt')).toHaveValue('30')
    await press('Cancel')
    await press('Leave it as it was')
    expect(types(app)).toEqual([first])
    expect(dialog()).toBeNull()
  })

  it('says what is wrong with a station and does not keep a field that is wrong', async () => {
    const app = await show()
    const [{ name }] = types(app)
    await edit(name)
    await type('Stations of posts', '2, 12')
    await expect.element(page.getByText('There is no station 12 here; the last is 11.')).toBeVisible()
    await press('Keep this type')
    await expect.element(page.getByText(/One field holds something that cannot stay/)).toBeVisible()
    await expect.element(field('Stations of posts')).toHaveFocus()
    expect(app.session.undoLabel).toBeNull()
  })

  it('warns of what is not bonded, and keeps it all the same', async () => {
    const app = await show()
    await begin(/^Fixed tilt, frames linked/)
    await expect.element(page.getByText(/not bonded together by metal: 2 sections/)).toBeVisible()
    await page.getByRole('switch', { name: 'Cross members' }).click()
    await expect.element(page.getByText(/No cross member joins the rails/)).toBeVisible()
    await press('Keep this type')
    expect(types(app)[1].crossMembers).toBeNull()
  })
})

describe('the picture', () => {
  it('sets and clears stations by taps', async () => {
    const app = await show()
    const [first] = types(app)
    await edit(first.name)
    await press('Set Stations of cross members and posts in the picture')
    const svg = dialog().querySelector<SVGSVGElement>('.picture svg')!
    const tap = (station: number) => {
      const number = [...svg.querySelectorAll('text.number')].find(
        (text) => text.textContent === String(station),
      )!
      const box = number.getBoundingClientRect()
      const at = { clientX: box.left + box.width / 2, clientY: box.top - 60, bubbles: true }
      svg.dispatchEvent(new PointerEvent('pointerdown', at))
      svg.dispatchEvent(new PointerEvent('pointerup', at))
    }
    tap(11)
    await expect.element(field('Stations of cross members and posts')).toHaveValue('2, 5, 8, 10, 11')
    tap(5)
    await expect.element(field('Stations of posts')).toHaveValue('2, 8, 10, 11')
    await press('Stop setting Stations of cross members and posts in the picture')
    tap(8)
    await expect.element(field('Stations of posts')).toHaveValue('2, 8, 10, 11')
  })

  it('tells the kind and address of a joint that is pointed at, by pointer and by keys', async () => {
    await show()
    await edit('2 high × 10, portrait')
    const picture = page.getByRole('group', { name: /^Drawing of one table: 20 frames, 4 rails/ })
    ;(picture.element() as HTMLElement).focus()
    await userEvent.keyboard('{Enter}')
    await expect.element(page.getByText('pierced frame clamp, F1.1~L1.2')).toBeVisible()
    await userEvent.keyboard('{ArrowRight}')
    await expect.element(page.getByText(/, (F1\.2~L1\.2|L1\.2~X1|X1~P1\.1)$/)).toBeVisible()
    await userEvent.keyboard('{Escape}')
    await expect.element(page.getByText(/^Point at a joint/)).toBeVisible()
    expect(dialog()).not.toBeNull()
  })

  it('shows what a field means while it is worked in', async () => {
    await show()
    await edit('2 high × 10, portrait')
    const strong = () => dialog().querySelector('.picture .strong')!.getAttribute('d') ?? ''
    const span = () => dialog().querySelector('.picture .spanText')?.textContent.trim()
    ;(field('Long side').element() as HTMLElement).focus()
    await vi.waitFor(() => expect(span()).toBe('2.28 m'))
    ;(field('Stations of posts').element() as HTMLElement).focus()
    await vi.waitFor(() => expect(strong().split('M').length - 1).toBe(8))
    expect(span()).toBeUndefined()
  })
})

describe('a type whose tables have been measured', () => {
  const site = () =>
    addExtraJoint({
      label: 'Strap at the last post',
      from: 'R1/T1/P1.4',
      to: 'R1/T1/F1.1',
      kind: 'jumper',
      medianOhm: null,
    })(fieldSite())

  it('says which readings and pairs lose their part, keeps them, and says what goes', async () => {
    const app = await show(site())
    const { record } = app.session.site!
    await edit('2 high × 10, portrait')
    await type('Modules high', '1')
    await type('Stations of posts', '2, 5, 8')
    await press('Keep this type')
    await expect.element(page.getByRole('dialog', { name: /^Something has been noted where/ })).toBeVisible()
    const words = document.body.textContent
    expect(words).toMatch(/\d+ readings?/)
    expect(words).toMatch(/\d+ planned pairs/)
    expect(words).toContain('Strap at the last post')
    await press('Back')
    expect(types(app)[0].modules.high).toBe(2)
    await press('Keep this type')
    await press('Keep the readings, change the type')
    expect(types(app)[0].modules.high).toBe(1)
    expect(app.session.site!.record).toBe(record)
    expect(app.session.site!.drawing.extraJoints).toEqual([])
    app.session.undo()
    expect(types(app)[0].modules.high).toBe(2)
    expect(app.session.site!.drawing.extraJoints).toHaveLength(1)
  })

  it('says which numbers would mean another place', async () => {
    await show()
    await edit('2 high × 10, portrait')
    await type(/under each module row$/, '3')
    await press('Keep this type')
    await expect.element(page.getByText(/that number stands elsewhere in the table/)).toBeVisible()
    await press('Back')
  })

  it('keeps without asking where nothing is touched', async () => {
    const app = await show()
    await edit('2 high × 10, portrait')
    await type('Metal area of each rail', '500')
    await press('Keep this type')
    expect(types(app)[0].longMembers[3].areaMm2).toBe(500)
    expect(app.session.undoLabel).toBe('Table type 2 high × 10, portrait')
  })
})

describe('kinds of joint', () => {
  it('are changed and added where they are chosen', async () => {
    const app = await show()
    await edit('2 high × 10, portrait')
    await expect.element(choice('Kind of clamp')).toHaveTextContent('pierced frame clamp, 1 mΩ')
    await expect.element(page.getByText('median 1 mΩ, 0.3 % bad when new')).toBeVisible()
    await press('Kind of clamp: change or add')
    await page.getByRole('menuitem', { name: 'Change its figures' }).click()
    await type('Median of sound joints', '2.5')
    await press('Keep this kind')
    const kinds = () => app.session.site!.drawing.jointKinds
    expect(kinds().find(({ id }) => id === 'frameClamp')!.medianOhm).toBe(0.0025)
    await press('Kind of clamp: change or add')
    await page.getByRole('menuitem', { name: 'New kind like it' }).click()
    await type('Name of the kind', 'toothed washer')
    await press('Keep this kind')
    expect(kinds().at(-1)).toMatchObject({ id: 'toothed-washer', medianOhm: 0.0025, source: '' })
    await press('Keep this type')
    expect(types(app)[0].frameBond.clamps!.kind).toBe('toothed-washer')
  })
})

describe('the list of types', () => {
  it('copies a type, and deletes only what no table is of', async () => {
    const app = await show()
    await press('More for 2 high × 10, portrait')
    await expect.element(page.getByText(/^\d+ tables are of this type$/)).toBeVisible()
    await expect
      .element(page.getByRole('menuitem', { name: /^Delete/ }))
      .toHaveAttribute('aria-disabled', 'true')
    await page.getByRole('menuitem', { name: 'Copy' }).click()
    expect(types(app).map(({ name }) => name)).toEqual([
      '2 high × 10, portrait',
      '2 high × 10, portrait, copy',
    ])
    await expect.element(page.getByText('no table yet')).toBeVisible()
    await press('More for 2 high × 10, portrait, copy')
    await page.getByRole('menuitem', { name: /^Delete/ }).click()
    expect(types(app)).toHaveLength(1)
  })

  it('speaks in feet, inches and rails on a US site', async () => {
    const site = fieldSite()
    const facts = { ...site.drawing.facts, units: 'us' as const }
    const app = await show({ ...site, drawing: { ...site.drawing, facts } })
    await edit('2 high × 10, portrait')
    await page.getByRole('radio', { name: 'in', exact: true }).click({ force: true })
    await expect.element(field('Short side')).toHaveValue('44.488')
    await type('Short side', '44 1/2')
    await type('Long side', '2300 mm')
    await expect.element(field('Long side')).toHaveValue('90.551')
    await press('Keep this type')
    expect(types(app)[0].modules).toMatchObject({ shortSideM: 1.1303, longSideM: 2.3 })
  })
})

describe('for everybody', () => {
  it.each(themes)('has no breach that axe can find and fits 390 px, %s', async (theme) => {
    wear(theme)
    await page.viewport(390, 844)
    await show()
    expect(await breaches()).toEqual([])
    await edit('2 high × 10, portrait')
    await button('Each rail').click()
    await page.getByRole('button', { name: /^Rail 1:/ }).click()
    expect(await breaches()).toEqual([])
    expect(tooSmallForTouch(dialog())).toEqual([])
    expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(390)
    const content = dialog().querySelector('.content')!
    expect(content.scrollWidth).toBeLessThanOrEqual(content.clientWidth)
  })
})
