import { afterEach, describe, expect, it } from 'vitest'
import { page, userEvent } from 'vitest/browser'
import { firstPerson } from '../../../src/state/faultSetup.ts'
import { teachingLine } from '../../../src/text/faultScreenText.ts'
import { breaches, themes, tooSmallForTouch, wear } from '../../ui/accessibility.ts'
import { button, region, showFault, siteWith } from './faultHarness.ts'

afterEach(async () => {
  wear('system')
  await page.viewport(1280, 800)
})

const frame = 'R3/T1/F2.5'
const jumper = 'R3/T1+T2~1'
const earthed = () =>
  siteWith((drawing) => ({
    sources: drawing.sources.map((source) =>
      source.form === 'pvString' ? { ...source, referencing: 'earthedNegative' as const } : source,
    ),
  }))

describe('the workspace', () => {
  it('always says that it is a teaching model, and never that anything is free of danger', async () => {
    await showFault(earthed(), (app) =>
      app.faultDesk.set({ at: frame, person: { ...firstPerson, hand: frame } }),
    )
    await expect.element(page.getByText(teachingLine)).toBeVisible()
    expect(document.querySelector('main')!.textContent).not.toMatch(/\b(un)?safe(ly|ty)?\b/i)
  })

  it('says first what to do: a part is chosen by its name, and the answer is said aloud', async () => {
    const { app, settle } = await showFault()
    await expect
      .element(page.getByRole('heading', { name: 'Tap a part on the map: the fault is there.' }))
      .toBeVisible()
    const field = page.getByRole('combobox', { name: 'The fault is at' })
    await userEvent.fill(field, frame)
    await userEvent.keyboard('{Enter}')
    expect(app.faultDesk.setup.at).toBe(frame)
    await settle()
    const live = document.querySelector('section[aria-label="Where the current goes"] [aria-live]')!
    await expect
      .poll(() => live.textContent)
      .toMatch(/flows from frame 2\.5.* to .*\. Frame 2\.5.* stands at .* to remote earth\./)
    // what is read is what is heard, stops included
    const lead = document.querySelector('section[aria-label="Where the current goes"] .isLead > p')!
    const read = lead.cloneNode(true) as HTMLElement
    for (const spoken of read.querySelectorAll('.spoken-only')) spoken.remove()
    expect(read.textContent.replace(/\s+/g, ' ').trim()).toBe(live.textContent.replace(/\s+/g, ' ').trim())
  })

  it('says what is wrong with a part that is not there', async () => {
    await showFault()
    await userEvent.fill(page.getByRole('combobox', { name: 'The fault is at' }), 'R99/T1/F1.1')
    await userEvent.keyboard('{Enter}')
    await expect.element(page.getByText(/R99/).first()).toBeVisible()
    await expect.element(region('Where the current goes')).not.toBeInTheDocument()
  })

  it('offers sources to begin with where a site has none, as one step that can be undone', async () => {
    const { app } = await showFault(siteWith(() => ({ sources: [], devices: [] })))
    await button('A string of modules').first().click()
    expect(app.session.site!.drawing.sources).toHaveLength(1)
    expect(app.session.site!.drawing.devices).toHaveLength(1)
    expect(app.faultDesk.source?.form).toBe('pvString')
    app.session.undo()
    expect(app.session.site!.drawing.sources).toEqual([])
    expect(app.session.site!.drawing.devices).toEqual([])
  })

  it('changes and removes a source as steps that can be undone', async () => {
    const { app } = await showFault()
    const before = app.session.site!.drawing.sources
    await button('Sources and devices').click()
    const amps = page.getByRole('textbox', { name: 'Short-circuit current' })
    await userEvent.fill(amps, '9')
    await userEvent.keyboard('{Enter}')
    expect(app.faultDesk.source).toMatchObject({ shortCircuitA: 9 })
    app.session.undo()
    expect(app.session.site!.drawing.sources).toEqual(before)
    for (let left = before.length - 1; left >= 0; left--) {
      await button(/^Remove source/).click()
      expect(app.session.site!.drawing.sources).toHaveLength(left)
    }
    await expect
      .element(page.getByText('This site has no source yet: nothing can drive a current.'))
      .toBeVisible()
  })

  it('marks an answer that is older than the question', async () => {
    const { app, settle } = await showFault(earthed(), (state) => state.faultDesk.set({ at: frame }))
    app.faultDesk.set({ light: 0.5 })
    await expect.element(region('Where the current goes').getByText(/^Being updated/)).toBeVisible()
    await settle()
    await expect.element(region('Where the current goes').getByText(/^Being updated/)).not.toBeInTheDocument()
  })
})

describe('one who touches', () => {
  it('is told where the ground is chosen that a roof is no soil, while the feet are on it', async () => {
    const { app } = await showFault(earthed(), (state) =>
      state.faultDesk.set({ at: frame, person: { ...firstPerson, hand: frame } }),
    )
    const ground = region('One who touches').getByRole('combobox', { name: 'Ground under the feet' })
    await expect.element(ground).toHaveAccessibleDescription(/A roof or a floor is no soil/)
    app.faultDesk.set({ person: { ...firstPerson, hand: frame, other: 'B1' } })
    await expect.element(ground).not.toBeInTheDocument()
  })
})

