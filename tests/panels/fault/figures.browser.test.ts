import { afterEach, describe, expect, it } from 'vitest'
import { page } from 'vitest/browser'
import { firstPerson } from '../../../src/state/faultSetup.ts'
import type { AppState } from '../../../src/state/appState.ts'
import { voltSteps } from '../../../src/canvas/voltSteps.ts'
import { reasonOfStep } from '../../../src/text/faultLegend.ts'
import { describeRuleSource } from '../../../src/text/faultRuleText.ts'
import { faultAmpere, faultVolt } from '../../../src/text/faultUnits.ts'
import { showFault, siteWith, strayNumbers } from './faultHarness.ts'

afterEach(() => page.viewport(1280, 800))

const frame = 'R3/T1/F2.5'

/** Every card has something to tell: a person, a joint opened, losses found, a pair watched, something picked, ground asked about. */
function everything(app: AppState) {
  app.faultDesk.set({
    at: frame,
    person: { ...firstPerson, hand: frame },
    altered: [{ joint: 'R3/T1+T2~1', ohm: null }],
  })
  app.faultDesk.losses.watch(frame, 'B1')
  app.selection.pick({ kind: 'part', address: frame })
  app.faultDesk.ground.stand({ besidePart: frame })
}

const acSource = {
  id: 'phase',
  form: 'ac',
  name: 'Phase of the house',
  phaseV: 230,
  frequencyHz: 50,
  sourceOhm: 0.3,
  returnPart: null,
} as const
const acDevice = {
  id: 'fuse',
  name: 'Fuse',
  form: 'fuse',
  characteristic: 'gG',
  ratedA: 32,
  protects: 'phase',
  note: '',
} as const

const cases = {
  'a floating string': () => siteWith(() => ({})),
  'an earthed string with devices': () =>
    siteWith((drawing) => ({
      sources: drawing.sources.map((source) =>
        source.form === 'pvString' ? { ...source, referencing: 'earthedNegative' as const } : source,
      ),
      devices: [
        { ...acDevice, characteristic: 'gPV', ratedA: 20, protects: null },
        {
          ...acDevice,
          id: 'earthFuse',
          name: 'Earth fuse',
          form: 'groundFaultFuse' as const,
          ratedA: 1,
          protects: null,
        },
      ],
    })),
  'an AC phase': () => siteWith(() => ({ sources: [acSource], devices: [acDevice] })),
}

describe.each(Object.entries(cases))('every figure of %s', (_, site) => {
  it('opens what it was computed from, with its inputs and whose rule, and stands nowhere else', async () => {
    const { app, settle } = await showFault(site(), everything)
    await app.faultDesk.losses.find()
    await settle()
    expect(app.faultDesk.problems).toEqual([])
    expect(app.faultDesk.changed).not.toBeNull()
    expect(app.faultDesk.ground.isToldCurrent).toBe(app.faultDesk.ground.hasVolts)
    const main = document.querySelector('main')!
    for (const folded of main.querySelectorAll<HTMLElement>('button[aria-controls][aria-expanded="false"]'))
      if (!folded.hasAttribute('data-figure')) folded.click()
    await expect.poll(() => main.querySelectorAll('[data-figure]').length).toBeGreaterThan(35)
    await openEach(main)
    expect(strayNumbers(main)).toEqual([])
    // the map shows the losses: its legend has their volts
    app.faultDesk.mapShows = 'losses'
    await expect
      .poll(() => main.querySelectorAll('[data-figure="Volts across a lost joint, step of the map"]').length)
      .toBe(voltSteps.length + 1)
    await openEach(main)
    expect(strayNumbers(main)).toEqual([])
  })
})

/** Every figure on the page is a button that opens what it was computed from. */
async function openEach(main: HTMLElement) {
  const figures = [...main.querySelectorAll<HTMLElement>('[data-figure]')]
  for (const figure of figures) {
    const told = `${figure.dataset.figure}: ${figure.textContent}`
    expect(figure.tagName, told).toBe('BUTTON')
    figure.click()
    await expect.poll(() => figure.getAttribute('aria-expanded'), { message: told }).toBe('true')
    const basis = document.getElementById(figure.getAttribute('aria-controls')!)!
    expect(basis.hidden, told).toBe(false)
    expect(basis.textContent, told).toContain(figure.dataset.figure!)
    const names = [...basis.querySelectorAll('dt')].map((term) => term.textContent.trim())
    const values = [...basis.querySelectorAll('dd')].map((value) => value.textContent.trim())
    expect(names.length, told).toBeGreaterThan(0)
    expect(
      [...names, ...values].every((text) => text !== '' && !/NaN|undefined|null/.test(text)),
      told,
    ).toBe(true)
    const rules = [...basis.querySelectorAll('.rule')].map((rule) => rule.textContent.trim())
    expect(rules.length, told).toBeGreaterThan(0)
    expect(
      rules.every((rule) => rule.length > 8),
      told,
    ).toBe(true)
    figure.click()
  }
}

