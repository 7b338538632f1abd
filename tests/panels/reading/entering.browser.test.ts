import axe from 'axe-core'
import { describe, expect, it } from 'vitest'
import { page, userEvent } from 'vitest/browser'
import { render } from 'vitest-browser-svelte'
import '../../../src/app/app.css'
import { defaultKits } from '../../../src/model/kits.ts'
import type { Entry, EntryOf } from '../../../src/model/schema/record.ts'
import type { Site } from '../../../src/model/schema/site.ts'
import InspectorPanel from '../../../src/panels/InspectorPanel.svelte'
import { PairDraft } from '../../../src/panels/pairDraft.svelte.ts'
import PairEntry from '../../../src/panels/PairEntry.svelte'
import type { AppState } from '../../../src/state/appState.ts'
import { criterionFacts } from '../../../src/text/criteriaText.ts'
import PanelHarness from '../PanelHarness.svelte'
import { fieldSite, panelState } from '../panelState.ts'

const rail = 'R4/T4/L1.6'
const frame = 'R4/T7/F1.6'
const electrodeKit = { ...defaultKits[0], id: 'stakes', name: 'Stakes', method: 'earthElectrode' as const }

/** The field demo with further instruments in its visit, and volts checked where pairs begin. */
function site(change: (drawing: Site['drawing']) => Site['drawing'] = (drawing) => drawing): Site {
  const field = fieldSite()
  const visit = field.record.find(({ entry }) => entry === 'visit') as EntryOf<'visit'>
  const volts = [rail, 'B1'].map((from, k): Entry => ({
    id: `22222222-2222-4222-8222-22222222222${k}`,
    device: '22222222-2222-4222-8222-222222222222',
    counter: k,
    at: '2026-05-12T08:59:00Z',
    visit: visit.id,
    entry: 'volts',
    from,
    to: 'E1',
    directV: 0,
    alternatingV: 0,
    toEarth: { directV: 0, alternatingV: 0 },
  }))
  const record = field.record.map((entry) =>
    entry === visit ? { ...visit, kits: [...visit.kits, defaultKits[3], electrodeKit] } : entry,
  )
  return { ...field, drawing: change(field.drawing), record: [...record, ...volts] }
}

async function show(app: AppState, draft = new PairDraft()) {
  await render(PanelHarness, { app, draft, panels: [{ panel: PairEntry, props: { draft } }] })
  return draft
}
const ohms = () => page.getByRole('textbox', { name: 'Resistance', exact: true })
async function enter(text: string) {
  await ohms().fill(text)
  await userEvent.keyboard('{Enter}')
}
const button = (name: string | RegExp) => page.getByRole('button', { name })
const lastReading = (app: AppState) =>
  app.session.site!.record.findLast((entry) => entry.entry === 'reading') as EntryOf<'reading'>

async function linked(app: AppState) {
  app.selection.beginPair(rail)
  app.selection.endPair(frame)
  await expect.element(page.getByText(/A sound array reads/)).toBeVisible()
}

