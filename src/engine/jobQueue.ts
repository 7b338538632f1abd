import type { Progress } from './progress.ts'

/** A piece of work that pauses often, under a number of its asker and a name of which only the newest counts. */
export interface Job<T> {
  readonly id: number
  readonly name: string
  /** Of waiting jobs the one with the lowest rank goes first; of equal ranks the one that came first. */
  readonly rank: number
  readonly steps: Generator<Progress, T>
}

export interface JobQueueOptions<T> {
  /** Milliseconds of a clock that only goes forward. */
  readonly now: () => number
  readonly onProgress: (id: number, progress: Progress) => void
  readonly onDone: (id: number, result: T) => void
  readonly onCancelled: (id: number) => void
}

/** A turn is as long as one may wait for a message to be heard. */
export const turnMs = 8
/** Progress of a job is told at most this often. */
export const progressEveryMs = 100

interface Waiting<T> extends Job<T> {
  toldMs: number
}

/**
 * Jobs in one thread: worked on in turns of some milliseconds, between which its owner hears messages. A new job
 * takes the place of an older one of its name; a job of lower rank that comes in is worked on before one that
 * has begun. Holds no timer and no thread: whoever owns it calls `turn` again and again while it says so.
 */
export class JobQueue<T> {
  readonly #options: JobQueueOptions<T>
  #waiting: Waiting<T>[] = []

  constructor(options: JobQueueOptions<T>) {
    this.#options = options
  }

  get isEmpty(): boolean {
    return this.#waiting.length === 0
  }

  add(job: Job<T>): void {
    this.#drop(({ name }) => name === job.name)
    const at = this.#waiting.findIndex(({ rank }) => rank > job.rank)
    const place = at < 0 ? this.#waiting.length : at
    this.#waiting = this.#waiting.toSpliced(place, 0, { ...job, toldMs: this.#options.now() })
  }

  cancel(id: number): void {
    this.#drop((job) => job.id === id)
  }

  cancelAll(): void {
    this.#drop(() => true)
  }

  /** Works for one turn on the job that is due; true while there is more to do. What a job throws goes through. */
  turn(): boolean {
    const [job] = this.#waiting
    if (!job) return false
    const { now, onProgress, onDone } = this.#options
    const startMs = now()
    for (;;) {
      const step = job.steps.next()
      const timeMs = now()
      if (step.done) {
        this.#waiting = this.#waiting.filter((other) => other !== job)
        onDone(job.id, step.value)
        return !this.isEmpty
      }
      if (timeMs - job.toldMs >= progressEveryMs) {
        job.toldMs = timeMs
        onProgress(job.id, step.value)
      }
      if (timeMs - startMs >= turnMs) return true
    }
  }

  #drop(isUnwanted: (job: Waiting<T>) => boolean): void {
    const dropped = this.#waiting.filter(isUnwanted)
    if (dropped.length === 0) return
    this.#waiting = this.#waiting.filter((job) => !dropped.includes(job))
    for (const { id, steps } of dropped) {
      // lets whatever the job has open be closed; what it returns then is nobody's
      steps.return(undefined as T)
      this.#options.onCancelled(id)
    }
  }
}
