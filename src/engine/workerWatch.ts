/** The part of the browser's lock manager that is needed to learn of a worker's end. */
export type Locks = Pick<LockManager, 'request'>

/** The browser's locks, or null where there are none: outside of a browser, or on a page of an insecure origin. */
export function ownLocks(): Locks | null {
  return (globalThis.navigator as Partial<Navigator> | undefined)?.locks ?? null
}

/**
 * In a worker: takes a lock of a name that nobody else has and keeps it for as long as the worker lives, then tells
 * the name; null where locks are not to be had. A browser gives the lock back however the worker ends.
 */
export function holdLifeLock(
  locks: Locks | null,
  newName: () => string,
  onHeld: (name: string | null) => void,
): void {
  if (locks === null) return onHeld(null)
  let isTold = false
  const tell = (name: string | null) => {
    if (isTold) return
    isTold = true
    onHeld(name)
  }
  try {
    const name = newName()
    const held = locks.request(name, () => {
      tell(name)
      return new Promise<never>(() => undefined)
    })
    // a document without an origin of its own has locks but may not use them
    held.catch(() => tell(null))
  } catch {
    tell(null)
  }
}

/**
 * In a page: calls `onGone` once the holder of the lock is gone. Returns what ends the watch; after that `onGone`
 * is not called.
 */
export function watchLifeLock(locks: Locks, name: string, onGone: () => void): () => void {
  const watch = new AbortController()
  const gone = () => {
    if (!watch.signal.aborted) onGone()
  }
  locks.request(name, { signal: watch.signal }, gone).catch((error: unknown) => {
    if (!watch.signal.aborted) throw error
  })
  return () => watch.abort()
}