describe('a high reading', () => {
  it('is doubted at once and led through the checks, each a reading that says what was tried, to its end', async () => {
    const app = panelState(site())
    const draft = await show(app)
    await linked(app)
    await enter('2.2')
    await expect.element(page.getByText(/^To investigate\./)).toBeVisible()
    const first = lastReading(app)
    expect(first).toMatchObject({ repeats: null, trying: null })
    const ladder = page.getByRole('region', { name: 'Check before a joint is blamed' })
    for (const [name, trying, typed] of [
      ['Clipped anew: read again', 'clip', '2.1'],
      ['Nulled now: read again', 'lead', '2.15'],
      ['Swapped: read again', 'polarity', '2.2'],
      ['Seated again: read again', 'seat', '2.3'],
    ] as const) {
      await ladder.getByRole('button', { name }).click()
      expect([app.selection.pairFrom, app.selection.pairTo]).toEqual([rail, frame])
      await expect.element(page.getByText(/A sound array reads/)).toBeVisible()
      await enter(typed)
      expect(lastReading(app)).toMatchObject({ repeats: first.id, trying })
      await expect.element(ladder.getByRole('button', { name })).not.toBeInTheDocument()
    }
    expect(app.session.site!.record.filter(({ entry }) => entry === 'nulling').length).toBeGreaterThan(
      site().record.filter(({ entry }) => entry === 'nulling').length,
    )
    await expect.element(ladder.getByText(/The reading stands: 5 tries, 2\.1 Ω to 2\.3 Ω/)).toBeVisible()
    await ladder.getByRole('button', { name: 'To Locate' }).click()
    expect(app.preferences.workspace).toBe('locate')
    expect(draft.extras.checking).toBeNull()
  })

  it('over range is shorted at the far end first, and can be put off', async () => {
    const app = panelState(site())
    await show(app)
    await linked(app)
    await enter('over')
    await expect.element(page.getByText(/^Unlikely, check first\./)).toBeVisible()
    const ladder = page.getByRole('region', { name: 'Check before a joint is blamed' })
    await expect.element(ladder.getByRole('listitem').first()).toHaveTextContent(/Short the leads/)
    await ladder.getByRole('textbox', { name: /far ends shorted/ }).fill('0.4')
    await userEvent.keyboard('{Enter}')
    await ladder.getByRole('button', { name: 'Enter what they read' }).click()
    expect(app.session.site!.record.at(-1)).toMatchObject({
      entry: 'leadCheck',
      lead: 'lead50',
      result: { form: 'ohm', ohm: 0.4 },
    })
    await expect.element(ladder.getByText(/The shorted leads read .*the lead is whole/)).toBeVisible()
    const { violations } = await axe.run(document.body)
    expect(violations.map(({ id }) => id)).toEqual([])
    await ladder.getByRole('button', { name: 'Later' }).click()
    await expect.element(ladder).not.toBeInTheDocument()
  })

  it('in line it says so and asks nothing', async () => {
    const app = panelState(site())
    await show(app)
    await linked(app)
    await enter('0.05')
    await expect.element(page.getByText(/^(In line with|Below what the instrument resolves)/)).toBeVisible()
    await expect.element(page.getByRole('region', { name: /Check before/ })).not.toBeInTheDocument()
  })
})

describe('a number in the wrong unit', () => {
  it('is asked about once, changed by one tap, and a number in the right one is not', async () => {
    const app = panelState(site())
    const draft = await show(app)
    await linked(app)
    const { length } = app.session.site!.record
    await enter('30')
    const asked = page.getByRole('alert').filter({ hasText: '30 Ω or 30 mΩ?' })
    await expect.element(asked).toBeVisible()
    expect(app.session.site!.record).toHaveLength(length)
    await asked.getByRole('button', { name: '30 mΩ' }).click()
    expect(lastReading(app).result).toEqual({ form: 'ohm', ohm: 0.03 })
    // the unit that was chosen stays, and in it the number is right
    await linked(app)
    await enter('31')
    expect(lastReading(app).result).toEqual({ form: 'ohm', ohm: 0.031 })
    // entered once more a number stands as it is
    await linked(app)
    draft.chooseUnit('Ω')
    await enter('32')
    await expect.element(page.getByText(/32 Ω or 32 mΩ\?/)).toBeVisible()
    await userEvent.keyboard('{Enter}')
    expect(lastReading(app).result).toEqual({ form: 'ohm', ohm: 32 })
  })
})

