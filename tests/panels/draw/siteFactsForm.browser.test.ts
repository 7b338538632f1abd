import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { page, userEvent } from 'vitest/browser'
import { render } from 'vitest-browser-svelte'
import '../../../src/app/app.css'
import SiteFactsForm from '../../../src/panels/draw/SiteFactsForm.svelte'
import type { AppState } from '../../../src/state/appState.ts'
import { exampleSite } from '../../model/exampleSite.ts'
import { breaches, themes, tooSmallForTouch, wear } from '../../ui/accessibility.ts'
import PanelHarness from '../PanelHarness.svelte'
import { panelState } from '../panelState.ts'

let app: AppState

async function show(): Promise<void> {
  app = panelState(exampleSite())
  await render(PanelHarness, { app, panels: [{ panel: SiteFactsForm }] })
}

const field = (name: string | RegExp) => page.getByLabelText(name, { exact: true })
const button = (name: string | RegExp) => page.getByRole('button', { name, exact: true })
const drawing = () => app.session.site!.drawing
const kind = (id: string) => drawing().jointKinds.find((each) => each.id === id)

async function type(name: string | RegExp, text: string, key = '{Enter}') {
  const input = field(name).element() as HTMLInputElement
  input.focus()
  input.select()
  await userEvent.keyboard(`${text === '' ? '{Delete}' : text}${key}`)
}

beforeEach(async () => {
  await page.viewport(400, 2400)
})

afterEach(async () => {
  wear('system')
  await page.viewport(1280, 800)
})

describe('SiteFactsForm', () => {
  it('sets name, units, soil, temperature and note, each as one step', async () => {
    await show()
    await type('Name of the site', 'North field')
    expect(app.session.site!.name).toBe('North field')
    expect(app.session.undoLabel).toBe('name of the site')
    await type('Soil resistivity', '5000 ohm-cm')
    await type('Where this is from', 'four-pin test, 4 May')
    await type('Temperature of the metal', '95 F')
    await type('Note', 'wet ditch', '{Tab}')
    await field('Units').selectOptions('Feet, AWG, °F')
    expect(drawing().facts).toMatchObject({
      units: 'us',
      soilOhmM: 50,
      soilSource: 'four-pin test, 4 May',
      ambientC: 35,
      note: 'wet ditch',
    })
    await expect.element(field('Temperature of the metal')).toHaveValue('95')
    for (const step of [
      'note',
      'temperature',
      'source of the soil resistivity',
      'soil resistivity',
      'name',
    ]) {
      app.session.undo()
      expect(app.session.undoLabel).toBe(`${step} of the site`)
    }
    app.session.undo()
    expect(app.session.site!.name).toBe('Example')
    await expect.element(field('Name of the site')).toHaveValue('Example')
  })

  it('sets and takes away the geographic place, and makes one once latitude and longitude are there', async () => {
    await show()
    await button('Geographic place').click()
    await type('Latitude', '-12.3456789')
    expect(drawing().facts.anchor).toEqual({ latitudeDeg: -12.3456789, longitudeDeg: -20.25, bearingDeg: 12 })
    await type('Latitude', '95')
    await expect.element(page.getByRole('alert').filter({ hasText: '90' })).toBeVisible()
    await userEvent.keyboard('{Escape}')
    await button('Take the place away').click()
    expect(drawing().facts.anchor).toBeNull()
    expect(app.session.undoLabel).toBe('take the geographic place away')
    await type('Latitude', '1.5')
    expect(drawing().facts.anchor).toBeNull()
    await type('Longitude', '2')
    expect(drawing().facts.anchor).toEqual({ latitudeDeg: 1.5, longitudeDeg: 2, bearingDeg: 0 })
    expect(app.session.undoLabel).toBe('geographic place of the site')
  })

  it('says which parts can be reached and what a probe meets there', async () => {
    await show()
    await button('Access to parts').click()
    await page.getByRole('switch', { name: 'Can be reached' }).first().click()
    await field('Surface of posts').selectOptions('Coated: the probe has to pierce it')
    const access = Object.fromEntries(drawing().access.map((each) => [each.part, each]))
    expect(access.frame).toMatchObject({ reachable: false, surface: 'coated' })
    expect(access.post).toMatchObject({ reachable: true, surface: 'coated' })
    expect(app.session.undoLabel).toBe('access of posts')
  })

  it('edits the joint catalogue in place, adds a kind and removes it, and says why one has to stay', async () => {
    await show()
    await button(/^Joint catalogue/).click()
    await button(/^Jumper with its lugs/).click()
    await expect.element(field('Median of sound joints')).toHaveValue('0.8')
    await type('Median of sound joints', '1.2')
    await type('Spread', '2')
    await type('Bad when new', '1.5')
    await type('Where these are from', 'own readings', '{Tab}')
    expect(kind('jumper')).toMatchObject({ medianOhm: 0.0012, defectRate: 0.015, source: 'own readings' })
    expect(kind('jumper')!.lnSpread).toBeCloseTo(Math.LN2, 9)
    await type('Bad when new', '120')
    await expect.element(page.getByRole('alert').filter({ hasText: /at most 1/ })).toBeVisible()
    await userEvent.keyboard('{Escape}')
    await expect.element(button(/^Remove this kind/)).toHaveAttribute('aria-disabled', 'true')
    await expect.element(page.getByText(/still used in \d+ places/)).toBeInTheDocument()
    await button('New kind').click()
    await type('Name of the kind', 'braid')
    expect(kind('new-kind')).toMatchObject({ name: 'braid' })
    await button('Remove this kind').click()
    expect(kind('new-kind')).toBeUndefined()
    expect(app.session.undoLabel).toBe('remove braid')
    await button(/^Conductor between its landings/).click()
    expect(field('Median of sound joints').elements()).toHaveLength(0)
  })

  it('lists metal paths, gives one another kind and other ohms, and deletes it', async () => {
    await show()
    await button(/^Metal paths/).click()
    await button(/^Drive shaft between/).click()
    await type('Ohms', '')
    await field('Kind').selectOptions('frame link')
    expect(drawing().extraJoints[0]).toMatchObject({ kind: 'frameLink', medianOhm: null })
    await button('Show on map').click()
    expect(app.selection.picked).toEqual({ kind: 'joint', address: 'J1' })
    await button('Delete').click()
    expect(drawing().extraJoints).toEqual([])
    expect(app.session.undoLabel).toMatch(/^delete drive shaft/)
  })

  it.each(themes)('has no breach that axe can find and fits 390 px, %s', async (theme) => {
    wear(theme)
    await show()
    await page.viewport(390, 2400)
    for (const name of ['Geographic place', 'Access to parts', /^Joint catalogue/, /^Metal paths/]) {
      await button(name).click()
    }
    await button(/^Jumper with its lugs/).click()
    await button(/^Drive shaft between/).click()
    // the panel that it stands in has a heading above it
    const heading = document.createElement('h2')
    heading.textContent = 'The site'
    document.querySelector('main h1')!.after(heading)
    expect(await breaches()).toEqual([])
    expect(tooSmallForTouch(document.querySelector('main')!)).toEqual([])
    expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(390)
  })
})
