export const storeNames = ['sites', 'bin', 'texts', 'photos', 'drafts'] as const
export type StoreName = (typeof storeNames)[number]
/** Those that a site is kept in. */
export const siteStoreNames = ['sites', 'bin', 'texts'] as const

/** A request's result, once it is there. Awaiting anything else inside a transaction would end it. */
export function resultOf<T>(request: IDBRequest<T>): Promise<T> {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result)
    request.onerror = () => reject(reasonOf(request.error))
  })
}

/**
 * Shows each record that a cursor comes to, one after the other, so that only one of them is in memory; `see` ends
 * the walk by returning false.
 */
export function eachOf<C extends IDBCursor>(
  request: IDBRequest<C | null>,
  see: (cursor: C) => boolean | void,
): Promise<void> {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => {
      const cursor = request.result
      if (!cursor || see(cursor) === false) return resolve()
      cursor.continue()
    }
    request.onerror = () => reject(reasonOf(request.error))
  })
}

/**
 * Runs `work` in one transaction and resolves with its result only after the transaction is complete; a
 * writing one then is on the disk (`strict` durability: the browser has flushed it). Rejects with the reason
 * when the transaction aborts, which also happens while it is being written, after every request went well;
 * then nothing of it was kept.
 */
export async function inTransaction<T, N extends StoreName>(
  database: IDBDatabase,
  names: readonly N[],
  mode: 'readonly' | 'readwrite',
  work: (store: (name: N) => IDBObjectStore) => Promise<T>,
  durability: IDBTransactionDurability = 'strict',
): Promise<T> {
  const transaction = database.transaction(names, mode, { durability })
  const ended = new Promise<void>((resolve, reject) => {
    transaction.oncomplete = () => resolve()
    transaction.onabort = () => reject(reasonOf(transaction.error))
  })
  // Where the work fails first, nobody waits for the end.
  ended.catch(() => undefined)
  try {
    const result = await work((name) => transaction.objectStore(name))
    await ended
    return result
  } catch (error) {
    abort(transaction)
    // The transaction's own reason says more than that of a request that it took down with it.
    throw reasonOf(transaction.error ?? error)
  }
}

function abort(transaction: IDBTransaction): void {
  try {
    transaction.abort()
  } catch {
    // It has ended by itself.
  }
}

function reasonOf(error: unknown): Error {
  return error instanceof Error ? error : new DOMException('the transaction was aborted', 'AbortError')
}
