import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { page, userEvent } from 'vitest/browser'
import { render } from 'vitest-browser-svelte'
import '../../../src/app/app.css'
import InspectorPanel from '../../../src/panels/InspectorPanel.svelte'
import type { AppState } from '../../../src/state/appState.ts'
import type { Picked } from '../../../src/state/picked.ts'
import { exampleSite } from '../../model/exampleSite.ts'
import { breaches, themes, tooSmallForTouch, wear } from '../../ui/accessibility.ts'
import PanelHarness from '../PanelHarness.svelte'
import { panelState } from '../panelState.ts'

const onshow = vi.fn<(picked: Picked) => void>()
let app: AppState

async function inspect(address: string): Promise<void> {
  onshow.mockClear()
  app = panelState(exampleSite())
  await render(PanelHarness, { app, panels: [{ panel: InspectorPanel, props: { onshow } }] })
  await vi.waitFor(() => expect(app.results.judge).not.toBeNull(), 20_000)
  app.selection.pick({ kind: 'joint', address })
}

const dialog = () => page.getByRole('dialog', { name: 'Found different from the drawing' })
const field = (name: string | RegExp) => page.getByLabelText(name, { exact: true })
const button = (name: string | RegExp) => page.getByRole('button', { name, exact: true })
const radio = (name: string | RegExp) => page.getByRole('radio', { name, exact: true })
const drawing = () => app.session.site!.drawing

beforeEach(async () => {
  await page.viewport(400, 1400)
})

afterEach(async () => {
  wear('system')
  await page.viewport(1280, 800)
})

