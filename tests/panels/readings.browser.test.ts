import axe from 'axe-core'
import { describe, expect, it, vi } from 'vitest'
import { page, userEvent } from 'vitest/browser'
import { render } from 'vitest-browser-svelte'
import '../../src/app/app.css'
import type { AppState } from '../../src/state/appState.ts'
import { PairDraft } from '../../src/panels/pairDraft.svelte.ts'
import ReadingsPanel from '../../src/panels/ReadingsPanel.svelte'
import PanelHarness from './PanelHarness.svelte'
import { fieldSite, panelState } from './panelState.ts'

async function show(app: AppState) {
  const onrepeat = vi.fn<() => void>()
  const drawLook = vi.fn()
  const draft = new PairDraft()
  await render(PanelHarness, {
    app,
    panels: [{ panel: ReadingsPanel, props: { draft, drawLook, onrepeat } }],
  })
  return { draft, onrepeat, drawLook }
}

const list = () => page.getByRole('listbox', { name: 'Readings' })
const rows = () => list().getByRole('option')

describe('the list of readings', () => {
  it('lists readings by number with what was read, expected and found, and draws only those in sight', async () => {
    const app = panelState()
    const { drawLook } = await show(app)
    await expect.element(page.getByText('50 readings', { exact: true })).toBeVisible()
    await expect.element(rows().first()).toHaveTextContent(/^1 .*Ω .*in line.*expected /)
    expect(rows().elements().length).toBeLessThan(25)
    await vi.waitFor(() => expect(drawLook).toHaveBeenCalledWith('within', expect.any(HTMLCanvasElement)))
  })

  it('filters by look and shows the current of a picked reading', async () => {
    const app = panelState()
    await show(app)
    await expect.element(page.getByRole('option', { name: 'investigate (2)' })).toBeInTheDocument()
    await page.getByRole('combobox', { name: 'Show' }).selectOptions('investigate (2)')
    await expect.element(page.getByText('2 of 50 readings')).toBeVisible()
    await expect.element(rows().first()).toHaveTextContent(/^35 /)
    await rows().first().click()
    const { picked } = app.selection
    expect(picked?.kind).toBe('reading')
    await expect.element(page.getByRole('group', { name: 'Reading 35' })).toBeVisible()
    await vi.waitFor(() => expect(app.results.currentMap?.from).toBe('R4/T4/L1.6'))
  })

  it('withdraws a reading after asking and ranks anew', async () => {
    const app = panelState()
    await show(app)
    const reading = fieldSite().record.filter(({ entry }) => entry === 'reading')[0]
    await rows().first().click()
    await page.getByRole('button', { name: 'Withdraw …' }).click()
    expect(app.session.site!.record).toHaveLength(fieldSite().record.length)
    await page.getByRole('textbox', { name: 'Reason' }).fill('wrong table')
    await page.getByRole('button', { name: 'Withdraw', exact: true }).click()
    expect(app.session.site!.record.at(-1)).toMatchObject({
      entry: 'withdrawal',
      of: reading.id,
      reason: 'wrong table',
    })
    await vi.waitFor(() => expect(app.results.locate?.readings[0].verdict).toBe('setAside'))
    await expect.element(rows().first()).toHaveTextContent(/withdrawn/)
    await expect.element(page.getByRole('status')).toHaveTextContent('Reading 1 withdrawn')
  })

  it('counts a withdrawn reading again, and keeps both entries', async () => {
    const app = panelState()
    await show(app)
    await vi.waitFor(() => expect(app.results.isCurrent).toBe(true))
    await rows().first().click()
    await page.getByRole('button', { name: 'Withdraw …' }).click()
    await page.getByRole('textbox', { name: 'Reason' }).fill('wrong table')
    await page.getByRole('button', { name: 'Withdraw', exact: true }).click()
    await expect.element(page.getByText('Withdrawn: wrong table.')).toBeVisible()
    const withdrawal = app.session.site!.record.at(-1)!
    await page.getByRole('button', { name: 'Count it again …' }).click()
    await page.getByRole('textbox', { name: 'Reason' }).fill('it was the right one')
    await page.getByRole('button', { name: 'Count it again', exact: true }).click()
    expect(app.session.site!.record).toHaveLength(fieldSite().record.length + 2)
    expect(app.session.site!.record.at(-1)).toMatchObject({
      entry: 'withdrawal',
      of: withdrawal.id,
      reason: 'it was the right one',
    })
    await vi.waitFor(() => expect(app.results.locate?.readings[0].verdict).toBe('inLine'))
    await expect.element(rows().first()).not.toHaveTextContent(/withdrawn/)
    await expect.element(page.getByRole('status')).toHaveTextContent('Reading 1 counts again')
    await expect.element(page.getByRole('button', { name: 'Withdraw …' })).toBeVisible()
  })

  it('begins a repeat with the same ends', async () => {
    const app = panelState()
    const { draft, onrepeat } = await show(app)
    await rows().first().click()
    await page.getByRole('button', { name: 'Repeat reading 1' }).click()
    const reading = fieldSite().record.find(({ entry }) => entry === 'reading')!
    if (reading.entry !== 'reading') throw new Error('no reading')
    expect(onrepeat).toHaveBeenCalledOnce()
    expect(draft.repeats).toBe(reading.id)
    expect(draft.fromClip).toEqual(reading.from)
    expect([app.selection.pairFrom, app.selection.pairTo]).toEqual([reading.from.part, reading.to.part])
  })

  it('enters a nulling with the instrument and lead in hand', async () => {
    const app = panelState()
    await show(app)
    await page.getByRole('button', { name: 'Nulled now' }).click()
    expect(app.session.site!.record.at(-1)).toMatchObject({
      entry: 'nulling',
      kit: 'two-wire-200ma',
      lead: 'lead50',
    })
  })

  it('goes through the list by keys', async () => {
    const app = panelState()
    await show(app)
    list().element().focus()
    await userEvent.keyboard('{End}{Enter}')
    await expect.element(page.getByRole('group', { name: 'Reading 50' })).toBeVisible()
  })

  it('says what to do where there is no reading', async () => {
    await show(panelState({ ...fieldSite(), record: [] }))
    await expect.element(page.getByText(/No readings yet\. Link two parts/)).toBeVisible()
  })

  it('shows hostile names as text', async () => {
    const site = fieldSite()
    const hostile = '<img src=x onerror="globalThis.hurt = 1"> "bar"'
    const drawing = {
      ...site.drawing,
      earthBars: site.drawing.earthBars.map((bar) => ({ ...bar, label: hostile })),
    }
    const record = site.record.map((entry) =>
      entry.entry === 'reading' ? { ...entry, note: hostile } : entry,
    )
    await show(panelState({ ...site, drawing, record }))
    await rows().nth(1).click()
    await expect.element(page.getByText(hostile).first()).toBeVisible()
    expect(document.querySelector('main img')).toBeNull()
    expect('hurt' in globalThis).toBe(false)
  })

  it('has no breach of accessibility with a reading picked', async () => {
    const app = panelState()
    await show(app)
    await rows().first().click()
    await expect.element(page.getByRole('group', { name: 'Reading 1' })).toBeVisible()
    const { violations } = await axe.run(document.body)
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' ')}`)).toEqual([])
  })
})
