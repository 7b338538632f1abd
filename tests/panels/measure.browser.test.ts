import axe from 'axe-core'
import { afterEach, describe, expect, it, vi } from 'vitest'
import { page, userEvent } from 'vitest/browser'
import { render } from 'vitest-browser-svelte'
import '../../src/app/app.css'
import type { Site } from '../../src/model/schema/site.ts'
import MeasurePanel from '../../src/panels/MeasurePanel.svelte'
import { PairDraft } from '../../src/panels/pairDraft.svelte.ts'
import SuspectsPanel from '../../src/panels/SuspectsPanel.svelte'
import PanelHarness from './PanelHarness.svelte'
import { fieldSite, panelState } from './panelState.ts'

async function show(site: Site | null = fieldSite()) {
  const app = panelState(site)
  const draft = new PairDraft()
  const shown = await render(PanelHarness, {
    app,
    draft,
    panels: [{ panel: MeasurePanel, props: { draft } }, { panel: SuspectsPanel }],
  })
  return { app, draft, ...shown }
}

const ohms = () => page.getByRole('textbox', { name: /^Resistance/ })
const rows = () => page.getByRole('listbox', { name: 'Readings' }).getByRole('option')

afterEach(async () => {
  delete document.documentElement.dataset.theme
  await page.viewport(1280, 800)
})

describe('measuring', () => {
  it('goes from a reading of the list to its repeat, its ohms and its verdict by keys alone', async () => {
    const { app } = await show()
    await vi.waitFor(() => expect(app.results.isCurrent).toBe(true))
    page.getByRole('listbox', { name: 'Readings' }).element().focus()
    await userEvent.keyboard('{End}{Enter}')
    await expect.element(page.getByRole('group', { name: 'Reading 1' })).toBeVisible()
    const again = page.getByRole('button', { name: 'Measure again reading 1' })
    for (let k = 0; k < 12 && document.activeElement !== again.element(); k++)
      await userEvent.tab({ shift: true })
    await expect.element(again).toHaveFocus()
    await userEvent.keyboard('{Enter}')
    await expect.element(ohms()).toHaveFocus()
    await expect.element(page.getByText(/This measures the pair of reading 1 again/)).toBeVisible()
    await userEvent.keyboard('50m{Enter}')
    const [first] = fieldSite().record.filter(({ entry }) => entry === 'reading')
    expect(app.session.site!.record.at(-1)).toMatchObject({
      repeats: first.id,
      result: { form: 'ohm', ohm: 0.05 },
    })
    await expect
      .element(page.getByRole('region', { name: 'Link a pair' }).getByText(/^Reading 51, /))
      .toBeVisible()
    await expect.element(page.getByText('51 readings', { exact: true })).toBeVisible()
  })

  it('ranks anew when the readings that speak for the suspect are withdrawn', async () => {
    const { app } = await show()
    const suspect = 'R4/T6+T7~1'
    const chance = () =>
      app.results.locate!.groups.find(({ joints }) => joints[0].joint === suspect)?.probability ?? 0
    await vi.waitFor(() => expect(app.results.locate?.headline).toBe('suspects'))
    expect(chance()).toBeGreaterThan(0.9)
    const readings = fieldSite().record.filter(({ entry }) => entry === 'reading')
    for (const number of [35, 36]) {
      app.selection.pick({ kind: 'reading', entry: readings[number - 1].id })
      await page
        .getByRole('group', { name: `Reading ${number}` })
        .getByRole('button', { name: 'Withdraw this reading …' })
        .click()
      await page.getByRole('button', { name: 'Wrong point' }).click()
    }
    await vi.waitFor(() => expect(app.results.locate?.basis.recordLength).toBe(fieldSite().record.length + 2))
    expect(chance()).toBeLessThan(0.1)
    await expect.element(page.getByText(/^Lead for inspection/)).not.toBeInTheDocument()
  })

  it('keeps what was typed while another panel is looked at', async () => {
    const { app, draft, unmount } = await show()
    app.selection.beginPair('R4/T4/L1.6')
    app.selection.endPair('B1')
    await ohms().fill('1.2.3')
    await userEvent.keyboard('{Enter}')
    await expect
      .element(page.getByRole('alert').filter({ hasText: 'more than one comma or point' }))
      .toBeVisible()
    await unmount()
    await render(PanelHarness, { app, draft, panels: [{ panel: MeasurePanel, props: { draft } }] })
    await expect.element(ohms()).toHaveValue('1.2.3')
    expect(app.session.site!.record).toHaveLength(fieldSite().record.length)
  })

  it('says so when the computation has stopped', async () => {
    const { app } = await show()
    app.results.engineState = 'failed'
    await expect.element(page.getByText(/stays off until the site changes/).first()).toBeVisible()
  })

  it('says what to do on an empty site and without one', async () => {
    const { unmount } = await show({ ...fieldSite(), record: [] })
    await expect.element(page.getByText(/No visit is open yet/)).toBeVisible()
    await expect.element(page.getByText(/No readings yet/)).toBeVisible()
    await unmount()
    await show(null)
    await expect.element(page.getByText(/No site is open/).first()).toBeVisible()
  })

  it('speaks as a US site does', async () => {
    const site = fieldSite()
    const drawing = { ...site.drawing, facts: { ...site.drawing.facts, units: 'us' as const } }
    const { app } = await show({ ...site, drawing })
    app.selection.beginPair('R4/T4/L1.6')
    app.selection.endPair('earth')
    await expect.element(page.getByText('Remote ground', { exact: true })).toBeVisible()
    await page.getByRole('button', { name: 'Instrument, lead and clips' }).click()
    await expect.element(page.getByRole('combobox', { name: 'Lead' })).toHaveTextContent(/164 ft of 1.5 mm²/)
    expect(document.body.textContent).not.toMatch(/remote earth/i)
  })

  it.each(['light', 'dark', 'sunlight'])(
    'has no breach that axe can find and fits 360 px, %s',
    async (theme) => {
      document.documentElement.dataset.theme = theme
      await page.viewport(360, 1800)
      const { app } = await show()
      app.selection.beginPair('R4/T4/L1.6')
      app.selection.endPair('R4/T7/F1.6')
      await rows().first().click()
      await page.getByRole('button', { name: 'Instrument, lead and clips' }).click()
      await vi.waitFor(() => expect(app.results.isCurrent).toBe(true))
      const { violations } = await axe.run(document.body)
      expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' ')}`)).toEqual(
        [],
      )
      expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(360)
    },
  )
})