describe('the criterion of a verdict', () => {
  it('is one tap away from the answer and from the reading in the list, with its source, and can be changed', async () => {
    const app = panelState(site())
    const draft = new PairDraft()
    const panels = [
      { panel: PairEntry, props: { draft } },
      { panel: InspectorPanel, props: {} },
    ]
    await render(PanelHarness, { app, draft, panels })
    app.selection.beginPair('B1')
    app.selection.endPair(frame)
    await expect.element(page.getByText(/A sound array reads/)).toBeVisible()
    await enter('2')
    const criterion = () => {
      const { drawing } = app.session.site!
      const judged = app.results.judge!.readings.find(({ entry }) => entry === lastReading(app).id)!
      return drawing.criteria.find(({ id }) => id === judged.criterion)!
    }
    await button(/^Criterion …/).click()
    const dialog = page.getByRole('dialog', { name: criterion().name })
    for (const { name, value } of criterionFacts(criterion())) {
      await expect.element(dialog.getByText(name, { exact: true })).toBeVisible()
      await expect.element(dialog).toHaveTextContent(value)
    }
    expect(criterionFacts(criterion()).map(({ name }) => name)).toEqual(
      expect.arrayContaining(['Levels', 'Quantity', 'Test current asked', 'Source', 'Edition']),
    )
    await dialog.getByRole('button', { name: 'Back to the reading' }).click()
    app.selection.pick({ kind: 'reading', entry: lastReading(app).id })
    await button(/^Criterion …/).click()
    await dialog.getByRole('button', { name: 'Change it …' }).click()
    await dialog.getByLabelText('Investigate above').fill('5')
    await userEvent.keyboard('{Tab}')
    await expect.poll(() => criterion().investigateAboveOhm).toBe(5)
  })
})

describe('what else is noted', () => {
  it('stands in the record, in one line when folded, and lasts over a draft that is kept', async () => {
    const app = panelState(site())
    const draft = await show(app)
    await linked(app)
    await button('More about this reading').click()
    const type = async (name: string, text: string) => {
      await page.getByLabelText(name, { exact: true }).fill(text)
      await userEvent.keyboard('{Tab}')
    }
    await type('Read the other way round', '52m')
    await type('Least, while it would not hold still', '0.04')
    await enter('0.05')
    await expect.element(page.getByText('Give both the least and the most, or neither.')).toBeVisible()
    await type('Most, while it would not hold still', '0.06')
    await type('Angle of the tracker', '-30')
    await type('Note', 'wet')
    await button('More about this reading').click()
    await expect
      .element(page.getByText('other way 52 mΩ, between 40 mΩ and 60 mΩ, tracker -30°, note: wet'))
      .toBeVisible()
    const kept = new PairDraft()
    kept.restore(JSON.parse(JSON.stringify(draft.snapshot())))
    expect(kept.extras).toEqual(draft.extras)
    await enter('0.05')
    expect(lastReading(app)).toMatchObject({
      reverseOhm: 0.052,
      unsteady: { leastOhm: 0.04, mostOhm: 0.06 },
      trackerDeg: -30,
      note: 'wet',
    })
    expect(draft.extras).toMatchObject({ reverseOhm: null, note: '', trackerDeg: -30 })
  })
})

describe('instruments that read no pair', () => {
  async function use(kit: string, draft: PairDraft) {
    draft.kit = kit
    await Promise.resolve()
  }

  it('a loop clamp is closed around a joint, and is told what a sound loop reads', async () => {
    const app = panelState(site())
    const draft = await show(app)
    await use('loop-clamp', draft)
    await ohms().fill('1')
    await userEvent.keyboard('{Enter}')
    await expect.element(page.getByRole('alert').getByText(/Say which joint/)).toBeVisible()
    const joint = app.results.locate?.groups[0]?.joints[0]?.joint ?? 'R4/T4~T5'
    app.selection.pick({ kind: 'joint', address: joint })
    await button('Around the joint that is picked').click()
    await expect.element(page.getByText(/A sound loop reads about|no loop leads through/)).toBeVisible()
    await enter('1')
    const reading = lastReading(app)
    expect(reading).toMatchObject({ method: 'loopClamp', around: joint, kit: 'loop-clamp', lead: null })
    expect(reading.from.part).toBe(reading.to.part)
  })

  it('an electrode is read to remote earth, with its spikes, and judged by criteria for electrodes alone', async () => {
    const app = panelState(
      site((drawing) => ({
        ...drawing,
        criteria: [
          ...drawing.criteria,
          {
            ...drawing.criteria[0],
            id: 'rod',
            quantity: 'electrodeToEarth',
            investigateAboveOhm: 10,
            rejectAboveOhm: null,
          },
        ],
      })),
    )
    const draft = await show(app)
    await use('stakes', draft)
    app.selection.beginPair('E1')
    await page.getByLabelText('Current spike, from the electrode').fill('40')
    await userEvent.keyboard('{Tab}')
    await expect.element(page.getByText(/61\.8 % of 40 m is 24\.7 m/)).toBeVisible()
    await page.getByLabelText('Potential spike, from the electrode').fill('24.7')
    await userEvent.keyboard('{Tab}')
    await button('All four read 0.0 V').click()
    expect(app.session.site!.record.at(-1)).toMatchObject({ entry: 'volts', from: 'E1', to: 'earth' })
    await enter('12')
    expect(lastReading(app)).toMatchObject({
      method: 'earthElectrode',
      from: { part: 'E1' },
      to: { part: 'earth' },
      spikesM: { current: 40, potential: 24.7 },
    })
    await expect.element(page.getByText(/more than the 10 Ω of the criterion for electrodes/)).toBeVisible()
    await button(/^Criterion …/).click()
    await expect.element(page.getByRole('dialog').getByText('electrode to earth')).toBeVisible()
  })
})

