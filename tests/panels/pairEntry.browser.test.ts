import axe from 'axe-core'
import { describe, expect, it, vi } from 'vitest'
import { page, userEvent } from 'vitest/browser'
import { render } from 'vitest-browser-svelte'
import '../../src/app/app.css'
import type { AppState } from '../../src/state/appState.ts'
import { PairDraft } from '../../src/panels/pairDraft.svelte.ts'
import PairEntry from '../../src/panels/PairEntry.svelte'
import PanelHarness from './PanelHarness.svelte'
import { fieldSite, panelState } from './panelState.ts'

const rail = 'R4/T4/L1.6'
const frame = 'R4/T7/F1.6'

async function show(app: AppState, draft = new PairDraft()) {
  await render(PanelHarness, { app, draft, panels: [{ panel: PairEntry, props: { draft } }] })
}

function link(app: AppState, from = rail, to = frame) {
  app.selection.beginPair(from)
  app.selection.endPair(to)
}

const ohms = () => page.getByRole('textbox', { name: 'Resistance', exact: true })
const said = () => page.getByText(/^Reading 51, /)

/** Says at a new set-up that the meter shows nought in all four places. */
async function noVolts() {
  await page.getByRole('button', { name: 'All four read 0.0 V' }).click()
}

async function enter(text: string) {
  await ohms().fill(text)
  await userEvent.keyboard('{Enter}')
}

