import { describe, expect, it, vi } from 'vitest'
import { page, userEvent } from 'vitest/browser'
import { render } from 'vitest-browser-svelte'
import '../../src/app/app.css'
import type { Site } from '../../src/model/schema/site.ts'
import ReportDialog from '../../src/panels/report/ReportDialog.svelte'
import type { DrawReportMaps } from '../../src/panels/report/reportMaps.ts'
import { breaches, tooSmallForTouch } from '../ui/accessibility.ts'
import PanelHarness from './PanelHarness.svelte'
import { fieldSite, panelState } from './panelState.ts'

const field = fieldSite()
const patience = { timeout: 20_000 }
const svg = '<svg xmlns="http://www.w3.org/2000/svg" width="400" height="200"></svg>'

async function show(site: Site = field) {
  const app = panelState(site)
  const onclose = vi.fn<() => void>()
  const print = vi.fn<() => void>()
  const drawMaps = vi.fn<DrawReportMaps>(() => [
    { kind: 'found', rank: null, svg },
    { kind: 'found', rank: 1, svg },
    { kind: 'times', rank: null, svg },
  ])
  await render(PanelHarness, {
    app,
    panels: [{ panel: ReportDialog, props: { onclose, print, drawMaps } }],
  })
  await expect.element(page.getByRole('heading', { name: 'Report of bonding tests' }), patience).toBeVisible()
  return { onclose, print, drawMaps }
}

describe('the report on the screen', () => {
  it('has no breach that axe can find, and buttons large enough for a finger', async () => {
    await show()
    expect(await breaches()).toEqual([])
    expect(tooSmallForTouch(document.querySelector('.reportView .bar')!)).toEqual([])
    // a box is ticked by pressing anywhere on its words
    const labels = [...document.querySelectorAll('.reportView label:has(input)')]
    expect(labels.length).toBeGreaterThan(10)
    expect(labels.filter((label) => label.getBoundingClientRect().height < 43.9)).toEqual([])
  })

  it('shows hostile names and notes as text', async () => {
    const hostile = '<img src=x onerror="globalThis.hurt = 1">'
    await show({
      ...field,
      name: hostile,
      record: field.record.map((entry) =>
        entry.entry === 'reading' || entry.entry === 'visit'
          ? { ...entry, [entry.entry === 'visit' ? 'purpose' : 'note']: hostile }
          : entry,
      ),
    })
    expect(document.querySelectorAll('img[onerror], .paper script')).toHaveLength(0)
    expect('hurt' in globalThis).toBe(false)
    expect(document.querySelector('.paper')!.textContent).toContain(hostile)
  })

  it('leaves out the areas where only the whole site is wanted', async () => {
    const { drawMaps } = await show()
    const maps = '.paper section.map figure'
    expect(document.querySelectorAll(maps)).toHaveLength(3)
    await userEvent.selectOptions(page.getByRole('combobox', { name: 'Map' }), 'whole')
    await vi.waitFor(() => expect(document.querySelectorAll(maps)).toHaveLength(2))
    await page.getByRole('checkbox', { name: 'a map of times expected' }).click()
    await vi.waitFor(() => expect(document.querySelectorAll(maps)).toHaveLength(1))
    expect(drawMaps).toHaveBeenCalled()
  })

  it('cannot be printed without a visit, and says why', async () => {
    const { print } = await show()
    await page.getByRole('checkbox', { name: /First test after erection/ }).click()
    const button = page.getByRole('button', { name: /^Print or save as PDF/ })
    await expect.element(button).toHaveAttribute('title', 'Choose at least one visit.')
    await button.click({ force: true })
    expect(print).not.toHaveBeenCalled()
    await page.getByRole('checkbox', { name: /First test after erection/ }).click()
    await expect.element(button, patience).toBeEnabled()
    await button.click()
    expect(print).toHaveBeenCalledOnce()
  })
})
