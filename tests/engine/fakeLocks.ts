import type { Locks } from '../../src/engine/workerWatch.ts'

interface Waiting {
  readonly name: string
  readonly grant: () => void
}

/** Locks as a browser has them, exclusive and granted in the order of asking; some hand holds them for a worker. */
export class FakeLocks implements Locks {
  readonly #held = new Set<string>()
  #waiting: Waiting[] = []

  get waiting(): readonly string[] {
    return this.#waiting.map(({ name }) => name)
  }

  /** Takes a lock as a worker would; what it returns gives it back as the worker's end does. */
  hold(name: string): () => void {
    this.#held.add(name)
    return () => {
      this.#held.delete(name)
      this.#grantNext(name)
    }
  }

  request(name: string, ...rest: unknown[]): Promise<never> {
    const callback = rest.at(-1) as () => unknown
    const signal = rest.length > 1 ? (rest[0] as LockOptions).signal : undefined
    return new Promise((resolve, reject) => {
      const grant = () => {
        this.#held.add(name)
        const release = () => {
          this.#held.delete(name)
          this.#grantNext(name)
        }
        const done = Promise.resolve().then(callback)
        done.finally(release).then(resolve as () => void, reject)
      }
      if (!this.#held.has(name)) return grant()
      const waiting = { name, grant }
      this.#waiting.push(waiting)
      signal?.addEventListener('abort', () => {
        this.#waiting = this.#waiting.filter((other) => other !== waiting)
        reject(new DOMException('the request was given up', 'AbortError'))
      })
    })
  }

  /** Lets what was granted be heard. */
  async settle(): Promise<void> {
    for (let round = 0; round < 10; round++) await Promise.resolve()
  }

  #grantNext(name: string): void {
    const next = this.#waiting.find((waiting) => waiting.name === name)
    if (!next) return
    this.#waiting = this.#waiting.filter((waiting) => waiting !== next)
    next.grant()
  }
}
