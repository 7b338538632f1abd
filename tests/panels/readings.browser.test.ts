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

async function show(app: AppState, isSheet = false) {
  const drawLook = vi.fn()
  const draft = new PairDraft()
  await render(PanelHarness, {
    app,
    draft,
    panels: [{ panel: ReadingsPanel, props: { drawLook, isSheet } }],
  })
  return { draft, drawLook }
}

const list = () => page.getByRole('listbox', { name: 'Readings' })
const card = () => page.getByRole('region', { name: 'What is picked' })
const withdraw = () => page.getByRole('button', { name: 'Withdraw this reading …' })

/** Goes to the oldest reading, which is at the end. */
async function chooseFirst() {
  list().element().focus()
  await userEvent.keyboard('{End}{Enter}')
}
const rows = () => list().getByRole('option')

describe('the list of readings', () => {
  it('lists readings by number with what was read, expected and found, and draws only those in sight', async () => {
    const app = panelState()
    const { drawLook } = await show(app)
    await expect.element(page.getByText('50 readings', { exact: true })).toBeVisible()
    await expect.element(rows().first()).toHaveTextContent(/^50 .*Ω .*expected /)
    expect(rows().elements().length).toBeLessThan(25)
    await vi.waitFor(() => expect(drawLook).toHaveBeenCalledWith('within', expect.any(HTMLCanvasElement)))
  })

  it('filters by look and shows the current of a picked reading', async () => {
    const app = panelState()
    await show(app)
    await expect.element(page.getByRole('option', { name: 'investigate (2)' })).toBeInTheDocument()
    await page.getByRole('combobox', { name: 'Show' }).selectOptions('investigate (2)')
    await expect.element(page.getByText('2 of 50 readings')).toBeVisible()
    await expect.element(rows().first()).toHaveTextContent(/^36 /)
    await rows().first().click()
    const { picked } = app.selection
    expect(picked?.kind).toBe('reading')
    await expect.element(page.getByRole('group', { name: 'Reading 36' })).toBeVisible()
    await vi.waitFor(() => expect(app.results.currentMap?.from).toBe('R4/T4/L1.6'))
  })

  it('withdraws a reading after asking and ranks anew', async () => {
    const app = panelState()
    await show(app)
    const reading = fieldSite().record.filter(({ entry }) => entry === 'reading')[0]
    await chooseFirst()
    await withdraw().click()
    expect(app.session.site!.record).toHaveLength(fieldSite().record.length)
    await page.getByRole('textbox', { name: 'Another reason' }).fill('wrong table')
    await page.getByRole('button', { name: 'Withdraw', exact: true }).click()
    expect(app.session.site!.record.at(-1)).toMatchObject({
      entry: 'withdrawal',
      of: reading.id,
      reason: 'wrong table',
    })
    await vi.waitFor(() => expect(app.results.locate?.readings[0].verdict).toBe('setAside'))
    await expect.element(rows().last()).toHaveTextContent(/withdrawn/)
    await expect.element(page.getByRole('status')).toHaveTextContent('Reading 1 withdrawn')
  })

  it('counts a withdrawn reading again, and keeps both entries', async () => {
    const app = panelState()
    await show(app)
    await vi.waitFor(() => expect(app.results.isCurrent).toBe(true))
    await chooseFirst()
    await withdraw().click()
    await page.getByRole('textbox', { name: 'Another reason' }).fill('wrong table')
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
    await expect.element(rows().last()).not.toHaveTextContent(/withdrawn/)
    await expect.element(page.getByRole('status')).toHaveTextContent('Reading 1 counts again')
    await expect.element(withdraw()).toBeVisible()
  })

  it('withdraws for a reason of one tap, and without any only when asked a second time', async () => {
    const app = panelState()
    const { drawLook } = await show(app)
    await vi.waitFor(() => expect(app.results.isCurrent).toBe(true))
    await chooseFirst()
    await withdraw().click()
    await page.getByRole('button', { name: 'Withdraw', exact: true }).click()
    await expect.element(page.getByRole('alert').getByText(/Tap one of the reasons/)).toBeVisible()
    expect(app.session.site!.record).toHaveLength(fieldSite().record.length)
    drawLook.mockClear()
    await page.getByRole('button', { name: 'Clip slipped' }).click()
    expect(app.session.site!.record.at(-1)).toMatchObject({ entry: 'withdrawal', reason: 'Clip slipped' })
    await vi.waitFor(() => expect(drawLook).toHaveBeenCalledWith('setAside', expect.any(HTMLCanvasElement)))
    await withdrawAnother()
    expect(app.session.site!.record.at(-1)).toMatchObject({ entry: 'withdrawal', reason: '' })

    async function withdrawAnother() {
      await rows().first().click()
      await withdraw().click()
      await page.getByRole('button', { name: 'Withdraw', exact: true }).click()
      await page.getByRole('button', { name: 'Withdraw without a reason' }).click()
    }
  })

  it('corrects a value that was typed wrongly; the first one stays in sight and in the record', async () => {
    const app = panelState()
    await show(app)
    await chooseFirst()
    const first = fieldSite().record.find(({ entry }) => entry === 'reading')!
    if (first.entry !== 'reading' || first.result.form !== 'ohm') throw new Error('no ohms')
    await page.getByRole('button', { name: 'Correct it …' }).click()
    const value = page.getByRole('textbox', { name: 'What the instrument showed, in Ω' })
    await value.fill('abc')
    await userEvent.keyboard('{Enter}')
    await expect.element(page.getByRole('alert').getByText(/not a number/)).toBeVisible()
    await value.fill('0,7')
    await expect.element(page.getByText('Enters 700 mΩ.')).toBeVisible()
    await userEvent.keyboard('{Enter}')
    expect(app.session.site!.record.at(-1)).toMatchObject({
      entry: 'correction',
      of: first.id,
      result: { form: 'ohm', ohm: 0.7 },
      from: null,
      to: null,
    })
    await expect
      .element(card().getByText(/^Corrected: first entered as .*mΩ \(Typed wrongly\)/))
      .toBeVisible()
    await vi.waitFor(() => expect(app.results.locate?.readings[0].readOhm).toBe(0.7))
  })

  it('has no scroll of its own in a sheet, and shows earlier ones when asked', async () => {
    await show(panelState(), true)
    await expect.element(rows().first()).toHaveTextContent(/^50 /)
    expect(rows().elements()).toHaveLength(25)
    const box = list().element()
    expect(box.scrollHeight).toBe(box.clientHeight)
    await page.getByRole('button', { name: 'Show earlier ones (25 left)' }).click()
    await expect.element(rows().last()).toHaveTextContent(/^1 /)
  })

  it('begins a repeat with the same ends', async () => {
    const app = panelState()
    const { draft } = await show(app)
    await chooseFirst()
    await page.getByRole('button', { name: 'Measure again reading 1' }).click()
    const reading = fieldSite().record.find(({ entry }) => entry === 'reading')!
    if (reading.entry !== 'reading') throw new Error('no reading')
    expect(draft.calls).toBe(1)
    expect(draft.repeats).toBe(reading.id)
    expect(draft.fromClip).toEqual(reading.from)
    expect([app.selection.pairFrom, app.selection.pairTo]).toEqual([reading.from.part, reading.to.part])
  })

  it('goes through the list by keys', async () => {
    const app = panelState()
    await show(app)
    list().element().focus()
    await userEvent.keyboard('{End}{Enter}')
    await expect.element(page.getByRole('group', { name: 'Reading 1' })).toBeVisible()
    await userEvent.keyboard('{Home}{Enter}')
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
    list().element().focus()
    await userEvent.keyboard('{End}{Enter}')
    await expect.element(page.getByText(hostile).first()).toBeVisible()
    expect(document.querySelector('main img')).toBeNull()
    expect('hurt' in globalThis).toBe(false)
  })

  it('has no breach of accessibility with a reading picked', async () => {
    const app = panelState()
    await show(app)
    await chooseFirst()
    await expect.element(page.getByRole('group', { name: 'Reading 1' })).toBeVisible()
    const { violations } = await axe.run(document.body)
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' ')}`)).toEqual([])
  })
})
