import { describe, expect, it, vi } from 'vitest'
import { page } from 'vitest/browser'
import { render } from 'vitest-browser-svelte'
import '../../../src/app/app.css'
import type { Entry, EntryOf } from '../../../src/model/schema/record.ts'
import type { Site } from '../../../src/model/schema/site.ts'
import InspectorPanel from '../../../src/panels/InspectorPanel.svelte'
import { breaches, tooSmallForTouch } from '../../ui/accessibility.ts'
import PanelHarness from '../PanelHarness.svelte'
import { fieldSite, panelState } from '../panelState.ts'

const readingsOf = (site: Site) =>
  site.record.filter((entry): entry is EntryOf<'reading'> => entry.entry === 'reading')
const idOf = (k: number) => `33333333-3333-4333-8333-33333333333${k}`

/** The field demo whose first reading holds all that can be noted, and was read twice more, the last of them withdrawn. */
function site(full: Partial<EntryOf<'reading'>> = {}): Site {
  const field = fieldSite()
  const first = { ...readingsOf(field)[0], ...full }
  const identity = { device: '33333333-3333-4333-8333-333333333333', visit: first.visit }
  const added: Entry[] = [
    // the same two parts the other way round, by itself
    {
      ...first,
      ...identity,
      id: idOf(1),
      counter: 1,
      at: '2026-05-12T09:30:00Z',
      repeats: null,
      trying: null,
      from: first.to,
      to: first.from,
      result: { form: 'ohm', ohm: 0.111 },
    },
    // another end, but a repeat all the same
    {
      ...first,
      ...identity,
      id: idOf(2),
      counter: 2,
      at: '2026-05-12T09:31:00Z',
      repeats: first.id,
      trying: 'seat',
      to: { ...first.to, part: 'B1' },
      result: { form: 'over', atLeastOhm: 2000 },
    },
    {
      ...identity,
      entry: 'withdrawal',
      id: idOf(3),
      counter: 3,
      at: '2026-05-12T09:32:00Z',
      of: idOf(2),
      reason: 'Wrong point',
    },
  ]
  const record = field.record.map((entry) => (entry.id === first.id ? first : entry))
  return { ...field, record: [...record, ...added] }
}

async function show(shown: Site) {
  await page.viewport(360, 1600)
  const app = panelState(shown)
  await render(PanelHarness, { app, panels: [{ panel: InspectorPanel, props: { onshow: vi.fn() } }] })
  await vi.waitFor(() => expect(app.results.isCurrent).toBe(true), 20_000)
  app.selection.pick({ kind: 'reading', entry: readingsOf(shown)[0].id })
  await expect.element(page.getByText('Method', { exact: true })).toBeVisible()
  return app
}

/** Every fact on the card, by its name. */
function facts(): Record<string, string> {
  const terms = [...document.querySelectorAll('main dt')]
  return Object.fromEntries(
    terms.map((term) => [term.textContent.trim(), term.nextElementSibling!.textContent.trim()]),
  )
}

describe('a saved reading', () => {
  it('shows all that it holds', async () => {
    await show(
      site({
        reverseOhm: 0.25,
        unsteady: { leastOhm: 0.2, mostOhm: 0.3 },
        testCurrentA: 0.2,
        metalC: 41,
        trackerDeg: -30,
        spikesM: { current: 50, potential: 31 },
        trying: 'polarity',
        note: 'wind <b id="planted">strong</b>',
        photos: ['a'.repeat(64)],
      }),
    )
    expect(facts()).toMatchObject({
      Method: 'two-wire',
      'The other way round': '250 mΩ',
      'Did not hold still': '200 mΩ to 300 mΩ',
      'Test current': '0.2 A',
      Metal: '41 °C',
      Tracker: '-30°',
      'Current spike': '50 m away',
      'Potential spike': '31 m away',
      Tried: 'leads swapped',
      Note: 'wind <b id="planted">strong</b>',
    })
    expect(document.querySelector('#planted')).toBeNull()
    await expect.element(page.getByRole('list', { name: 'Photos' })).toBeVisible()
  })

  it('names instrument, serial number, lead and plan as they are known, and leaves out what was not noted', async () => {
    const shown = site()
    const reading = readingsOf(shown)[0]
    const visit = shown.record.find(({ id }) => id === reading.visit) as EntryOf<'visit'>
    const kit = visit.kits.find(({ id }) => id === reading.kit)!
    const named = { ...visit, kits: [{ ...kit, name: 'Rowan one', serial: 'A-77' }] }
    const record = shown.record.map((entry) => (entry === visit ? named : entry))
    await show({ ...shown, record })
    const lead = visit.leads.find(({ id }) => id === reading.lead)!
    expect(facts()).toMatchObject({
      Instrument: 'Rowan one, serial A-77',
      Lead: `${lead.name}, ${lead.lengthM} m of ${lead.areaMm2} mm²`,
      Plan: 'First test of the field, pair 1',
    })
    for (const name of [
      'The other way round',
      'Did not hold still',
      'Metal',
      'Tracker',
      'Current spike',
      'Tried',
    ])
      expect(facts()).not.toHaveProperty(name)
    expect(page.getByRole('list', { name: 'Photos' }).query()).toBeNull()
  })

  it('stands beside the readings of its pair and its repeats; a tap picks one', async () => {
    const app = await show(site())
    const table = page.getByRole('table', { name: 'Read more than once' })
    await expect.element(table).toBeVisible()
    const lines = [...table.element().querySelectorAll('tbody tr')].map((line) => line.textContent)
    expect(lines).toHaveLength(3)
    expect(lines[1]).toMatch(/111 mΩ.*counted/s)
    expect(lines[2]).toMatch(/over range.*seated again.*withdrawn/s)
    const buttons = table.getByRole('button')
    await expect.element(buttons.nth(0)).toHaveAttribute('aria-pressed', 'true')
    expect(await breaches()).toEqual([])
    expect(tooSmallForTouch(document.querySelector('main')!)).toEqual([])
    expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(360)
    await buttons.nth(2).click()
    expect(app.selection.picked).toEqual({ kind: 'reading', entry: idOf(2) })
    // from the repeat one sees the chain, but not the pair of its first reading the other way round
    await vi.waitFor(() => expect(table.element().querySelectorAll('tbody tr')).toHaveLength(2))
  })

  it('has no such table where it was read once', async () => {
    await show(fieldSite())
    expect(page.getByRole('table', { name: 'Read more than once' }).query()).toBeNull()
  })
})
