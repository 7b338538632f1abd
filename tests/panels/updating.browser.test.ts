import { afterEach, describe, expect, it, vi } from 'vitest'
import { page, userEvent } from 'vitest/browser'
import { render } from 'vitest-browser-svelte'
import '../../src/app/app.css'
import { basisOf } from '../../src/engine/basis.ts'
import type { EngineClient, Outcome } from '../../src/engine/client.ts'
import { finish, type Progress } from '../../src/engine/progress.ts'
import type { RequestName, Requests } from '../../src/engine/requests.ts'
import { run } from '../../src/engine/run.ts'
import { emptySiteCache } from '../../src/engine/siteCache.ts'
import type { Site } from '../../src/model/schema/site.ts'
import SuspectsPanel from '../../src/panels/SuspectsPanel.svelte'
import { Results } from '../../src/state/results.svelte.ts'
import { breaches, themes, tooSmallForTouch, wear } from '../ui/accessibility.ts'
import PanelHarness from './PanelHarness.svelte'
import { panelState } from './panelState.ts'

/** An engine that is at work for as long as the test wants it to be. */
class EngineAtWork {
  isSlow = false
  readonly #cache = emptySiteCache()
  readonly #open = new Map<RequestName, (outcome: Outcome<never>) => void>()
  #site: Site | null = null

  setSite(site: Site | null): void {
    this.#site = site
  }

  async ask(name: RequestName, input: Requests['locate'][0], onProgress?: (progress: Progress) => void) {
    const site = this.#site!
    if (this.isSlow) {
      onProgress?.({ stage: 'prepare', fraction: 0.25 })
      await new Promise<Outcome<never>>((settle) => this.#open.set(name, settle))
      return { status: 'cancelled' } as const
    }
    const result = finish(run('locate', input, site, this.#cache))
    if (name !== 'locate' || !result.ok) return { status: 'cancelled' } as const
    return { status: 'done', answer: result.value, basis: basisOf(site) } as const
  }

  cancel(name: RequestName): void {
    this.#open.get(name)?.({ status: 'cancelled' })
    this.#open.delete(name)
  }
}

async function show({ isSlow }: { isSlow: boolean }) {
  await page.viewport(400, 2400)
  const engine = new EngineAtWork()
  engine.isSlow = isSlow
  const app = { ...panelState(), results: new Results(engine as unknown as EngineClient) }
  await render(PanelHarness, { app, panels: [{ panel: SuspectsPanel }] })
  return { app, engine, results: app.results }
}

/** Ranked once, then changed, with the engine at work on the change. */
async function showOlder() {
  const shown = await show({ isSlow: false })
  const { app, engine, results } = shown
  await vi.waitFor(() => expect(results.isCurrent).toBe(true), 20_000)
  engine.isSlow = true
  const { drawing } = app.session.site!
  app.session.show({ ...app.session.site!, drawing: { ...drawing, revision: crypto.randomUUID() } }, 'saved')
  return shown
}

const stop = page.getByRole('button', { name: 'Stop calculating' })
const goOn = page.getByRole('button', { name: 'Go on calculating' })

afterEach(async () => {
  wear('system')
  await page.viewport(1280, 800)
})

describe('Updating', () => {
  it('offers to stop only what takes long, and stopping says that the ranking is from before', async () => {
    const { results } = await showOlder()
    await vi.waitFor(() => expect(results.progress).not.toBeNull())
    expect(stop.query()).toBeNull()
    await expect.element(stop).toBeVisible()
    await expect.element(page.getByRole('progressbar')).toHaveAttribute('aria-valuenow', '25')
    await stop.click()
    expect(results.isStopped).toBe(true)
    await expect.element(page.getByRole('progressbar')).not.toBeInTheDocument()
    await expect
      .element(
        page
          .getByRole('main')
          .getByText(/^Stopped: .* before the last change/)
          .first(),
      )
      .toBeVisible()
    await expect.element(page.getByRole('status')).toHaveTextContent(/^Stopped: /)
    await expect.element(page.getByRole('button', { name: /^Suspect 1:/ })).toBeVisible()
  })

  it('goes on from a key where the stop was, and the ranking comes', async () => {
    const { engine, results } = await showOlder()
    await expect.element(stop).toBeVisible()
    stop.element().focus()
    await userEvent.keyboard('{Enter}')
    await expect.element(goOn).toHaveFocus()
    engine.isSlow = false
    await userEvent.keyboard('{Enter}')
    await vi.waitFor(() => expect(results.isCurrent).toBe(true), 20_000)
    await expect.element(goOn).not.toBeInTheDocument()
    await expect.element(stop).not.toBeInTheDocument()
  })

  it('says that nothing has been calculated where the first work was stopped', async () => {
    await show({ isSlow: true })
    await stop.click()
    await expect.element(page.getByText(/^Stopped: nothing has been calculated/).first()).toBeVisible()
    await expect.element(goOn).toBeVisible()
  })

  it.each(themes)('is reached by a finger and has no breach that axe can find, %s', async (theme) => {
    wear(theme)
    await showOlder()
    await page.viewport(360, 2400)
    await expect.element(stop).toBeVisible()
    expect(tooSmallForTouch(document.querySelector('main')!)).toEqual([])
    expect(await breaches()).toEqual([])
    expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(document.documentElement.clientWidth)
    await stop.click()
    expect(await breaches()).toEqual([])
  })
})