describe('entering a reading', () => {
  it('says what a sound array reads, records what was read, and tells the verdict of the new ranking', async () => {
    const app = panelState()
    await show(app)
    link(app)
    await expect.element(page.getByText(/A sound array reads .* mΩ give or take/)).toBeVisible()
    await expect.element(ohms()).toHaveFocus()
    const before = app.session.site!.record.length
    await enter('2.2')
    expect(app.session.site!.record.length).toBe(before + 1)
    expect(app.session.site!.record.at(-1)).toMatchObject({
      entry: 'reading',
      kit: 'two-wire-200ma',
      lead: 'lead50',
      visit: fieldSite().record.find(({ entry }) => entry === 'visit')!.id,
      from: { part: rail, spot: 'cutEdge', surface: 'bare' },
      to: { part: frame, spot: 'face', surface: 'pierced' },
      result: { form: 'ohm', ohm: 2.2 },
      repeats: null,
    })
    expect([app.selection.pairFrom, app.selection.pairTo]).toEqual([rail, null])
    await expect.element(ohms()).toHaveValue('')
    await expect.element(said()).toHaveTextContent(/^Reading 51, .*2.2 Ω where/)
    expect(said().element().closest('[aria-live=polite]')).not.toBeNull()
    expect(said().elements()).toHaveLength(1)
    expect(app.results.locate!.basis.recordLength).toBe(before + 1)
    expect(app.results.locate!.readings).toHaveLength(51)
  })

  it.each([
    ['0,03', 0.03],
    ['30m', 0.03],
    ['0.03', 0.03],
  ])('takes %s for %f ohm', async (typed, ohm) => {
    const app = panelState()
    await show(app)
    link(app)
    await enter(typed)
    expect(app.session.site!.record.at(-1)).toMatchObject({ result: { form: 'ohm', ohm } })
  })

  it('refuses what is no number, keeps what was typed, and never records an older number', async () => {
    const app = panelState()
    const { length } = app.session.site!.record
    await show(app)
    link(app)
    await ohms().fill('0.03')
    for (const [typed, sentence] of [
      ['0.0x3', /not a number|not a unit/],
      ['1,234.5', /more than one comma or point/],
      ['-1', /not less than zero/],
      ['2k', /over range above 200 Ω/],
      [' ', /Type what the instrument shows/],
    ] as const) {
      await ohms().fill(typed)
      await page.getByRole('button', { name: 'Enter the reading' }).click()
      await expect.element(page.getByText(sentence)).toBeVisible()
      await expect.element(ohms()).toHaveValue(typed)
      await expect.element(ohms()).toHaveAttribute('aria-invalid', 'true')
    }
    expect(app.session.site!.record).toHaveLength(length)
    expect(app.selection.pairTo).toBe(frame)
  })

  it('records over range with the range of the instrument', async () => {
    const app = panelState()
    await show(app)
    link(app)
    await page.getByRole('switch', { name: 'Over range' }).click()
    await page.getByRole('button', { name: 'Enter the reading' }).click()
    expect(app.session.site!.record.at(-1)).toMatchObject({ result: { form: 'over', atLeastOhm: 200 } })
    await expect.element(page.getByRole('switch', { name: 'Over range' })).not.toBeChecked()
  })

  it('says what is the matter where the drawing cannot be numbered, and loses no reading', async () => {
    const field = fieldSite()
    const [plan] = field.drawing.plans
    const faulty = { ...field, drawing: { ...field.drawing, plans: [{ ...plan, nextPair: 1 }] } }
    const app = panelState(faulty)
    const draft = new PairDraft()
    await render(PanelHarness, { app, draft, panels: [{ panel: PairEntry, props: { draft } }] })
    const alarm = page.getByRole('alert').filter({ hasText: 'Nothing can be measured on this drawing' })
    await expect.element(alarm).toHaveTextContent(/pair 1 was given although .* 1 comes next/)
    expect(app.session.site!.record).toHaveLength(field.record.length)
  })

  it('asks for the pair first', async () => {
    const app = panelState()
    await show(app)
    await enter('0.03')
    await expect
      .element(page.getByRole('alert').getByText('Choose both ends of the pair first.'))
      .toBeVisible()
    await expect.element(ohms()).toHaveValue('0.03')
  })

  it('opens a visit where none is open, and says so before', async () => {
    const app = panelState({ ...fieldSite(), record: [] })
    await show(app)
    link(app)
    await expect.element(page.getByText(/No visit is open yet/)).toBeVisible()
    await noVolts()
    await page.getByRole('button', { name: 'Not nulled' }).click()
    await enter('0.04')
    const [visit, volts, reading] = app.session.site!.record
    expect(volts).toMatchObject({ entry: 'volts', visit: visit.id, from: rail, to: frame })
    expect(visit).toMatchObject({
      entry: 'visit',
      leads: [{ lengthM: 50, areaMm2: 1.5, material: 'copper' }],
    })
    expect(reading).toMatchObject({
      entry: 'reading',
      visit: visit.id,
      kit: 'two-wire-200ma',
      lead: 'lead-50m',
    })
  })

  it('opens a visit for another day, and asks whether the leads are nulled before the first ohms', async () => {
    const app = panelState(fieldSite(), { hour: '2026-11-25T08' })
    const { length } = app.session.site!.record
    await show(app)
    link(app)
    await expect
      .element(page.getByText(/The last visit was on 12 May\..*the same instruments and leads/))
      .toBeVisible()
    await noVolts()
    await expect.element(page.getByText(/Leads were last nulled on 12 May: null them again/)).toBeVisible()
    await enter('0.03')
    expect(app.session.site!.record).toHaveLength(length + 2)
    await expect.element(page.getByText('Say first whether the leads are nulled.')).toBeVisible()
    await expect.element(page.getByRole('button', { name: 'Nulled now' })).toHaveFocus()
    await userEvent.keyboard('{Enter}')
    const [visit, , nulling, reading] = app.session.site!.record.slice(length)
    const earlier = fieldSite().record.find(({ entry }) => entry === 'visit')
    if (visit.entry !== 'visit' || earlier?.entry !== 'visit') throw new Error('no visit')
    expect([visit.kits, visit.leads]).toEqual([earlier.kits, earlier.leads])
    expect(nulling).toMatchObject({
      entry: 'nulling',
      visit: visit.id,
      kit: 'two-wire-200ma',
      lead: 'lead50',
    })
    expect(reading).toMatchObject({ entry: 'reading', visit: visit.id, result: { form: 'ohm', ohm: 0.03 } })
    await expect.element(page.getByText(/Leads nulled 2026-11-25 08:00, 1 reading since/)).toBeVisible()
    await vi.waitFor(() => expect(app.results.locate?.readings.at(-1)?.verdict).toBeDefined())
    await expect.element(page.getByRole('button', { name: 'Not nulled' })).not.toBeInTheDocument()
  })

  it('lets leads be used as they are, says so until they are nulled, and asks no second time', async () => {
    const app = panelState(fieldSite(), { hour: '2026-11-25T08' })
    const { length } = app.session.site!.record
    await show(app)
    link(app)
    await noVolts()
    await page.getByRole('button', { name: 'Not nulled' }).click()
    await enter('0.03')
    expect(app.session.site!.record.slice(length).map(({ entry }) => entry)).toEqual([
      'visit',
      'volts',
      'reading',
    ])
    await expect.element(page.getByText(/The leads have not been nulled in this visit/)).toBeVisible()
    link(app)
    await enter('0.03')
    expect(app.session.site!.record.slice(length).map(({ entry }) => entry)).toHaveLength(4)
    await page.getByRole('button', { name: 'Nulled now' }).click()
    await expect.element(page.getByText(/The leads have not been nulled/)).not.toBeInTheDocument()
  })

  it('warns of a nulling of hours ago until there is a newer one, and lets readings be entered', async () => {
    const app = panelState(fieldSite(), { hour: '2026-05-12T14' })
    const { length } = app.session.site!.record
    await show(app)
    link(app)
    await noVolts()
    await expect.element(page.getByText(/Leads were last nulled at 08:30: null them again/)).toBeVisible()
    await enter('0.03')
    expect(app.session.site!.record).toHaveLength(length + 2)
    await expect.element(page.getByText(/Leads were last nulled at 08:30/)).toBeVisible()
    await page.getByRole('button', { name: 'Nulled now' }).click()
    expect(app.session.site!.record.at(-1)).toMatchObject({ entry: 'nulling', kit: 'two-wire-200ma' })
    await expect.element(page.getByText(/Leads nulled 2026-05-12 14:00/)).toBeVisible()
  })

  it('lets what was just entered be corrected or withdrawn where it is told', async () => {
    const app = panelState()
    await show(app)
    link(app)
    await enter('0.3')
    const entered = app.session.site!.record.at(-1)!
    const told = page.getByRole('group', { name: 'Reading 51' })
    await told.getByRole('button', { name: 'Correct it …' }).click()
    await page.getByRole('textbox', { name: /What the instrument showed/ }).fill('30m')
    await userEvent.keyboard('{Enter}')
    await expect.element(said()).toHaveTextContent(/read.* 30 mΩ/)
    await told.getByRole('button', { name: 'Withdraw this reading …' }).click()
    await page.getByRole('button', { name: 'Typed wrongly' }).click()
    expect(app.session.site!.record.at(-1)).toMatchObject({
      entry: 'withdrawal',
      of: entered.id,
      reason: 'Typed wrongly',
    })
    await expect.element(said()).toHaveTextContent(/set aside, for it was withdrawn/)
    await expect.element(told.getByRole('button', { name: 'Count it again …' })).toBeVisible()
  })

  it('takes what the large keys type in milliohms, says what it enters, and doubts what is far too little', async () => {
    const app = panelState()
    await show(app)
    link(app)
    await page.getByRole('button', { name: 'Keys', exact: true }).click()
    await expect.element(page.getByRole('radio', { name: 'mΩ', exact: true })).toBeChecked()
    const keys = page.getByRole('group', { name: 'Keys for the resistance' })
    for (const key of ['0', 'comma', '0', '3'])
      await keys.getByRole('button', { name: key, exact: true }).click()
    await expect.element(page.getByText(/Was it meant in ohms\?/)).toBeVisible()
    await page.getByRole('button', { name: 'It is in Ω' }).click()
    await expect.element(page.getByText('Enters 30 mΩ.')).toBeVisible()
    await keys.getByRole('button', { name: 'Enter the reading' }).click()
    expect(app.session.site!.record.at(-1)).toMatchObject({ result: { form: 'ohm', ohm: 0.03 } })
    expect(page.getByRole('button', { name: 'Enter the reading' }).elements()).toHaveLength(1)
  })

  it('doubts parts of a milliohm of an instrument that does not show them, and no whole ones', async () => {
    const app = panelState()
    await show(app)
    link(app)
    await page.getByRole('button', { name: 'Keys', exact: true }).click()
    await page.getByRole('radio', { name: 'mΩ', exact: true }).click()
    const resistance = page.getByRole('textbox', { name: 'Resistance' })
    await resistance.fill('17')
    await expect.element(page.getByText('Enters 17 mΩ.')).toBeVisible()
    await expect.element(page.getByText(/Was it meant in ohms\?/)).not.toBeInTheDocument()
    await resistance.fill('1.7')
    await expect.element(page.getByText(/steps of 10 mΩ.*Was it meant in ohms\?/)).toBeVisible()
    await page.getByRole('button', { name: 'It is in Ω' }).click()
    await expect.element(page.getByText('Enters 1.7 Ω.')).toBeVisible()
  })

  it('opens the list of places by typing or the arrow down, not by coming there', async () => {
    const app = panelState()
    await show(app)
    await page.getByRole('combobox', { name: 'To' }).click()
    await expect.element(page.getByRole('listbox')).not.toBeInTheDocument()
    await userEvent.keyboard('{ArrowDown}')
    await expect.element(page.getByRole('listbox')).toBeVisible()
  })

  it('is worked by keys alone, with typed addresses', async () => {
    const app = panelState()
    await show(app)
    await userEvent.keyboard('{Tab}')
    await expect.element(page.getByRole('combobox', { name: 'From' })).toHaveFocus()
    await userEvent.keyboard('R4/T99/F1.1{Enter}')
    await expect.element(page.getByText(/R4\/T99\/F1.1/)).toBeVisible()
    await page.getByRole('combobox', { name: 'From' }).fill('')
    await userEvent.keyboard(`${rail}{Enter}{Tab}`)
    await expect.element(page.getByRole('combobox', { name: 'To' })).toHaveFocus()
    await userEvent.keyboard(`${rail}{Enter}`)
    await expect.element(page.getByText(/Both ends are the same part/)).toBeVisible()
    await page.getByRole('combobox', { name: 'To' }).fill('')
    await userEvent.keyboard('B1{Enter}')
    await expect.element(ohms()).toHaveFocus()
    await userEvent.keyboard('40m{Enter}')
    expect(app.session.site!.record.at(-1)).toMatchObject({ from: { part: rail }, to: { part: 'B1' } })
    await expect.element(page.getByRole('combobox', { name: 'To' })).toHaveFocus()
  })

  it('swaps and clears the pair', async () => {
    const app = panelState()
    await show(app)
    link(app)
    await page.getByRole('button', { name: 'Swap the ends' }).click()
    expect([app.selection.pairFrom, app.selection.pairTo]).toEqual([frame, rail])
    await page.getByRole('button', { name: 'Clear the pair' }).click()
    expect([app.selection.pairFrom, app.selection.pairTo]).toEqual([null, null])
  })

  it('marks a repeat of the same pair', async () => {
    const app = panelState()
    const first = app.session.site!.record.find(({ entry }) => entry === 'reading')!
    if (first.entry !== 'reading') throw new Error('no reading')
    const draft = new PairDraft()
    draft.repeats = first.id
    await show(app, draft)
    link(app, first.to.part, first.from.part)
    await expect.element(page.getByText(/This measures the pair of reading 1 again:/)).toBeVisible()
    // the repeat begins at the other end, where the instrument has not stood yet
    await noVolts()
    await enter('0.05')
    expect(app.session.site!.record.at(-1)).toMatchObject({ repeats: first.id })
  })

  it('records nothing where another tab holds the site, and says why', async () => {
    const app = panelState()
    app.session.saving = 'readOnly'
    const { length } = app.session.site!.record
    await show(app)
    link(app)
    await enter('0.05')
    expect(app.session.site!.record).toHaveLength(length)
    await expect.element(page.getByRole('alert').getByText(/another tab holds it/)).toBeVisible()
    await expect.element(ohms()).toHaveValue('0.05')
  })

  it('has no breach of accessibility with a pair, a mistake and large keys', async () => {
    const app = panelState()
    await show(app)
    link(app)
    await page.getByRole('button', { name: 'Keys' }).click()
    await enter('x')
    const { violations } = await axe.run(document.body)
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' ')}`)).toEqual([])
  })
})