describe('what is picked', () => {
  it('tells the volts of a part, and takes a hand, a second fault and the fault itself', async () => {
    const { app, settle } = await showFault(earthed(), (state) => state.faultDesk.set({ at: frame }))
    app.selection.pick({ kind: 'part', address: 'R3/T1/F1.1' })
    const card = region('What is picked')
    await expect.element(card.getByText(/^Stands at/)).toBeVisible()
    await card.getByRole('button', { name: 'A hand here' }).click()
    expect(app.faultDesk.setup.person).toMatchObject({ hand: 'R3/T1/F1.1', other: null })
    await settle()
    await expect
      .element(region('One who touches').getByText(/before anybody touches, from the left hand/))
      .toBeVisible()
    await card.getByRole('button', { name: 'Second fault here' }).click()
    expect(app.faultDesk.setup.second?.part).toBe('R3/T1/F1.1')
    await card.getByRole('button', { name: 'Fault here', exact: true }).click()
    expect(app.faultDesk.setup.at).toBe('R3/T1/F1.1')
  })

  it('opens a joint in this question only, and tells both sides in two columns', async () => {
    const { app, settle } = await showFault(earthed(), (state) => state.faultDesk.set({ at: 'R3/T6/F2.5' }))
    const { revision } = app.session.site!.drawing
    app.selection.pick({ kind: 'joint', address: jumper })
    await button('Open it').click()
    await settle()
    const card = region('Open a joint and watch')
    await expect.element(card.getByRole('columnheader', { name: 'As drawn' })).toBeVisible()
    const { drawn, changed } = app.faultDesk
    expect(changed!.faultV).toBeGreaterThan(drawn!.faultV)
    const cells = [...card.element().querySelectorAll('tbody tr')].map((row) =>
      [...row.querySelectorAll('.value')].map((value) => value.textContent),
    )
    expect(cells[1][0]).not.toBe(cells[1][1])
    expect(app.faultDesk.shown).toBe(changed)
    await card.getByRole('switch', { name: 'Show the change on the map' }).click()
    expect(app.faultDesk.shown).toBe(drawn)
    expect(app.session.site!.drawing.revision).toBe(revision)
    await card.getByRole('button', { name: 'Put everything back' }).click()
    expect(app.faultDesk.setup.altered).toEqual([])
  })
})

describe('who notices', () => {
  it('says loudly, in a block of its own, that a device never acts and that nothing ends the fault', async () => {
    const fuse = {
      id: 'fuse',
      name: 'String fuse',
      form: 'fuse',
      characteristic: 'gPV',
      ratedA: 20,
      protects: null,
      note: '',
    } as const
    await showFault(
      siteWith((drawing) => ({ ...earthed().drawing, rows: drawing.rows, devices: [fuse] })),
      (app) => {
        app.faultDesk.set({ at: frame, moduleFromNegative: 1 })
      },
    )
    const alerts = [...document.querySelectorAll('[role=alert]')].map((alert) => alert.textContent)
    expect(alerts.some((text) => text.includes('NOTHING ENDS THIS FAULT'))).toBe(true)
    expect(alerts.some((text) => text.includes('String fuse: NEVER ACTS'))).toBe(true)
  })
})

describe('the worst loss', () => {
  it('is found, shown on the map by hand, and grows old with the question', async () => {
    const { app, shown, settle } = await showFault(earthed(), (state) =>
      state.faultDesk.set({ at: 'R3/T6/F2.5' }),
    )
    app.faultDesk.losses.watch(frame, 'B1')
    await button('Lose every joint in turn').click()
    await expect.poll(() => app.faultDesk.mapShows).toBe('losses')
    const worst = app.faultDesk.losses.answer!.worst
    expect(worst.length).toBeGreaterThan(0)
    const card = region('Which loss would be worst')
    await card
      .getByRole('button', { name: /^Show on map/ })
      .first()
      .click()
    expect(shown).toEqual([{ kind: 'joint', address: worst[0].joint }])
    expect(app.selection.picked).toEqual({ kind: 'joint', address: worst[0].joint })
    await card.getByRole('button', { name: /^Stop watching/ }).click()
    expect(app.faultDesk.losses.watched).toEqual([])
    app.faultDesk.set({ light: 0.4 })
    await settle()
    await expect.element(card.getByText('From before the last change: do it again.')).toBeVisible()
  })
})

describe.each(themes)('in theme %s', (theme) => {
  it('breaches no rule of accessibility, and everything can be touched', async () => {
    await showFault(earthed(), (app) => {
      app.faultDesk.set({
        at: frame,
        person: { ...firstPerson, hand: frame },
        altered: [{ joint: jumper, ohm: null }],
      })
      app.selection.pick({ kind: 'part', address: 'R3/T1/F1.1' })
    })
    wear(theme)
    expect(await breaches()).toEqual([])
    expect(tooSmallForTouch(document.querySelector('main')!)).toEqual([])
  })
})