describe('the legend of a fault', () => {
  const named = (name: string) => [...document.querySelectorAll<HTMLElement>(`[data-figure="${name}"]`)]
  const opened = () => document.querySelector<HTMLElement>('[data-basis]:not([hidden])')!.textContent
  it('opens the largest current and the share and width of each line, and why there are these steps of volts', async () => {
    const { app, settle } = await showFault(
      siteWith(() => ({ sources: [acSource], devices: [acDevice] })),
      everything,
    )
    await settle()
    const [, line] = named('Amperes of a line of this width')
    const most = Math.max(
      ...[app.faultDesk.drawn!, app.faultDesk.changed!].flatMap(({ ports }) =>
        ports.map(({ currentA }) => Math.abs(currentA)),
      ),
    )
    line.click()
    await expect.poll(opened).toContain(faultAmpere(most))
    expect(line.textContent).toContain(faultAmpere(0.1 * most))
    expect(opened()).toMatch(/Share of the largest\s*10 %/)
    expect(opened()).toMatch(/Width of its line\s*2\.9 px/)
    line.click()
    const steps = named('Volts of a part, step of the map')
    expect(steps.map((step) => Number.parseFloat(step.textContent))).toEqual([...voltSteps, voltSteps[0]])
    steps[2].click()
    await expect.poll(opened).toContain(describeRuleSource('permittedConventional'))
    const highest = app.faultDesk.shown!.partV.reduce((a, b) => Math.max(a, Math.abs(b)), 0)
    expect(opened()).toContain(faultVolt(highest))
  })

  it('has a reason for every step of the map, and for no other volts', () => {
    for (const step of voltSteps) expect(reasonOfStep(step)?.rules.length).toBeGreaterThan(0)
    expect(reasonOfStep(51)).toBeNull()
  })
})

describe('the number at the pointer', () => {
  it.each([
    { kind: 'part', address: 'B1' },
    { kind: 'joint', address: 'R3/T1+T2~1' },
  ] as const)(
    'of a $kind names the key that opens it, and its card tells the same number',
    async (picked) => {
      const { app, settle } = await showFault(
        siteWith(() => ({ sources: [acSource], devices: [acDevice] })),
        (state) => state.faultDesk.set({ at: frame }),
      )
      await settle()
      app.selection.hover(picked)
      const tip = () => document.querySelector('.tip')?.textContent ?? ''
      await expect.poll(tip).toMatch(/: [\d.]+ m?[AV] \(key I: what it was computed from\)$/)
      const [, number] = /: ([\d.]+ m?[AV]) \(/.exec(tip())!
      // as the page does at that key
      app.faultDesk.asked = { of: picked.address }
      app.selection.pick(picked)
      const card = () => document.querySelector<HTMLElement>('[aria-label="What is picked"] [data-figure]')
      await expect.poll(() => card()?.getAttribute('aria-expanded')).toBe('true')
      expect(card()!.textContent).toContain(number)
      await expect.poll(() => document.activeElement).toBe(card())
      // asked again after it was closed, it opens again
      card()!.click()
      await expect.poll(() => card()?.getAttribute('aria-expanded')).toBe('false')
      app.faultDesk.asked = { of: picked.address }
      await expect.poll(() => card()?.getAttribute('aria-expanded')).toBe('true')
      // and another that is picked by hand begins closed
      app.selection.pick({ kind: 'part', address: 'R3/T1/F2.6' })
      await expect.poll(() => card()?.getAttribute('aria-expanded')).toBe('false')
    },
  )
})

describe('a fault whose way back is cut off', () => {
  it('has figures too, where nothing flows and nothing leads', async () => {
    const site = siteWith((drawing) => ({
      sources: drawing.sources.map((source) =>
        source.form === 'pvString' ? { ...source, referencing: 'earthedNegative' as const } : source,
      ),
    }))
    const { app, settle } = await showFault(site, (state) =>
      state.faultDesk.set({ at: frame, insulationOhm: 1e12 }),
    )
    await app.faultDesk.losses.find()
    const { worst } = app.faultDesk.losses.answer!
    const stopping = worst.find(({ leftA }) => leftA < 1e-6)!
    app.faultDesk.set({ altered: [{ joint: stopping.joint, ohm: null }] })
    await settle()
    expect(app.faultDesk.changed!.networkOhm).toBe(Infinity)
    const figures = () => [...document.querySelectorAll<HTMLElement>('[data-figure]')]
    await expect.poll(() => figures().some((figure) => figure.textContent.startsWith('no path'))).toBe(true)
    expect(strayNumbers(document.querySelector('main')!)).toEqual([])
  })
})

describe('the look for figures that cannot be asked about', () => {
  it('finds them in running text, and leaves alone what one types, hears or opens', () => {
    const root = document.createElement('div')
    root.innerHTML =
      '<p>It carries 14.2 A now.</p><p>Stands at −3 mV.</p><p>Row 3 at 5 m, 2 modules.</p><p>no path</p>' +
      '<button data-figure="x">14 A</button><p class="spoken-only">14 A</p><select><option>2 V</option></select>'
    expect(strayNumbers(root)).toEqual(['It carries 14.2 A now.', 'Stands at −3 mV.', 'no path'])
  })
})

describe('a figure', () => {
  it('is opened and closed by the keyboard, and names the edition of its rule', async () => {
    const { settle } = await showFault(
      siteWith(() => ({ sources: [acSource], devices: [acDevice] })),
      (app) => app.faultDesk.set({ at: frame, person: { ...firstPerson, hand: frame } }),
    )
    await settle()
    const body = document.querySelector<HTMLElement>('[data-figure="Current through the body"]')!
    body.focus()
    const { userEvent } = await import('vitest/browser')
    await userEvent.keyboard('{Enter}')
    await expect.poll(() => body.getAttribute('aria-expanded')).toBe('true')
    const basis = document.getElementById(body.getAttribute('aria-controls')!)!
    expect(basis.textContent).toContain(describeRuleSource('zonesAlternating'))
    await userEvent.keyboard('{Escape}')
    await expect.poll(() => body.getAttribute('aria-expanded')).toBe('false')
  })
})
