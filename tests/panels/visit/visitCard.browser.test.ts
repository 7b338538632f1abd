import axe from 'axe-core'
import { afterEach, describe, expect, it } from 'vitest'
import { page, userEvent } from 'vitest/browser'
import { render } from 'vitest-browser-svelte'
import '../../../src/app/app.css'
import type { Entry } from '../../../src/model/schema/record.ts'
import { PairDraft } from '../../../src/panels/pairDraft.svelte.ts'
import PairEntry from '../../../src/panels/PairEntry.svelte'
import VisitCard from '../../../src/panels/visit/VisitCard.svelte'
import type { AppState } from '../../../src/state/appState.ts'
import PanelHarness from '../PanelHarness.svelte'
import { fieldSite, panelState } from '../panelState.ts'

async function show(app: AppState = panelState()) {
  const draft = new PairDraft()
  await render(PanelHarness, { app, draft, panels: [{ panel: VisitCard, props: { draft } }] })
  return app
}

const card = () => page.getByRole('region', { name: 'Visit' })
const press = (name: string) => card().getByRole('button', { name, exact: true }).click()

afterEach(() => page.viewport(1280, 800))

describe('the card of a visit', () => {
  it('opens a visit for another day, filled in from the last one but for the isolation', async () => {
    const app = await show(panelState(fieldSite(), { hour: '2026-11-25T08' }))
    const { length } = app.session.site!.record
    await expect.element(card().getByText(/The visit of 12 May is over/)).toBeVisible()
    await press('Open a visit')
    await card().getByRole('textbox', { name: 'Who measures' }).fill('A. Rowan, B. Larch')
    await card().getByRole('textbox', { name: 'Weather' }).fill('dry, hazy')
    await card().getByRole('combobox', { name: 'Isolators' }).selectOptions('open')
    await press('Open the visit')
    const earlier = fieldSite().record.find(({ entry }) => entry === 'visit')
    if (earlier?.entry !== 'visit') throw new Error('no visit')
    expect(app.session.site!.record.slice(length)).toMatchObject([
      {
        entry: 'visit',
        party: ['A. Rowan', 'B. Larch'],
        weather: 'dry, hazy',
        isolators: 'open',
        inverter: 'unknown',
        lockOut: '',
        kits: earlier.kits,
        leads: earlier.leads,
      },
    ])
    await expect.element(card().getByText(/A\. Rowan, B\. Larch · .*isolators open/)).toBeVisible()
    expect(app.usual.names).toEqual(['A. Rowan', 'B. Larch'])
  })

  it('amends the open visit, keeps a remark as a note, and writes nothing where nothing was changed', async () => {
    const app = await show()
    const { length } = app.session.site!.record
    await press('Change the visit')
    await press('Enter the changes')
    expect(app.session.site!.record).toHaveLength(length)
    await press('Change the visit')
    await card().getByRole('combobox', { name: 'Inverter' }).selectOptions('running')
    await card().getByRole('textbox', { name: 'Remark' }).fill('Row 9 fenced off')
    await press('Enter the changes')
    const [amendment, note] = app.session.site!.record.slice(length)
    expect(amendment).toMatchObject({ entry: 'amendment', inverter: 'running' })
    expect(note).toMatchObject({ entry: 'note', text: 'Row 9 fenced off', about: null })
    await expect.element(card().getByText(/inverter running/)).toBeVisible()
  })

  it('warns of a calibration that has ended and of a check that was too far off', async () => {
    const app = await show()
    await press('Change the visit')
    await card()
      .getByRole('button', { name: /two-wire, 200 mA$/ })
      .first()
      .click()
    await card().getByLabelText('Calibration due').fill('2026-05-11')
    await card().getByLabelText('Last check on a known resistor').fill('2026-05-12')
    await card().getByRole('textbox', { name: 'Its ohms' }).fill('1')
    await userEvent.keyboard('{Tab}')
    await expect.element(card().getByText('Give all three of the last check, or none.')).toBeVisible()
    await press('Enter the changes')
    await expect.element(card().getByText('Mend what is marked first.')).toBeVisible()
    await card().getByRole('textbox', { name: 'What was read' }).fill('1.2')
    await press('Enter the changes')
    await expect.element(card().getByText(/Calibration of .* ended on 2026-05-11/)).toBeVisible()
    await expect.element(card().getByText(/read 1.2 Ω of 1 Ω on 2026-05-12: further off/)).toBeVisible()
    expect(app.session.site!.record.at(-1)).toMatchObject({ entry: 'amendment' })
  })

  it('asks for a closing check of a lead, and takes it', async () => {
    const app = await show()
    await press('Change the visit')
    await expect
      .element(card().getByText(/Closing check outstanding for .*50 m.* since \d\d:\d\d/))
      .toBeVisible()
    await card()
      .getByRole('textbox', { name: /Read with the lead shorted/ })
      .fill('0.02')
    await press('Enter a lead check')
    expect(app.session.site!.record.at(-1)).toMatchObject({
      entry: 'leadCheck',
      lead: 'lead50',
      result: { form: 'ohm', ohm: 0.02 },
    })
    await expect.element(card().getByText(/Closing check outstanding/)).not.toBeInTheDocument()
  })

  it('lists the volts of the visit, and takes one back that is entered again; the lock follows', async () => {
    const field = fieldSite()
    const visit = field.record.find(({ entry }) => entry === 'visit')!
    const nought = { directV: 0, alternatingV: 0 }
    const check: Entry = {
      id: '22222222-2222-4222-8222-222222222222',
      device: '22222222-2222-4222-8222-222222222222',
      counter: 0,
      at: '2026-05-12T08:59:00Z',
      ...{ entry: 'volts', visit: visit.id, from: 'R4/T7/F1.6', to: 'R4/T4/L1.6', directV: 310 },
      ...{ alternatingV: 0, toEarth: nought },
    }
    const app = panelState({ ...field, record: [...field.record, check] })
    const draft = new PairDraft()
    const panels = [
      { panel: VisitCard, props: { draft } },
      { panel: PairEntry, props: { draft } },
    ]
    await render(PanelHarness, { app, draft, panels })
    await page.getByText(/^Volts of this visit/).click()
    const row = page.getByRole('listitem').filter({ hasText: '310 V DC' })
    await expect.element(row).toHaveTextContent(/More than this site allows for ohms/)
    await row.getByRole('button', { name: 'Withdraw and enter again …' }).click()
    await page.getByRole('dialog').getByRole('button', { name: 'Typed wrongly' }).click()
    expect(app.session.site!.record.at(-1)).toMatchObject({
      entry: 'withdrawal',
      of: check.id,
      reason: 'Typed wrongly',
    })
    expect([app.selection.pairFrom, app.selection.pairTo]).toEqual(['R4/T7/F1.6', 'R4/T4/L1.6'])
    await expect.element(row).toHaveTextContent(/Withdrawn: Typed wrongly/)
    await expect.element(row.getByRole('button').first()).not.toBeInTheDocument()
    const volts = page.getByRole('group', { name: 'Volts before ohms' })
    await expect.element(volts.getByText(/the last check was withdrawn/)).toBeVisible()
    await page.getByRole('button', { name: 'All four read 0.0 V' }).click()
    await expect.element(page.getByRole('textbox', { name: 'Resistance', exact: true })).toBeVisible()
  })

  it('has no breach that axe can find, fits 360 px, and keeps to 44 px for gloves', async () => {
    await page.viewport(360, 2400)
    await show()
    await press('Change the visit')
    await card()
      .getByRole('button', { name: /two-wire, 200 mA$/ })
      .first()
      .click()
    const { violations } = await axe.run(document.body)
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' ')}`)).toEqual([])
    expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(360)
    const targets = [...card().element().querySelectorAll('button, input, select, textarea')].filter(
      (target) => target.getClientRects().length > 0,
    )
    expect(targets.length).toBeGreaterThan(15)
    for (const target of targets) expect(target.getBoundingClientRect().height).toBeGreaterThanOrEqual(44)
  })
})
