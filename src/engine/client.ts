import type { Basis } from '../model/answers.ts'
import type { Problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import { basisOf } from './basis.ts'
import type { Progress } from './progress.ts'
import type { FromWorker, ToWorker } from './protocol.ts'
import type { AnswerTo, Request, RequestName, Requests } from './requests.ts'
import { siteChange } from './siteDiff.ts'
import { ownLocks, watchLifeLock, type Locks } from './workerWatch.ts'

/** How a question ended. `cancelled`: taken back, a newer one of its name, another site or the end; `died`: the engine failed. */
export type Outcome<N extends RequestName> =
  | { readonly status: 'done'; readonly answer: AnswerTo<N>; readonly basis: Basis }
  | { readonly status: 'problem'; readonly problems: readonly Problem[] }
  | { readonly status: 'cancelled' }
  | { readonly status: 'died' }

export type EngineState = 'ready' | 'restarting' | 'failed'

export interface EngineClientOptions {
  readonly spawn: () => Worker
  readonly onState?: (state: EngineState) => void
  /** By what a worker's end is noticed; those of the browser where left out. */
  readonly locks?: Locks | null
  /** Calls `act` once the time is over, unless what it returns is called before; the browser's timer where left out. */
  readonly after?: (delayMs: number, act: () => void) => () => void
}

/**
 * How long a worker may take to start, its file's way through a slow line included. One that has not said a word by
 * then counts as dead: what closes itself while it starts tells nobody.
 */
export const startWithinMs = 30_000

interface Pending {
  readonly id: number
  readonly request: Request
  readonly settle: (outcome: Outcome<RequestName>) => void
  readonly onProgress: ((progress: Progress) => void) | undefined
}

/**
 * The page's end of the worker. Every question is settled exactly once; of each name only the newest is asked. A
 * worker that dies is started once more, gets the site and the questions that are still open, and if it dies
 * again before it has answered them all, they are settled as `died` and `failed` is told. Then nothing is
 * computed until another state of the site is set: what broke the engine may be gone.
 *
 * A worker may end without a word: the browser took its memory, or it closed itself. Once ready it holds a lock until
 * it ends, and the client waits for that lock. Where there are no locks, only an end with an error is noticed. Before
 * it is ready there is no lock to wait for: it has `startWithinMs` to say its first word.
 */
export class EngineClient {
  readonly #options: EngineClientOptions
  readonly #pending = new Map<RequestName, Pending>()
  #worker: Worker | null = null
  #site: Site | null = null
  /** What the worker holds. */
  #sent: Site | null = null
  #lastId = 0
  /** The questions that the worker was started again for and has yet to answer. */
  #replayed: ReadonlySet<number> = new Set()
  #mayRestart = true
  #endWatch: () => void = () => undefined
  #endStart: () => void = () => undefined
  #isDisposed = false

  constructor(options: EngineClientOptions) {
    this.#options = options
    this.#start()
  }

  /** What questions are about from now on. Only what changed is sent; another site ends all open questions. */
  setSite(site: Site | null): void {
    if (this.#isDisposed || site === this.#site) return
    const isOther = site === null || site.id !== this.#site?.id
    this.#site = site
    if (isOther) this.#settleAll({ status: 'cancelled' })
    if (this.#worker === null && site !== null) {
      this.#mayRestart = true
      this.#options.onState?.('restarting')
      this.#start()
    } else this.#sendSite()
  }

  /** Asks about the site that is set; without one there is nothing to answer, and the question is cancelled. */
  ask<N extends RequestName>(
    name: N,
    input: Requests[N][0],
    onProgress?: (progress: Progress) => void,
  ): Promise<Outcome<N>> {
    const site = this.#site
    if (this.#isDisposed || site === null) return Promise.resolve({ status: 'cancelled' })
    if (this.#worker === null) return Promise.resolve({ status: 'died' })
    return new Promise((resolve) => {
      const older = this.#pending.get(name)
      const pending: Pending = {
        id: ++this.#lastId,
        request: { name, input } as Request,
        settle: resolve,
        onProgress,
      }
      this.#pending.set(name, pending)
      // the worker drops the older one by itself when it hears of the newer
      older?.settle({ status: 'cancelled' })
      this.#sendAsk(pending)
    })
  }

  /** Ends the open question of a name, if there is one; the worker stops at its next pause. */
  cancel(name: RequestName): void {
    const pending = this.#pending.get(name)
    if (!pending) return
    this.#pending.delete(name)
    this.#post({ kind: 'cancel', id: pending.id })
    this.#recover()
    pending.settle({ status: 'cancelled' })
  }

  /** Ends the worker and all open questions. */
  dispose(): void {
    this.#isDisposed = true
    this.#stop()
    this.#settleAll({ status: 'cancelled' })
  }

  #start(): void {
    const worker = this.#options.spawn()
    this.#worker = worker
    this.#sent = null
    worker.addEventListener('message', ({ data }: MessageEvent<FromWorker>) => {
      if (this.#worker === worker) this.#hear(worker, data)
    })
    const { after = afterTimeout } = this.#options
    this.#endStart = after(startWithinMs, () => {
      if (this.#worker === worker) this.#died()
    })
    const die = (event: Event) => {
      event.preventDefault()
      if (this.#worker === worker) this.#died()
    }
    worker.addEventListener('error', die)
    worker.addEventListener('messageerror', die)
    this.#sendSite()
  }

  #stop(): void {
    this.#endWatch()
    this.#endWatch = () => undefined
    this.#endStart()
    this.#worker?.terminate()
    this.#worker = null
  }

  #died(): void {
    this.#stop()
    if (!this.#mayRestart) {
      this.#options.onState?.('failed')
      this.#settleAll({ status: 'died' })
      return
    }
    this.#mayRestart = false
    this.#options.onState?.('restarting')
    this.#start()
    const open = [...this.#pending.values()]
    this.#replayed = new Set(open.map(({ id }) => id))
    for (const pending of open) this.#sendAsk(pending)
  }

  #hear(worker: Worker, message: FromWorker): void {
    this.#endStart()
    if (message.kind === 'ready') {
      this.#watch(worker, message.lifeLock)
      return this.#options.onState?.('ready')
    }
    const pending = [...this.#pending.values()].find(({ id }) => id === message.id)
    // the end of a question that has been settled already
    if (!pending) return
    if (message.kind === 'progress') return pending.onProgress?.(message.progress)
    this.#pending.delete(pending.request.name)
    this.#recover()
    pending.settle(outcomeOf(message))
  }

  #watch(worker: Worker, lifeLock: string | null): void {
    const { locks = ownLocks() } = this.#options
    if (locks === null || lifeLock === null) return
    this.#endWatch()
    this.#endWatch = watchLifeLock(locks, lifeLock, () => {
      if (this.#worker === worker) this.#died()
    })
  }

  /** A worker that has answered all that the one before it died over is as good as new. */
  #recover(): void {
    const isOpen = [...this.#pending.values()].some(({ id }) => this.#replayed.has(id))
    if (!isOpen) this.#mayRestart = true
  }

  #sendSite(): void {
    if (this.#worker === null || this.#sent === this.#site) return
    this.#post({ kind: 'site', change: siteChange(this.#sent, this.#site) })
    this.#sent = this.#site
  }

  #sendAsk({ id, request }: Pending): void {
    if (this.#site) this.#post({ kind: 'ask', id, basis: basisOf(this.#site), ...request })
  }

  #post(message: ToWorker): void {
    this.#worker?.postMessage(message)
  }

  #settleAll(outcome: Outcome<RequestName>): void {
    const open = [...this.#pending.values()]
    this.#pending.clear()
    for (const { settle } of open) settle(outcome)
  }
}

function afterTimeout(delayMs: number, act: () => void): () => void {
  const timer = setTimeout(act, delayMs)
  return () => clearTimeout(timer)
}

function outcomeOf(message: Exclude<FromWorker, { kind: 'ready' | 'progress' }>): Outcome<RequestName> {
  switch (message.kind) {
    case 'done':
      return { status: 'done', answer: message.answer, basis: message.basis }
    case 'problem':
      return { status: 'problem', problems: message.problems }
    case 'cancelled':
      return { status: 'cancelled' }
  }
}
