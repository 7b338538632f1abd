import { cachedCopies, type CopyFiles } from './secondCopies.ts'

/** What the store takes from its surroundings; a test hands in its own. */
export interface StorageEnvironment {
  /** Undefined where the browser has none or refuses it. */
  readonly indexedDB: IDBFactory | undefined
  readonly databaseName: string
  readonly nowMs: () => number
  /** Makes a UUID. */
  readonly newId: () => string
  /** SHA-256 in hexadecimal; null where the browser offers none to this page. */
  readonly sha256: ((bytes: Uint8Array<ArrayBuffer>) => Promise<string>) | null
  /** Where second copies lie, by the name of the database; null where there are none. */
  readonly copyFiles: (databaseName: string) => CopyFiles | null
  /** Room left on the device, as far as the browser tells. */
  readonly freeBytes: () => Promise<number | null>
}

/** The same where a store can be opened. */
export interface StoreWorld extends StorageEnvironment {
  readonly sha256: (bytes: Uint8Array<ArrayBuffer>) => Promise<string>
}

export function browserStorage(): StorageEnvironment {
  // A page that was not opened over https or from this device has no `subtle`, whatever its type says.
  const subtle = globalThis.crypto.subtle as SubtleCrypto | undefined
  return {
    indexedDB: readIndexedDb(),
    databaseName: 'groundweave',
    nowMs: () => Date.now(),
    newId: () => crypto.randomUUID(),
    sha256: subtle ? sha256Of : null,
    copyFiles: cachedCopies,
    freeBytes: async () => (await estimateRoom())?.freeBytes ?? null,
  }
}

// Merely looking at it throws where the browser's settings forbid it.
function readIndexedDb(): IDBFactory | undefined {
  try {
    return globalThis.indexedDB
  } catch {
    return undefined
  }
}

/** SHA-256 in hexadecimal; rejects where the browser offers none to this page. */
export async function sha256Of(bytes: Uint8Array<ArrayBuffer>): Promise<string> {
  return hexadecimal(await crypto.subtle.digest('SHA-256', bytes))
}

/** SHA-256 of a text's UTF-8 bytes as small hexadecimal digits; null on a page to which the browser gives no digests. */
export async function sha256OfText(text: string): Promise<string | null> {
  const subtle = globalThis.crypto.subtle as SubtleCrypto | undefined
  return subtle ? hexadecimal(await subtle.digest('SHA-256', new TextEncoder().encode(text))) : null
}

function hexadecimal(digest: ArrayBuffer): string {
  return Array.from(new Uint8Array(digest), (byte) => byte.toString(16).padStart(2, '0')).join('')
}

export interface Room {
  readonly usedBytes: number
  readonly freeBytes: number
}

/** What the browser says of the room for this page's data; null where it says nothing. */
export async function estimateRoom(
  storage: Partial<StorageManager> = storageManager(),
): Promise<Room | null> {
  try {
    const { usage, quota } = (await storage.estimate?.()) ?? {}
    if (usage === undefined || quota === undefined) return null
    return { usedBytes: usage, freeBytes: Math.max(0, quota - usage) }
  } catch {
    return null
  }
}

export type Persistence = 'granted' | 'denied' | 'unknown'

/**
 * Asks the browser not to clear the sites when the device runs out of room. `denied` is no failure: browsers
 * grant it to pages that are used often or installed.
 */
export async function askToPersist(
  storage: Partial<StorageManager> = storageManager(),
): Promise<Persistence> {
  try {
    if (await storage.persisted?.()) return 'granted'
    const granted = await storage.persist?.()
    return granted === undefined ? 'unknown' : granted ? 'granted' : 'denied'
  } catch {
    return 'unknown'
  }
}

function storageManager(): Partial<StorageManager> {
  return navigator.storage ?? {}
}

/** ISO 8601 to the second in the device's zone: `2031-05-04T08:05:00+02:00`. */
export function localInstant(timeMs: number, zoneMinutes = -new Date(timeMs).getTimezoneOffset()): string {
  const shown = new Date(timeMs + zoneMinutes * 60_000).toISOString().slice(0, 19)
  const size = Math.abs(zoneMinutes)
  const two = (value: number) => String(value).padStart(2, '0')
  return `${shown}${zoneMinutes < 0 ? '-' : '+'}${two(Math.floor(size / 60))}:${two(size % 60)}`
}
