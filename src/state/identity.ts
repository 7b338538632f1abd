import type { KeyValues } from './preferences.svelte.ts'

/** Where ids, times and the device's own name come from. */
export interface Identity {
  newId(): string
  /** This moment, ISO 8601 with the zone. */
  now(): string
  /** This device's UUID, the same every time. */
  readonly device: string
}

const key = 'groundweave-device'
const uuid = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/

/** The identity of this browser; kept in the given store, or made anew where there is none. */
export function deviceIdentity(store: KeyValues | null, newId: () => string, now: () => string): Identity {
  let device: string | null = null
  try {
    device = store?.getItem(key) ?? null
    if (device === null || !uuid.test(device)) {
      device = newId()
      store?.setItem(key, device)
    }
  } catch {
    device ??= newId()
  }
  return { newId, now, device }
}
