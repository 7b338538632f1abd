import axe from 'axe-core'
import { afterEach, describe, expect, it } from 'vitest'
import { page, userEvent } from 'vitest/browser'
import { render } from 'vitest-browser-svelte'
import '../../../src/app/app.css'
import SiteFactsForm from '../../../src/panels/draw/SiteFactsForm.svelte'
import PanelHarness from '../PanelHarness.svelte'
import { PairDraft } from '../../../src/panels/pairDraft.svelte.ts'
import { panelState } from '../panelState.ts'

async function show() {
  const app = panelState()
  await render(PanelHarness, { app, draft: new PairDraft(), panels: [{ panel: SiteFactsForm, props: {} }] })
  await page.getByRole('button', { name: /^Criteria/ }).click()
  return app
}

const last = (app: Awaited<ReturnType<typeof show>>) => app.session.site!.drawing.criteria.at(-1)!
const add = (id: string) => page.getByRole('combobox', { name: 'Add from the catalogue' }).selectOptions(id)

afterEach(() => page.viewport(1280, 800))

describe('criteria of a site', () => {
  it('come from the catalogue with their source, and their levels can be changed', async () => {
    const app = await show()
    const { length } = app.session.site!.drawing.criteria
    await add('neta-point-to-point')
    expect(app.session.site!.drawing.criteria).toHaveLength(length + 1)
    expect(last(app)).toMatchObject({ investigateAboveOhm: 0.5, clause: '7.13', againstPairs: false })
    await expect.element(page.getByText(/commissioning test; read in a secondary copy/)).toBeVisible()
    await page.getByRole('textbox', { name: 'Investigate above' }).fill('200m')
    await userEvent.keyboard('{Enter}')
    expect(last(app).investigateAboveOhm).toBe(0.2)
    await page.getByRole('button', { name: 'Remove', exact: true }).click()
    expect(app.session.site!.drawing.criteria).toHaveLength(length)
  })

  it('of another quantity are held against pairs only after a warning and a further press', async () => {
    const app = await show()
    await add('nec-single-rod')
    await expect
      .element(page.getByText(/Not held against pairs\..*electrode to earth.*another quantity/))
      .toBeVisible()
    expect(last(app).againstPairs).toBe(false)
    await page.getByRole('button', { name: 'Use it for pairs' }).click()
    expect(last(app).againstPairs).toBe(true)
    await page.getByRole('button', { name: 'Hold no pairs against it' }).click()
    expect(last(app).againstPairs).toBe(false)
  })

  it('without a limit say so, and one of the site can be added', async () => {
    const app = await show()
    await add('iec-62446-1-continuity')
    await expect.element(page.getByText(/^No numeric limit: listed for what it asks/)).toBeVisible()
    await page.getByRole('button', { name: 'Add one of your own' }).click()
    expect(last(app)).toMatchObject({ id: 'own', quantity: 'bondingPath', investigateAboveOhm: null })
  })

  it('stand beside the most volts and the revision of the drawing, which can be changed', async () => {
    const app = await show()
    await page.getByRole('textbox', { name: 'Most volts before ohms' }).fill('5')
    await userEvent.keyboard('{Enter}')
    await page.getByRole('textbox', { name: 'Revision of the drawing' }).fill('E-101 rev C')
    await userEvent.keyboard('{Enter}')
    expect(app.session.site!.drawing.facts).toMatchObject({ mostVolts: 5, drawingRevision: 'E-101 rev C' })
  })

  it('have no breach that axe can find and fit 360 px', async () => {
    await page.viewport(360, 2400)
    await show()
    await add('iec-61730-2-mst13')
    // the panel that the form stands in has the headings above its own
    const { violations } = await axe.run(document.body, { rules: { 'heading-order': { enabled: false } } })
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' ')}`)).toEqual([])
    expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(360)
  })
})
