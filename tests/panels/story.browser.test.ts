import axe from 'axe-core'
import { describe, expect, it, vi } from 'vitest'
import { page, userEvent } from 'vitest/browser'
import { render } from 'vitest-browser-svelte'
import '../../src/app/app.css'
import HelpPanel from '../../src/panels/HelpPanel.svelte'
import Story from '../../src/panels/Story.svelte'
import UndoBar from '../../src/panels/UndoBar.svelte'
import { fullCautions } from '../../src/text/cautions.ts'
import { lookTexts } from '../../src/text/readingLookText.ts'
import PanelHarness from './PanelHarness.svelte'
import { fieldSite, panelState } from './panelState.ts'

async function show() {
  const app = panelState()
  const oncard = vi.fn<(card: number) => void>()
  const onend = vi.fn<() => void>()
  await render(PanelHarness, { app, panels: [{ panel: Story, props: { oncard, onend } }] })
  return { app, onend, cards: () => oncard.mock.calls.map(([card]) => card) }
}

async function breaches(): Promise<string[]> {
  const { violations } = await axe.run(document.body)
  return violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' ')}`)
}

describe('the story of the first visit', () => {
  it('goes through five short cards, tells each, and does not come again', async () => {
    const { app, onend, cards } = await show()
    const titles = new Set<string>()
    for (let card = 1; card <= 5; card++) {
      await expect.element(page.getByText(`Card ${card} of 5`)).toBeInTheDocument()
      titles.add(page.getByRole('heading', { level: 2 }).element().textContent)
      expect(await breaches()).toEqual([])
      if (card < 5) await page.getByRole('button', { name: 'Next' }).click()
    }
    expect(titles.size).toBe(5)
    expect(cards()).toEqual([1, 2, 3, 4])
    expect(app.preferences.storySeen).toBe(false)
    await page.getByRole('button', { name: 'Begin' }).click()
    expect(onend).toHaveBeenCalledOnce()
    expect(app.preferences.storySeen).toBe(true)
  })

  it('is turned by keys: arrows go on and back, Escape skips the rest', async () => {
    const { app, onend, cards } = await show()
    await userEvent.keyboard('{ArrowLeft}{ArrowRight}{ArrowRight}{ArrowLeft}{Escape}')
    expect(cards()).toEqual([1, 2, 1])
    expect(onend).toHaveBeenCalledOnce()
    expect(app.preferences.storySeen).toBe(true)
  })
})

describe('the help', () => {
  it('holds every caution in full, and every look', async () => {
    const drawLook = vi.fn()
    await render(PanelHarness, {
      app: panelState(),
      panels: [{ panel: HelpPanel, props: { isOpen: true, onclose: () => undefined, drawLook } }],
    })
    const note = page.getByRole('dialog')
    for (const caution of fullCautions('metric')) await expect.element(note).toHaveTextContent(caution)
    await vi.waitFor(() => {
      const drawn = new Set(drawLook.mock.calls.map(([look]: unknown[]) => look))
      expect(drawn).toEqual(new Set(Object.keys(lookTexts)))
    })
    expect(await breaches()).toEqual([])
  })
})

describe('undo and redo of the drawing', () => {
  it('name the step, and say why there is none', async () => {
    const app = panelState()
    await render(PanelHarness, { app, panels: [{ panel: UndoBar }] })
    await expect.element(page.getByRole('button', { name: /^Undo: no step of the drawing/ })).toBeVisible()
    const { name } = fieldSite().drawing.obstacles[0] ?? { name: '' }
    app.session.commit((site) => ({ ...site, drawing: { ...site.drawing, obstacles: [] } }), `remove ${name}`)
    await page.getByRole('button', { name: /^Undo: remove/ }).click()
    expect(app.session.site!.drawing.obstacles).toEqual(fieldSite().drawing.obstacles)
    await page.getByRole('button', { name: /^Redo: remove/ }).click()
    expect(app.session.site!.drawing.obstacles).toEqual([])
  })

  it('change nothing where another tab holds the site', async () => {
    const app = panelState()
    app.session.commit((site) => ({ ...site, drawing: { ...site.drawing, obstacles: [] } }), 'clear')
    const { site } = app.session
    app.session.saving = 'readOnly'
    await render(PanelHarness, { app, panels: [{ panel: UndoBar }] })
    await page
      .getByRole('button', { name: /another tab holds this site/ })
      .first()
      .click({ force: true })
    expect(app.session.site).toBe(site)
  })
})