describe('volts before the ohms of other instruments', () => {
  const volts = () => page.getByRole('group', { name: 'Volts before ohms' })

  it('are asked from an electrode to both spikes; too many lock it and warn, until they read low', async () => {
    const app = panelState(site())
    const draft = await show(app)
    draft.kit = electrodeKit.id
    app.selection.beginPair('E1')
    await expect.element(volts().getByText(/From .* to the potential spike/)).toBeVisible()
    await expect.element(volts().getByText(/From .* to the current spike/)).toBeVisible()
    await expect.element(ohms()).not.toBeInTheDocument()
    for (const each of volts().getByRole('button', { name: 'Both 0.0 V' }).all()) await each.click()
    await volts().getByRole('textbox', { name: 'AC, V' }).nth(1).fill('42')
    await button('Enter the volts').click()
    const alarm = page.getByRole('alert').filter({ hasText: 'Stop: volts are present' })
    await expect.element(alarm).toHaveTextContent(/42 V AC from .* to the current spike.*more than 10 V/)
    await expect.element(ohms()).not.toBeInTheDocument()
    expect(button('Enter the reading').elements()).toHaveLength(0)
    // the same part, read as one end of a pair: what was found there holds
    draft.kit = null
    app.selection.beginPair('E1')
    app.selection.endPair(frame)
    await expect.element(alarm).toBeVisible()
    draft.kit = electrodeKit.id
    await expect.element(volts().getByRole('group', { name: /potential spike/ })).toBeVisible()
    for (const each of volts().getByRole('button', { name: 'Both 0.0 V' }).all()) await each.click()
    await button('Enter the volts').click()
    await expect.element(ohms()).toBeVisible()
    expect(app.session.site!.record.slice(-2)).toMatchObject([
      { entry: 'volts', from: 'E1', to: 'earth', toEarth: { alternatingV: 42 } },
      { entry: 'volts', from: 'E1', to: 'earth', toEarth: { alternatingV: 0 } },
    ])
  })

  it('are not asked of a loop clamp, which says why, and cautions of current in the conductor', async () => {
    const app = panelState(site())
    const draft = await show(app)
    draft.kit = 'loop-clamp'
    await expect.element(page.getByText(/Current in the conductor first/)).toBeVisible()
    await expect.element(page.getByText(/couples through its core .*\(common practice\)/)).toBeVisible()
    app.selection.beginPair('R4/T8/F1.6')
    await expect.element(ohms()).toBeVisible()
    await expect.element(volts()).not.toBeInTheDocument()
  })
})

