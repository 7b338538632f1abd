import { afterEach, describe, expect, it, vi } from 'vitest'
import { page, userEvent } from 'vitest/browser'
import { render } from 'vitest-browser-svelte'
import '../../src/app/app.css'
import type { LegendEntry } from '../../src/panels/legendEntry.ts'
import LegendPanel from '../../src/panels/LegendPanel.svelte'
import { breaches, themes, tooSmallForTouch, wear } from '../ui/accessibility.ts'
import PanelHarness from './PanelHarness.svelte'
import { fieldSite, panelState } from './panelState.ts'

const plain = (key: LegendEntry['key']): LegendEntry => ({ key, steps: [], scale: null })
const entries: readonly LegendEntry[] = [
  plain('module'),
  plain('longMember'),
  plain('earthBar'),
  {
    key: 'current',
    steps: [0.01, 0.1, 0.5, 1].map((value) => ({ value })),
    scale: { form: 'squareRoot', leastShown: 0.005 },
  },
  {
    key: 'suspect',
    steps: [0.05, 0.2, 0.5, 0.9].map((value) => ({ value })),
    scale: { form: 'squareRoot', leastShown: 0 },
  },
]
const drawGlyph = vi.fn((_entry: LegendEntry, canvas: HTMLCanvasElement, _step?: { value: number }) => {
  canvas.getContext('2d')!.fillRect(4, 8, 36, 10)
})

async function show(shown: readonly LegendEntry[] = entries, units: 'metric' | 'us' = 'metric') {
  drawGlyph.mockClear()
  await page.viewport(360, 700)
  const site = fieldSite()
  const app = panelState({
    ...site,
    record: [],
    drawing: { ...site.drawing, facts: { ...site.drawing.facts, units } },
  })
  await render(PanelHarness, { app, panels: [{ panel: LegendPanel, props: { entries: shown, drawGlyph } }] })
}

afterEach(async () => {
  wear('system')
  await page.viewport(1280, 800)
})

describe('LegendPanel', () => {
  it('lists exactly what is on screen, each drawn once and each sample once', async () => {
    await show()
    await expect.element(page.getByText('module with its frame')).toBeVisible()
    expect(document.querySelectorAll('main ul > li')).toHaveLength(entries.length)
    await vi.waitFor(() => expect(drawGlyph).toHaveBeenCalled())
    for (let frame = 0; frame < 2; frame++) await new Promise((done) => requestAnimationFrame(done))
    expect(drawGlyph).toHaveBeenCalledTimes(3 + 4 + 4)
    const samples = drawGlyph.mock.calls.flatMap(([entry, , step]) =>
      step ? [`${entry.key} ${step.value}`] : [],
    )
    expect(samples).toContain('current 0.1')
    expect(samples).toContain('suspect 0.9')
    await expect.element(page.getByText('90 %')).toBeVisible()
    await expect.element(page.getByText(/Below 0.5 % nothing is drawn/)).toBeVisible()
  })

  it('says so when nothing is drawn', async () => {
    await show([])
    await expect.element(page.getByText('Nothing is drawn on the map.')).toBeVisible()
  })

  it('folds and unfolds by keyboard', async () => {
    await show()
    const fold = page.getByRole('button', { name: 'On the map' })
    fold.element().focus()
    await userEvent.keyboard('{Enter}')
    await expect.element(fold).toHaveAttribute('aria-expanded', 'false')
    await expect.element(page.getByText('module with its frame')).not.toBeVisible()
    await userEvent.keyboard(' ')
    await expect.element(page.getByText('module with its frame')).toBeVisible()
  })

  it('speaks as a US site does', async () => {
    await show(entries, 'us')
    await expect.element(page.getByText('ground bar')).toBeVisible()
    expect(document.querySelector('main')!.textContent).not.toContain('earth')
  })

  it.each(themes)('has no breach that axe can find and fits 360 px, %s', async (theme) => {
    wear(theme)
    await show()
    expect(await breaches()).toEqual([])
    expect(tooSmallForTouch(document.querySelector('main')!)).toEqual([])
    expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(360)
  })
})
