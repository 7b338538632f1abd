import type { Result } from '../base/result.ts'
import { fail, ok } from '../base/result.ts'
import type { Problem } from '../model/problem.ts'
import { problem } from '../model/problem.ts'
import { noStorageReasons } from '../text/storageText.ts'
import { openDatabase } from './openDatabase.ts'
import { SiteStore } from './siteStore.ts'
import { browserStorage, type StorageEnvironment } from './storageEnvironment.ts'

/**
 * Opens the store of this device, or says why the browser keeps nothing; `onClosed`: it was closed from outside. What the
 * database has lost comes back from its second copy, and `recovered` says what.
 */
export async function openSiteStore(
  onClosed: () => void = () => undefined,
  environment: StorageEnvironment = browserStorage(),
): Promise<Result<SiteStore, Problem>> {
  const { indexedDB, sha256, databaseName } = environment
  if (!indexedDB) return fail(problem('storage.blocked', { reason: noStorageReasons.switchedOff }))
  if (!sha256) {
    return fail(problem('storage.blocked', { reason: noStorageReasons.insecure }))
  }
  try {
    const database = await openDatabase(indexedDB, databaseName, onClosed)
    const store = new SiteStore(database, { ...environment, sha256 })
    await store.purge()
    const recovered = await store.recover()
    if (recovered.ok) store.recovered = recovered.value
    return ok(store)
  } catch (error) {
    const { name, message } = error as Error
    if (name === 'VersionError') return fail(problem('storage.newer', {}))
    return fail(problem('storage.blocked', { reason: message === '' ? name : message }))
  }
}
