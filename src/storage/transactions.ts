export const storeNames = ['sites', 'bin', 'texts'] as const
export type StoreName = (typeof storeNames)[number]

/** A request's result, once it is there. Awaiting anything else inside a transaction would end it. */
export function resultOf<T>(request: IDBRequest<T>): Promise<T> {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result)
    request.onerror = () => reject(reasonOf(request.error))
  })
}

/**
 * Runs `work` in one transaction and resolves with its result only after the transaction is complete; a
 * writing one then is on the disk (`strict` durability: the browser has flushed it). Rejects with the reason
 * when the transaction aborts, which also happens while it is being written, after every request went well;
 * then nothing of it was kept.
 */
export async function inTransaction<T>(
  database: IDBDatabase,
  mode: 'readonly' | 'readwrite',
  work: (store: (name: StoreName) => IDBObjectStore) => Promise<T>,
): Promise<T> {
  const transaction = database.transaction(storeNames, mode, { durability: 'strict' })
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