describe('JointForm, from the card of a joint', () => {
  it('keeps a joint found missing with two presses, dated today, and takes it back by undo', async () => {
    await inspect('R1/T1/F1.2~L1.2')
    await button('Found different …').click()
    await dialog().getByRole('button', { name: 'Keep this finding' }).click()
    expect(drawing().asBuilt.at(-1)).toEqual({
      id: 5,
      found: { form: 'jointAbsent', joint: 'R1/T1/F1.2~L1.2' },
      on: '2026-05-12',
      note: '',
    })
    expect(app.session.undoLabel).toMatch(/^finding at clamp of frame 1.2 on rail 1/)
    expect(dialog().elements()).toHaveLength(0)
    await expect.element(page.getByText(/^Found missing, 12 May/)).toBeVisible()
    app.session.undo()
    expect(drawing().asBuilt).toHaveLength(4)
    await expect.element(button('Found different …')).toBeVisible()
  })

  it('keeps another kind, ohms, day and note, by keys alone, and puts a later finding in its place', async () => {
    await inspect('R1/T1/F1.2~L1.2')
    button('Found different …').element().focus()
    await userEvent.keyboard('{Enter}')
    await expect.element(dialog()).toBeVisible()
    radio(/^Missing/)
      .element()
      .focus()
    await userEvent.keyboard('{ArrowDown}')
    await field('Kind found').selectOptions('incidental contact')
    field('Its ohms').element().focus()
    await userEvent.keyboard('12,5{Tab}')
    await field('Found on').fill('2026-05-03')
    await field('Note').fill('clamp turned round')
    button('Keep this finding').element().focus()
    await userEvent.keyboard('{Enter}')
    expect(drawing().asBuilt.at(-1)).toMatchObject({
      found: { form: 'jointOther', kind: 'incidental', medianOhm: 0.0125 },
      on: '2026-05-03',
      note: 'clamp turned round',
    })
    await expect
      .element(page.getByText(/^Found otherwise: incidental contact, 12.5 mΩ, 3 May. clamp turned round/))
      .toBeVisible()
    await button('Change what was found …').click()
    await expect.element(field('Kind found')).toHaveValue('incidental')
    await radio(/^Missing/).click()
    await button('Keep the change').click()
    expect(drawing().asBuilt).toHaveLength(5)
    expect(drawing().asBuilt.at(-1)!.found).toEqual({ form: 'jointAbsent', joint: 'R1/T1/F1.2~L1.2' })
  })

  it('refuses a finding that says nothing, with a reason', async () => {
    await inspect('R1/T1/F1.2~L1.2')
    await button('Found different …').click()
    await radio(/^Otherwise/).click()
    await button('Keep this finding').click()
    await expect.element(dialog().getByText(/needs a kind or ohms/)).toBeVisible()
    expect(app.session.undoLabel).toBeNull()
  })

  it('lists all findings, shows one on the map, deletes one', async () => {
    await inspect('R1/T1/F1.1~L1.2')
    await expect.element(page.getByText(/^Found missing, 4 May/)).toBeVisible()
    await button('Change what was found …').click()
    await button(/^Findings of this site/).click()
    const items = dialog().getByRole('listitem')
    expect(items.elements()).toHaveLength(4)
    await items.nth(1).getByRole('button', { name: /^Show/ }).click()
    expect(app.selection.picked).toEqual({ kind: 'joint', address: 'A3' })
    expect(onshow).toHaveBeenCalledExactlyOnceWith({ kind: 'joint', address: 'A3' })
    app.selection.pick({ kind: 'joint', address: 'R1/T1/F1.1~L1.2' })
    await button('Change what was found …').click()
    await button('Delete this finding').click()
    expect(drawing().asBuilt.map(({ id }) => id)).toEqual([2, 3, 4])
    expect(app.session.undoLabel).toMatch(/^delete the finding at clamp/)
  })

  it('makes a joint differ by design and clears that, each as one step', async () => {
    await inspect('R1/T1/F1.2~L1.2')
    await button('Found different …').click()
    await button('Different by design').click()
    await radio('The design has no joint here').click()
    expect(drawing().differingJoints.at(-1)).toEqual({
      joint: 'R1/T1/F1.2~L1.2',
      change: 'absent',
      kind: null,
      medianOhm: null,
    })
    await radio('Another kind or other ohms').click()
    expect(drawing().differingJoints.at(-1)!.change).toBe('absent')
    await field('Kind by design').selectOptions('frame link')
    expect(drawing().differingJoints.at(-1)).toMatchObject({ change: 'other', kind: 'frameLink' })
    field('Ohms by design').element().focus()
    await userEvent.keyboard('2 mohm{Enter}')
    expect(drawing().differingJoints.at(-1)).toMatchObject({ kind: 'frameLink', medianOhm: 0.002 })
    await radio('As its pattern says').click()
    expect(drawing().differingJoints).toHaveLength(2)
    for (let step = 0; step < 4; step++) app.session.undo()
    expect(drawing().differingJoints).toEqual(exampleSite().drawing.differingJoints)
    expect(app.session.undoLabel).toBeNull()
  })

  it('keeps a metal path that was found between two parts, from the part where a pair was begun', async () => {
    await inspect('R1/T1/F1.2~L1.2')
    app.selection.pick({ kind: 'part', address: 'E1' })
    await expect.element(button('Link from here')).toBeVisible()
    expect(button('Found joined to it …').elements()).toHaveLength(0)
    await button('Link from here').click()
    app.selection.pick({ kind: 'part', address: 'R3/T1/L1.1' })
    await button('Found joined to it …').click()
    await expect.element(page.getByText('Inverter 1 and tube at its start, table 1, row B')).toBeVisible()
    await field('Its ohms').fill('4')
    await field('Note').fill('cable tray')
    expect(await breaches()).toEqual([])
    expect(tooSmallForTouch(document.querySelector('dialog')!)).toEqual([])
    await button('Keep this finding').click()
    expect(drawing().asBuilt.at(-1)).toEqual({
      id: 5,
      found: { form: 'jointAdded', from: 'E1', to: 'R3/T1/L1.1', kind: 'incidental', medianOhm: 0.004 },
      on: '2026-05-12',
      note: 'cable tray',
    })
    expect(app.session.undoLabel).toMatch(/^finding at inverter 1 and tube/)
  })

  it.each(themes)('has no breach that axe can find and fits 390 px, %s', async (theme) => {
    wear(theme)
    await inspect('R1/T1/F1.1~L1.2')
    await page.viewport(390, 1400)
    await button('Change what was found …').click()
    await button('Different by design').click()
    await button(/^Findings of this site/).click()
    expect(await breaches()).toEqual([])
    expect(tooSmallForTouch(document.querySelector('dialog')!)).toEqual([])
    expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(390)
  })
})
