import fieldText from '../../demo-data/field.json?raw'
import { basisOf } from '../../src/engine/basis.ts'
import type { EngineClient, Outcome } from '../../src/engine/client.ts'
import type { RequestName, Requests } from '../../src/engine/requests.ts'
import { run } from '../../src/engine/run.ts'
import { emptySiteCache } from '../../src/engine/siteCache.ts'
import { openSite } from '../../src/files/openSite.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { makeAppState, type AppState } from '../../src/state/appState.ts'
import type { Identity } from '../../src/state/identity.ts'

/** The field demo, read anew for each test. */
export function fieldSite(): Site {
  const opened = openSite(new TextEncoder().encode(fieldText), 'field.json')
  if (!opened.ok) throw new Error('the field demo does not open')
  return opened.value
}

/** Answers as the worker does, by the same core, but in the page and at once. */
class EngineInPage {
  #site: Site | null = null
  readonly #cache = emptySiteCache()

  setSite(site: Site | null): void {
    this.#site = site
  }

  async ask<N extends RequestName>(name: N, input: Requests[N][0]): Promise<Outcome<N>> {
    const site = this.#site
    await Promise.resolve()
    if (site === null) return { status: 'cancelled' }
    const job = run(name, input, site, this.#cache)
    for (let step = job.next(); ; step = job.next()) {
      if (!step.done) continue
      return step.value.ok
        ? { status: 'done', answer: step.value.value, basis: basisOf(site) }
        : { status: 'problem', problems: step.value.error }
    }
  }

  dispose(): void {
    this.#site = null
  }
}

/** Ids that count up, and a clock that moves a minute with each look: the same in every run. */
function countedIdentity(): Identity {
  let ids = 0
  let minutes = 0
  return {
    newId: () => `00000000-0000-4000-8000-${String(++ids).padStart(12, '0')}`,
    now: () => `2031-05-04T09:${String(minutes++ % 60).padStart(2, '0')}:00Z`,
    device: '11111111-1111-4111-8111-111111111111',
  }
}

/** A state of the page with a site open and the engine in the page. */
export function panelState(site: Site | null = fieldSite()): AppState {
  const app = makeAppState(new EngineInPage() as unknown as EngineClient, countedIdentity(), null)
  app.session.show(site, 'saved')
  return app
}
