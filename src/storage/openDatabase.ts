import { resultOf, storeNames } from './transactions.ts'

/**
 * Version 1: `sites` (a row per site, by id), `bin` (removed sites, by key) and `texts` (bytes of the saved
 * texts, by the key that a row's copies name). A change of shape is a new version and a step in `upgrade`.
 */
const databaseVersion = 1

function upgrade(database: IDBDatabase, fromVersion: number): void {
  if (fromVersion >= 1) return
  const [sites, bin, texts] = storeNames
  database.createObjectStore(sites, { keyPath: 'id' })
  database.createObjectStore(bin, { keyPath: 'key' })
  database.createObjectStore(texts)
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
