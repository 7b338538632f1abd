import { listedIndex } from './photoRows.ts'
import { resultOf, type StoreName } from './transactions.ts'

/**
 * Version 1: `sites` (a row per site, by id), `bin` (removed sites, by key) and `texts` (bytes of the saved
 * texts, by the key that a row's copies name). Version 2: `photos` (by SHA-256), `drafts` (what is
 * being typed, by site), and earlier versions in the rows of sites, which rows of version 1 lack and need not have. A change of shape is a new version and a step in `upgrade`.
 */
export const databaseVersion = 2

function upgrade(database: IDBDatabase, fromVersion: number): void {
  const create = (name: StoreName, options?: IDBObjectStoreParameters) =>
    database.createObjectStore(name, options)
  if (fromVersion < 1) {
    create('sites', { keyPath: 'id' })
    create('bin', { keyPath: 'key' })
    create('texts')
  }
  if (fromVersion < 2) {
    create('photos', { keyPath: 'sha256' }).createIndex(listedIndex.name, listedIndex.keyPath)
    create('drafts')
  }
}

/**
 * Opens the database. `onClosed` is called when it was closed from outside: a newer version of the program
 * wants to change its shape, or the browser's data were cleared. Rejects with the browser's error.
 */
export async function openDatabase(
  factory: IDBFactory,
  name: string,
  onClosed: () => void,
): Promise<IDBDatabase> {
  const request = factory.open(name, databaseVersion)
  request.onupgradeneeded = ({ oldVersion }) => upgrade(request.result, oldVersion)
  const database = await resultOf(request)
  database.onversionchange = () => {
    database.close()
    onClosed()
  }
  database.onclose = onClosed
  return database
}
