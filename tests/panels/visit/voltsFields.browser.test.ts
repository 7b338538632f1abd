import axe from 'axe-core'
import { afterEach, describe, expect, it } from 'vitest'
import { page, userEvent } from 'vitest/browser'
import { render } from 'vitest-browser-svelte'
import '../../../src/app/app.css'
import { PairDraft } from '../../../src/panels/pairDraft.svelte.ts'
import PairEntry from '../../../src/panels/PairEntry.svelte'
import PanelHarness from '../PanelHarness.svelte'
import { fieldSite, panelState } from '../panelState.ts'

/** The demo's party never stood at this frame, so it is a new set-up. */
const from = 'R4/T7/F1.6'
const to = 'R4/T4/L1.6'

async function show() {
  const app = panelState()
  const draft = new PairDraft()
  await render(PanelHarness, { app, draft, panels: [{ panel: PairEntry, props: { draft } }] })
  app.selection.beginPair(from)
  app.selection.endPair(to)
  return app
}

const group = () => page.getByRole('group', { name: 'Volts before ohms' })
const fields = (name: 'DC, V' | 'AC, V') => group().getByRole('textbox', { name })
const ohms = () => page.getByRole('textbox', { name: 'Resistance', exact: true })
const enterVolts = () => page.getByRole('button', { name: 'Enter the volts' })

afterEach(() => page.viewport(1280, 800))

describe('volts before ohms', () => {
  it('lock the ohms at a new set-up until all four are entered', async () => {
    const app = await show()
    const { length } = app.session.site!.record
    await expect.element(group().getByText(/Ohms are locked here until volts are read/)).toBeVisible()
    await expect.element(ohms()).not.toBeInTheDocument()
    await expect.element(page.getByRole('button', { name: 'Enter the reading' })).not.toBeInTheDocument()
    await expect.element(fields('DC, V').first()).toHaveFocus()
    await userEvent.keyboard('-0,2{Enter}300m{Enter}')
    await expect.element(fields('DC, V').nth(1)).toHaveFocus()
    await enterVolts().click()
    await expect
      .element(
        group()
          .getByText(/Type the volts that the meter shows/)
          .first(),
      )
      .toBeVisible()
    expect(app.session.site!.record).toHaveLength(length)
    await fields('DC, V').nth(1).fill('0.5')
    await fields('AC, V').nth(1).fill('-1')
    await enterVolts().click()
    await expect.element(group().getByText('AC volts have no sign.')).toBeVisible()
    await fields('AC, V').nth(1).fill('1.5')
    await userEvent.keyboard('{Enter}')
    expect(app.session.site!.record.slice(length)).toMatchObject([
      {
        entry: 'volts',
        from,
        to,
        directV: -0.2,
        alternatingV: 0.3,
        toEarth: { directV: 0.5, alternatingV: 1.5 },
      },
    ])
    await expect.element(ohms()).toHaveFocus()
    await userEvent.keyboard('30m{Enter}')
    expect(app.session.site!.record.at(-1)).toMatchObject({ entry: 'reading', result: { ohm: 0.03 } })
  })

  it('above what the site allows keep the ohms locked and warn, until they read low', async () => {
    const app = await show()
    for (const button of group().getByRole('button', { name: 'Both 0.0 V' }).all()) await button.click()
    await fields('AC, V').nth(1).fill('31')
    // what was typed is not swept away by a quick nought
    await expect.element(page.getByRole('button', { name: 'All four read 0.0 V' })).not.toBeInTheDocument()
    await enterVolts().click()
    const alarm = page.getByRole('alert').filter({ hasText: 'Stop: volts are present' })
    await expect.element(alarm).toHaveTextContent(/31 V AC from the clip at .* to earth.*more than 10 V/)
    await expect.element(alarm).toHaveTextContent(/energised or faulted.*Keep hands off.*qualified person/)
    expect(document.body.textContent).not.toMatch(/\bsafe\b/i)
    await expect.element(ohms()).not.toBeInTheDocument()
    await expect.element(page.getByRole('button', { name: 'All four read 0.0 V' })).not.toBeInTheDocument()
    await expect.element(fields('AC, V').nth(1)).toHaveValue('')
    const { length } = app.session.site!.record
    for (const button of group().getByRole('button', { name: 'Both 0.0 V' }).all()) await button.click()
    await enterVolts().click()
    await expect.element(ohms()).toBeVisible()
    expect(app.session.site!.record).toHaveLength(length + 1)
  })

  it('enter explicit noughts with one press, and ask again at another fixed end', async () => {
    const app = await show()
    await page.getByRole('button', { name: 'All four read 0.0 V' }).click()
    const nought = { directV: 0, alternatingV: 0 }
    expect(app.session.site!.record.at(-1)).toMatchObject({ entry: 'volts', ...nought, toEarth: nought })
    await expect.element(ohms()).toBeVisible()
    app.selection.beginPair('R4/T8/F1.6')
    app.selection.endPair(to)
    await expect.element(group()).toBeVisible()
    app.selection.beginPair(from)
    app.selection.endPair(to)
    await expect.element(ohms()).toBeVisible()
  })

  it('have no breach that axe can find, fit 360 px and keep to 44 px for gloves', async () => {
    await page.viewport(360, 1400)
    await show()
    await fields('AC, V').nth(1).fill('99')
    for (const button of group().getByRole('button', { name: 'Both 0.0 V' }).all()) await button.click()
    await fields('AC, V').nth(1).fill('99')
    await enterVolts().click()
    await expect.element(page.getByRole('alert').filter({ hasText: 'Stop' })).toBeVisible()
    const { violations } = await axe.run(document.body)
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' ')}`)).toEqual([])
    expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(360)
    const targets = [...group().element().querySelectorAll('button, input')]
    expect(targets.length).toBeGreaterThan(5)
    for (const target of targets) expect(target.getBoundingClientRect().height).toBeGreaterThanOrEqual(44)
  })

  it('are not entered where another tab holds the site', async () => {
    const app = await show()
    app.session.saving = 'readOnly'
    await page.getByRole('button', { name: 'All four read 0.0 V' }).click({ force: true })
    expect(app.session.site!.record).toHaveLength(fieldSite().record.length)
    await expect.element(group()).toBeVisible()
  })
})
