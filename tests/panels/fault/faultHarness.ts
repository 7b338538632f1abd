import { page } from 'vitest/browser'
import { render } from 'vitest-browser-svelte'
import '../../../src/app/app.css'
import type { Site } from '../../../src/model/schema/site.ts'
import type { AppState } from '../../../src/state/appState.ts'
import PanelHarness from '../PanelHarness.svelte'
import { fieldSite, panelState } from '../panelState.ts'
import FaultWorkspace from './FaultWorkspace.svelte'

/** The field demo with another first source; everything else is as it is drawn. */
export function siteWith(change: (drawing: Site['drawing']) => Partial<Site['drawing']>): Site {
  const site = fieldSite()
  return { ...site, drawing: { ...site.drawing, ...change(site.drawing) } }
}

/** The workspace with its legend and a site open, asked as the page asks it; `settle` waits for the answers of now. */
export async function showFault(site: Site = fieldSite(), before: (app: AppState) => void = () => undefined) {
  await page.viewport(420, 4800)
  const app = panelState(site, { hasRanking: false })
  app.preferences.workspace = 'fault'
  before(app)
  const shown: unknown[] = []
  const note = (what: unknown) => void shown.push(what)
  const props = { onshow: note, onground: note }
  await render(PanelHarness, { app, panels: [{ panel: FaultWorkspace, props }] })
  const settle = async () => {
    await app.faultDesk.refresh()
    await app.faultDesk.ground.refresh()
  }
  await settle()
  return { app, shown, settle }
}

export const region = (name: string) => page.getByRole('region', { name })
export const button = (name: string | RegExp) => page.getByRole('button', { name })

/** A number with one of the units in which a fault is told. */
const numbered = /(?:\d|∞)\s?(?:µ|m|k|M)?(?:A|V|Ω|J|s)(?![A-Za-z·])|\bno path\b/u

/** Texts on the page that hold a number with its unit and are neither in a figure nor in what one opens, types or hears. */
export function strayNumbers(root: Element): string[] {
  const walker = document.createTreeWalker(root, NodeFilter.SHOW_TEXT)
  const found: string[] = []
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    const text = node.textContent ?? ''
    const around = node.parentElement
    const isOwn = around?.closest(
      '[data-figure], [data-basis], option, input, .spoken-only, [role=status], .tip',
    )
    if (!isOwn && numbered.test(text)) found.push(text.trim())
  }
  return found
}