describe('a walk', () => {
  const plan = (drawing: Site['drawing']): Site['drawing'] => ({
    ...drawing,
    plans: [
      {
        ...drawing.plans[0],
        nextPair: 104,
        pairs: [
          {
            ...drawing.plans[0].pairs[1],
            id: 101,
            from: 'B1',
            to: 'R1/T1/L4.1',
            step: '2.1',
            point: 'witness',
          },
          { ...drawing.plans[0].pairs[1], id: 102, from: 'B1', to: 'R1/T1/L1.1', point: 'hold' },
          { ...drawing.plans[0].pairs[1], id: 103, from: 'B1', to: 'R2/T1/L1.1' },
        ],
      },
    ],
  })

  it('goes pair by pair, names plan and pair in the record, and is held where a signature is due', async () => {
    const app = panelState(site(plan))
    await show(app)
    await button('Walk it').click()
    const walk = page.getByRole('region', { name: 'Walk a plan' })
    await expect.element(walk.getByText(/^Pair 1 of 3: .*step 2\.1, .*witness point/)).toBeVisible()
    expect([app.selection.pairFrom, app.selection.pairTo]).toEqual(['B1', 'R1/T1/L4.1'])
    await walk.getByRole('button', { name: 'Pass over' }).click()
    await expect.element(walk.getByText(/^Pair 2 of 3/)).toBeVisible()
    await walk.getByRole('button', { name: 'Back' }).click()
    await expect.element(page.getByText(/A sound array reads/)).toBeVisible()
    await enter('0.03')
    const { plan: id } = lastReading(app)
    expect([id, lastReading(app).planPair]).toEqual([app.session.site!.drawing.plans[0].id, 101])
    await expect.element(walk.getByText('1 read, 0 passed over, 2 left.')).toBeVisible()
    expect(app.selection.pairTo).toBe('R1/T1/L1.1')
    await expect.element(page.getByText(/A sound array reads/)).toBeVisible()
    await enter('0.03')
    await expect
      .element(
        walk.getByRole('note').getByText(/is a hold point and has been read.*signed for it under Signatures/),
      )
      .toBeVisible()
    expect(app.selection.pairTo).toBeNull()
    await expect
      .element(walk.getByRole('button', { name: 'Next pair' }))
      .toHaveAttribute('aria-disabled', 'true')
  })

  it('reads no later pair of its plan before a hold point is signed, however the pair is begun', async () => {
    const app = panelState(site(plan))
    await show(app)
    const held = page.getByRole('note').filter({ hasText: 'Held until it is signed' })
    app.selection.beginPair('R2/T1/L1.1')
    app.selection.endPair('B1')
    await expect
      .element(held.getByText(/Pair 2 of the plan .* is a hold point and has not been read/))
      .toBeVisible()
    await expect.element(ohms()).not.toBeInTheDocument()
    await expect.element(page.getByRole('group', { name: 'Volts before ohms' })).not.toBeInTheDocument()
    // the point itself, what stands before it, and what is not of the plan
    for (const to of ['R1/T1/L1.1', 'R1/T1/L4.1', frame]) {
      app.selection.beginPair('B1')
      app.selection.endPair(to)
      await expect.element(ohms()).toBeVisible()
      await expect.element(held).not.toBeInTheDocument()
    }
    app.selection.endPair('R2/T1/L1.1')
    await held.getByRole('button', { name: 'Sign for the hold point …' }).click()
    const dialog = page.getByRole('dialog')
    await expect.element(dialog.getByText(/^Hold point 102 of the plan/)).toBeVisible()
    await dialog.getByRole('button', { name: 'witness' }).click()
    await dialog.getByLabelText('Name').fill('A. Rowan')
    await dialog.getByRole('switch').click()
    await dialog.getByRole('button', { name: 'Sign', exact: true }).click()
    await expect.element(held).not.toBeInTheDocument()
    await expect.element(ohms()).toBeVisible()
    expect(app.session.site!.record.at(-1)).toMatchObject({
      entry: 'signature',
      planPair: 102,
      role: 'witness',
    })
    await enter('0.03')
    expect(lastReading(app).to.part).toBe('R2/T1/L1.1')
  })

  it('begins anew with a plan of which nothing is left', async () => {
    const app = panelState(site())
    const draft = await show(app)
    const { length } = app.session.site!.drawing.plans[0].pairs
    await button('Walk it').click()
    await expect.element(page.getByText(`0 read, 0 passed over, ${length} left.`)).toBeVisible()
    expect(draft.extras.planPair).toBe(1)
    await button('End the walk').click()
    await expect.element(button('Walk it')).toBeVisible()
  })
})
