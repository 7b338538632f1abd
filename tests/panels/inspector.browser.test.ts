import { afterEach, describe, expect, it, vi } from 'vitest'
import { page, userEvent } from 'vitest/browser'
import { render } from 'vitest-browser-svelte'
import '../../src/app/app.css'
import type { Site } from '../../src/model/schema/site.ts'
import InspectorPanel from '../../src/panels/InspectorPanel.svelte'
import type { AppState } from '../../src/state/appState.ts'
import type { Picked } from '../../src/state/picked.ts'
import { breaches, themes, tooSmallForTouch, wear } from '../ui/accessibility.ts'
import PanelHarness from './PanelHarness.svelte'
import { fieldSite, panelState } from './panelState.ts'

const onshow = vi.fn<(picked: Picked) => void>()

async function show(site: Site = fieldSite()): Promise<AppState> {
  onshow.mockClear()
  await page.viewport(400, 1400)
  const app = panelState(site)
  await render(PanelHarness, { app, panels: [{ panel: InspectorPanel, props: { onshow } }] })
  await vi.waitFor(() => expect(app.results.isCurrent).toBe(true), 20_000)
  return app
}

const button = (name: string | RegExp) => page.getByRole('button', { name, exact: true })
const shown = () => document.querySelector('main section')?.textContent ?? ''

afterEach(async () => {
  wear('system')
  await page.viewport(1280, 800)
})

