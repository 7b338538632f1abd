import { afterEach, describe, expect, it } from 'vitest'
import { page } from 'vitest/browser'
import { firstPerson } from '../../../src/state/faultSetup.ts'
import type { AppState } from '../../../src/state/appState.ts'
import { describeRuleSource } from '../../../src/text/faultRuleText.ts'
import { showFault, siteWith, strayNumbers } from './faultHarness.ts'

afterEach(() => page.viewport(1280, 800))

const frame = 'R3/T1/F2.5'

/** Every card has something to tell: a person, a joint opened, losses found, a pair watched, something picked. */
function everything(app: AppState) {
  app.faultDesk.set({
    at: frame,
    person: { ...firstPerson, hand: frame },
    altered: [{ joint: 'R3/T1+T2~1', ohm: null }],
  })
  app.faultDesk.losses.watch(frame, 'B1')
  app.selection.pick({ kind: 'part', address: frame })
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
    const main = document.querySelector('main')!
    for (const folded of main.querySelectorAll<HTMLElement>('button[aria-controls][aria-expanded="false"]'))
      if (!folded.hasAttribute('data-figure')) folded.click()
    await expect.poll(() => main.querySelectorAll('[data-figure]').length).toBeGreaterThan(25)
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
    }
    expect(strayNumbers(main)).toEqual([])
  })
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
