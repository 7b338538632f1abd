import axe from 'axe-core'
import { describe, expect, it, vi } from 'vitest'
import { page, userEvent } from 'vitest/browser'
import { render } from 'vitest-browser-svelte'
import '../../src/app/app.css'
import FindPlace from '../../src/panels/FindPlace.svelte'
import PanelHarness from './PanelHarness.svelte'
import { panelState } from './panelState.ts'

async function show() {
  const app = panelState()
  const onshow = vi.fn()
  await render(PanelHarness, { app, panels: [{ panel: FindPlace, props: { onshow } }] })
  return { app, onshow }
}

const field = () => page.getByRole('combobox', { name: 'Find a place on the map' })
const options = () => page.getByRole('option')
const active = () => document.getElementById(field().element().getAttribute('aria-activedescendant') ?? '')

describe('the field that finds places', () => {
  it('is reached by / from the page, not while one types, and leads to what was typed by Enter', async () => {
    const { onshow } = await show()
    await userEvent.keyboard('/')
    await expect.element(field()).toHaveFocus()
    await userEvent.keyboard('4-6')
    await expect.element(options().first()).toHaveTextContent(/Table 4-06.*Row 4, 6th of 8.*R4\/T6/)
    expect(active()).toBe(options().first().element())
    await userEvent.keyboard('{Enter}')
    expect(onshow).toHaveBeenCalledExactlyOnceWith({ kind: 'table', row: 4, table: 6 })
    await expect.element(field()).not.toHaveFocus()
    await field().click()
    await userEvent.keyboard('/7')
    await expect.element(field()).toHaveValue('/7')
  })

  it('goes through the list by arrow keys, round its ends, and leaves by Escape', async () => {
    const { onshow } = await show()
    await field().fill('row')
    await expect.element(field()).toHaveAttribute('aria-expanded', 'true')
    await userEvent.keyboard('{ArrowDown}')
    expect(active()?.textContent).toMatch(/^\s*Row 2/)
    await userEvent.keyboard('{ArrowUp}{ArrowUp}')
    expect(active()).toBe(options().last().element())
    await userEvent.keyboard('{ArrowDown}{ArrowDown}{Enter}')
    expect(onshow).toHaveBeenCalledExactlyOnceWith({ kind: 'table', row: 2, table: 1 })
    await field().click()
    await userEvent.keyboard('{Escape}')
    await expect.element(field()).toHaveValue('')
    await userEvent.keyboard('{Escape}')
    await expect.element(field()).not.toHaveFocus()
    expect(options().elements()).toEqual([])
  })

  it('says how many more there are, to the eye and to a screen reader', async () => {
    await show()
    await field().fill('frame')
    await expect.element(page.getByText(/^and [\d,]+ more: type on$/)).toBeVisible()
    await expect.element(page.getByText(/places, 8 of them listed/)).toBeInTheDocument()
  })

  it('shows what can be typed on this site, before anything is typed and where nothing fits', async () => {
    const { onshow } = await show()
    await field().click()
    await expect.element(options().first()).toHaveTextContent('Row 3')
    await field().fill('zzz')
    await expect.element(page.getByText('Nothing here is called “zzz”.').first()).toBeVisible()
    await userEvent.keyboard('{Enter}')
    expect(onshow).not.toHaveBeenCalled()
    await page.getByRole('option', { name: 'reading 50' }).click()
    await expect.element(field()).toHaveValue('reading 50')
    await options().first().click()
    expect(onshow.mock.calls[0][0]).toMatchObject({ kind: 'reading' })
  })

  it('has lines that a finger can hit, and no breach of accessibility', async () => {
    await show()
    await field().fill('4-06 frame')
    await expect.element(options().first()).toBeVisible()
    for (const option of options().elements()) {
      expect(option.getBoundingClientRect().height).toBeGreaterThanOrEqual(44)
    }
    const { violations } = await axe.run(document.body)
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' ')}`)).toEqual([])
  })
})