describe('InspectorPanel', () => {
  it('is not there while nothing is picked, and goes by its close button', async () => {
    const app = await show()
    expect(document.querySelector('main section')).toBeNull()
    app.selection.pick({ kind: 'part', address: 'R2/T1/F1.1' })
    await button('Show on map').click()
    expect(onshow).toHaveBeenCalledExactlyOnceWith({ kind: 'part', address: 'R2/T1/F1.1' })
    await button('Close').click()
    expect(app.selection.picked).toBeNull()
    expect(document.querySelector('main section')).toBeNull()
  })

  it('tells of a part: metal, joints, what a sound array reads to the earth bar', async () => {
    const app = await show()
    app.selection.pick({ kind: 'part', address: 'R2/T1/F1.1' })
    await expect.element(page.getByText(/Expected to the earth bar/)).toBeVisible()
    const answer = (await app.results.ask('inspectPart', {
      countIncidental: true,
      asBuilt: true,
      part: 'R2/T1/F1.1',
    }))!
    expect(answer.toEarthBar).not.toBeNull()
    expect(shown()).toContain('Metal section')
    await page
      .getByRole('button', { name: /when sound/ })
      .first()
      .click()
    expect(app.selection.picked).toEqual({ kind: 'joint', address: answer.joints[0].joint })
  })

  it('links a pair by keyboard alone', async () => {
    const app = await show()
    app.selection.pick({ kind: 'part', address: 'R2/T1/F1.1' })
    await expect.element(button('Link to here')).toHaveAttribute('aria-disabled', 'true')
    button('Link from here').element().focus()
    await userEvent.keyboard('{Enter}')
    expect(app.selection.pairFrom).toBe('R2/T1/F1.1')
    app.selection.pick({ kind: 'part', address: 'R2/T2/F1.1' })
    await expect.element(button('Link to here')).toHaveAttribute('aria-disabled', 'false')
    button('Link to here').element().focus()
    await userEvent.keyboard('{Enter}')
    expect([app.selection.pairFrom, app.selection.pairTo]).toEqual(['R2/T1/F1.1', 'R2/T2/F1.1'])
    expect(app.preferences.workspace).toBe('measure')
  })

  it('tells of a joint: median, spread, what it is made of, sound and open, loop clamp, its rank', async () => {
    const app = await show()
    const { joint } = app.results.locate!.groups[0].joints[0]
    app.selection.pick({ kind: 'suspect', joint })
    await expect.element(page.getByText('Median when sound')).toBeVisible()
    for (const name of ['Spread', 'Read across its own ends', 'A loop clamp round it', 'Contact'])
      expect(shown()).toContain(name)
    expect(shown()).toContain(joint)
    expect(shown()).toMatch(/Suspect 1 of \d+/)
  })

  it('tells of a reading: read, expected and its pieces, verdict; shows and hides its current', async () => {
    const app = await show()
    const reading = app.results.locate!.readings.find(({ verdict }) => verdict === 'highBySuspect')!
    app.selection.pick({ kind: 'reading', entry: reading.entry })
    await expect.element(page.getByText('From the network')).toBeVisible()
    for (const name of [
      'Read',
      'The meter should show',
      'From the clips',
      'Left in the lead',
      'give or take',
    ])
      expect(shown()).toContain(name)
    await button('Show its current').click()
    await vi.waitFor(() => expect(app.results.currentMap?.from).toBe(reading.from))
    await expect.element(button('Show its current')).toHaveAttribute('aria-pressed', 'true')
    await button('Show its current').click()
    expect(app.results.currentMap).toBeNull()
  })

  it('tells of a table', async () => {
    const app = await show()
    app.selection.pick({ kind: 'table', row: 2, table: 1 })
    await expect.element(page.getByText('Modules', { exact: true })).toBeVisible()
    expect(shown()).toContain('R2/T1')
    expect(shown()).toContain('none listed')
  })

  it('lists at a table the suspects at its edges too', async () => {
    const app = await show()
    const { joint } = app.results.locate!.groups[0].joints[0]
    expect(joint).toBe('R4/T6+T7~1')
    for (const table of [6, 7]) {
      app.selection.pick({ kind: 'table', row: 4, table })
      const row = page.getByRole('button', { name: /^Jumper between table 4-06 and table 4-07/ })
      await expect.element(row).toBeVisible()
      expect(shown()).toContain(`R4/T${table}`)
      await row.click()
      expect(app.selection.picked).toEqual({ kind: 'joint', address: joint })
    }
  })

  it('shows the newest pick although an older answer comes later', async () => {
    const app = await show()
    const ask = app.results.ask.bind(app.results)
    let letGo = () => {}
    const held = new Promise<void>((resolve) => (letGo = resolve))
    vi.spyOn(app.results, 'ask').mockImplementation(async (name, input) => {
      const answer = await ask(name, input)
      if ('part' in input && input.part === 'R2/T1/F1.1') await held
      return answer
    })
    app.selection.pick({ kind: 'part', address: 'R2/T1/F1.1' })
    await expect.element(page.getByText('Looking it up …')).toBeVisible()
    app.selection.pick({ kind: 'part', address: 'B1' })
    await expect.element(page.getByText('Joints at it').first()).toBeVisible()
    letGo()
    await held
    await Promise.resolve()
    expect(shown()).toContain('B1')
    expect(shown()).not.toContain('Looking it up')
    expect(shown()).not.toContain('module frame')
  })

  it('says so where there is no answer', async () => {
    const app = await show()
    app.selection.pick({ kind: 'part', address: 'R99/T1/F1.1' })
    await expect.element(page.getByText(/Nothing can be computed for this/)).toBeVisible()
  })

  it('leaves names from a file as text, and speaks as a US site does', async () => {
    const site = fieldSite()
    const label = '<b id="planted">x</b>'
    const drawing = {
      ...site.drawing,
      facts: { ...site.drawing.facts, units: 'us' as const },
      rows: site.drawing.rows.map((row) => ({ ...row, label })),
    }
    const app = await show({ ...site, drawing })
    app.selection.pick({ kind: 'part', address: 'R2/T1/F1.1' })
    await expect.element(page.getByText(/Expected to the ground bar/)).toBeVisible()
    expect(document.querySelector('#planted')).toBeNull()
    expect(shown()).toContain(label)
  })

  it.each(themes)('has no breach that axe can find and fits 360 px, %s', async (theme) => {
    wear(theme)
    const app = await show()
    await page.viewport(360, 1400)
    const pick: Picked[] = [
      { kind: 'part', address: 'R2/T1/F1.1' },
      { kind: 'suspect', joint: app.results.locate!.groups[0].joints[0].joint },
      { kind: 'reading', entry: app.results.locate!.readings[3].entry },
    ]
    for (const picked of pick) {
      app.selection.pick(picked)
      await expect.element(page.getByRole('definition').nth(1)).toBeVisible()
      expect(await breaches()).toEqual([])
      expect(tooSmallForTouch(document.querySelector('main')!)).toEqual([])
      expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(360)
    }
  })
})
