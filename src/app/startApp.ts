import { EngineClient } from '../engine/client.ts'
import type { Problem } from '../model/problem.ts'
import { makeAppState, type AppState } from '../state/appState.ts'
import { deviceIdentity } from '../state/identity.ts'
import type { KeyValues } from '../state/preferences.svelte.ts'
import { openSiteStore } from '../storage/openSiteStore.ts'
import { localInstant } from '../storage/storageEnvironment.ts'
import { fetchDemoFile } from './demoFiles.ts'
import type { DemoSite } from './demoSite.ts'
import { fetchDemo } from './fetchDemo.ts'
import { spawnEngine } from './spawnEngine.ts'

/** Local storage, or null where the browser blocks it. */
function localValues(): KeyValues | null {
  try {
    return window.localStorage
  } catch {
    return null
  }
}

/** Makes the state of the page: engine in its worker, identity of this device, nothing opened yet. */
export function startApp(): AppState {
  const values = localValues()
  const identity = deviceIdentity(
    values,
    () => crypto.randomUUID(),
    () => localInstant(Date.now()),
  )
  let state: AppState | null = null
  const engine = new EngineClient({
    spawn: spawnEngine,
    onState: (engineState) => {
      if (state) state.results.engineState = engineState
    },
  })
  state = makeAppState(engine, identity, values)
  return state
}

/** Takes a demo site into the library, or tells why it does not come. */
export async function openDemo(state: AppState, demo: DemoSite): Promise<void> {
  const opened = await fetchDemo(demo, fetchDemoFile)
  if (opened.ok) await state.library.adopt(opened.value)
  else state.library.tell(opened.error)
}

/**
 * Opens the store and the site that was open last; where that is not known, as after a crash, the one that was saved
 * last; the demo given where nothing is kept.
 */
export async function openFirst(state: AppState, demo: DemoSite | null): Promise<void> {
  await state.library.begin(await openSiteStore(() => state.library.tell([storeClosed])))
  const last = state.preferences.lastSite
  if (last !== null && (await state.library.open(last))) return
  const newest = state.library.sites.find(({ id }) => id !== last)
  if (newest && (await state.library.open(newest.id))) return
  if (demo) await openDemo(state, demo)
}

const storeClosed: Problem = {
  code: 'storage.blocked',
  where: {},
  facts: { reason: 'the store was closed by another tab or by the browser; reload the page' },
}
