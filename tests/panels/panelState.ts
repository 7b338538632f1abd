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
  readonly #leftOut: readonly RequestName[]
  #site: Site | null = null
  readonly #cache = emptySiteCache()

  constructor(leftOut: readonly RequestName[]) {
    this.#leftOut = leftOut
  }

  setSite(site: Site | null): void {
    this.#site = site
  }

  async ask<N extends RequestName>(name: N, input: Requests[N][0]): Promise<Outcome<N>> {
    const site = this.#site
    await Promise.resolve()
    if (site === null || this.#leftOut.includes(name)) return { status: 'cancelled' }
    const job = run(name, input, site, this.#cache)
    for (let step = job.next(); ; step = job.next()) {
      if (!step.done) continue
      return step.value.ok
        ? { status: 'done', answer: step.value.value, basis: basisOf(site) }
        : { status: 'problem', problems: step.value.error }
    }
  }

  /** What is asked here is answered before anyone could take it back. */
  cancel(): void {
    return
  }

  dispose(): void {
    this.#site = null
  }
}

/** A moment of the day on which the demo was read, minutes after its last reading. */
const dayOfDemo = '2026-05-12T09'

/** Ids that count up, and a clock that moves a second with each look: the same in every run. */
function countedIdentity(hour: string): Identity {
  let ids = 0
  let seconds = 0
  return {
    newId: () => `00000000-0000-4000-8000-${String(++ids).padStart(12, '0')}`,
    now: () => {
      const at = new Date(Date.parse(`${hour}:00:00Z`) + 1000 * seconds++)
      return at.toISOString().replace('.000Z', 'Z')
    },
    device: '11111111-1111-4111-8111-111111111111',
  }
}

interface PanelStateOptions {
  /** When it is, as `2026-05-12T09`. */
  readonly hour?: string
  /** Whether the engine says what to do next; most tests need not wait for that. */
  readonly hasNext?: boolean
  /** Whether the engine ranks and judges after every change of the site; tests of other things need not wait for that. */
  readonly hasRanking?: boolean
}

/** A state of the page with a site open and the engine in the page. */
export function panelState(
  site: Site | null = fieldSite(),
  { hour = dayOfDemo, hasNext = false, hasRanking = true }: PanelStateOptions = {},
): AppState {
  const engine = new EngineInPage([
    ...(hasNext ? [] : (['next'] as const)),
    ...(hasRanking ? [] : (['locate', 'judge'] as const)),
  ])
  const app = makeAppState(engine as unknown as EngineClient, countedIdentity(hour), null)
  app.session.show(site, 'saved')
  return app
}
