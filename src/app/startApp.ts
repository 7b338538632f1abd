import { EngineClient } from '../engine/client.ts'
import { openSite } from '../files/openSite.ts'
import type { Problem } from '../model/problem.ts'
import { makeAppState, type AppState } from '../state/appState.ts'
import { deviceIdentity } from '../state/identity.ts'
import type { KeyValues } from '../state/preferences.svelte.ts'
import { openSiteStore } from '../storage/openSiteStore.ts'
import { localInstant } from '../storage/storageEnvironment.ts'

/** Local storage, or null where the browser blocks it. */
function localValues(): KeyValues | null {
  try {
    return window.localStorage
  } catch {
    return null
  }
}

function spawnWorker(): Worker {
  return new Worker(new URL('../engine/worker.ts', import.meta.url), { type: 'module', name: 'engine' })
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
    spawn: spawnWorker,
    onState: (engineState) => {
      if (state) state.results.engineState = engineState
    },
  })
  state = makeAppState(engine, identity, values)
  return state
}

/** Fetches a demo site that lies beside the page and takes it into the library. */
export async function openDemo(state: AppState, address: string, file: string): Promise<void> {
  let bytes = new Uint8Array()
  try {
    const response = await fetch(address)
    if (response.ok) bytes = new Uint8Array(await response.arrayBuffer())
  } catch {
    // an empty file is told as such below
  }
  const opened = openSite(bytes, file)
  if (opened.ok) await state.library.adopt(opened.value)
  else state.library.tell(opened.error)
}

/**
 * Opens the store and the site that was open last; on a first visit, or when that site is gone, the demo given.
 */
export async function openFirst(
  state: AppState,
  demo: { readonly address: string; readonly file: string } | null,
): Promise<void> {
  await state.library.begin(await openSiteStore(() => state.library.tell([storeClosed])))
  const last = state.preferences.lastSite
  if (last !== null && (await state.library.open(last))) return
  if (demo) await openDemo(state, demo.address, demo.file)
}

const storeClosed: Problem = {
  code: 'storage.blocked',
  where: {},
  facts: { reason: 'the store was closed by another tab or by the browser; reload the page' },
}
