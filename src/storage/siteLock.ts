/** What a tab is told about the site that it has open. */
export interface ClaimEvents {
  /** The site may be changed here from now on: whoever held it let go, or its tab ended. Load it anew first. */
  readonly onHeld?: () => void
  /** Another tab took the site over: here it can only be looked at from now on. */
  readonly onLost?: () => void
  /** The tab that holds the site saved it. */
  readonly onSaved?: () => void
}

export interface LockEnvironment {
  readonly locks: Pick<LockManager, 'request'> | undefined
  readonly openChannel: ((name: string) => BroadcastChannel) | undefined
}

export function browserLocks(): LockEnvironment {
  return {
    locks: navigator.locks,
    openChannel: typeof BroadcastChannel === 'undefined' ? undefined : (name) => new BroadcastChannel(name),
  }
}

/**
 * Claims a site for this tab, so that two tabs never change it at once. A tab that does not get it waits in
 * line and is told by `onHeld` when its turn comes; the browser passes a lock on also when a tab crashes.
 * Where the browser has no locks every claim is held: the store's own check for conflicts stands behind it.
 */
export async function claimSite(
  siteId: string,
  events: ClaimEvents,
  environment: LockEnvironment = browserLocks(),
): Promise<SiteClaim> {
  const claim = new SiteClaim(siteId, events, environment)
  await claim.begin()
  return claim
}

export class SiteClaim {
  readonly #name: string
  readonly #events: ClaimEvents
  readonly #locks: LockEnvironment['locks']
  readonly #channel: BroadcastChannel | undefined
  #isHeld = false
  #isReleased = false
  #letGo: () => void = () => undefined
  #waiting: AbortController | null = null

  constructor(siteId: string, events: ClaimEvents, { locks, openChannel }: LockEnvironment) {
    this.#name = `groundweave-site-${siteId}`
    this.#events = events
    this.#locks = locks
    this.#channel = openChannel?.(this.#name)
    if (this.#channel) this.#channel.onmessage = () => this.#events.onSaved?.()
  }

  get isHeld(): boolean {
    return this.#isHeld
  }

  async begin(): Promise<void> {
    if (!(await this.#request({ ifAvailable: true }))) this.#wait()
  }

  /** Takes the site from the tab that holds it, for instance one that no longer answers; that tab is told. */
  async takeOver(): Promise<void> {
    if (this.#isHeld || this.#isReleased) return
    this.#waiting?.abort()
    await this.#request({ steal: true })
  }

  /** Tells the tabs that only look at this site that there is something new in the store. */
  tellSaved(): void {
    if (this.#isHeld && !this.#isReleased) this.#channel?.postMessage('saved')
  }

  /** Lets go of the site, or of the place in the line; nothing is told to this claim any more. */
  release(): void {
    this.#isReleased = true
    this.#isHeld = false
    this.#waiting?.abort()
    this.#channel?.close()
    this.#letGo()
  }

  #wait(): void {
    const waiting = new AbortController()
    this.#waiting = waiting
    void this.#request({ signal: waiting.signal }).then((isGranted) => {
      if (isGranted && !this.#isReleased) this.#events.onHeld?.()
    })
  }

  /** Resolves as soon as it is known whether the lock was granted; it is then kept until it is let go or taken. */
  #request(options: LockOptions): Promise<boolean> {
    if (!this.#locks) {
      this.#isHeld = true
      return Promise.resolve(true)
    }
    const locks = this.#locks
    return new Promise((resolve) => {
      let isGranted = false
      const keep = (lock: Lock | null) => {
        isGranted = lock !== null
        this.#isHeld = isGranted && !this.#isReleased
        resolve(isGranted)
        return this.#isHeld ? new Promise<void>((done) => (this.#letGo = done)) : undefined
      }
      const end = (error: unknown) => {
        if (isGranted) return this.#lose()
        const hasNoLocks = !isAbort(error)
        if (hasNoLocks) this.#isHeld = !this.#isReleased
        resolve(hasNoLocks)
      }
      locks.request(this.#name, options, keep).catch(end)
    })
  }

  #lose(): void {
    if (this.#isReleased) return
    this.#isHeld = false
    this.#wait()
    this.#events.onLost?.()
  }
}

// Anything but an abort means that this page gets no locks at all, as where its storage is blocked.
function isAbort(error: unknown): boolean {
  return error instanceof DOMException && error.name === 'AbortError'
}
