import type { EngineClient } from '../engine/client.ts'
import type { Progress } from '../engine/progress.ts'
import type { FaultSweepAnswer, FaultSweepInput } from '../model/faultAnswers.ts'
import type { Problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import type { FaultQuestion } from './faultSetup.ts'

interface Watched {
  readonly from: string
  readonly to: string
}

/** What the loss of each joint would cause: asked for by hand, for it may take its time on a large site. */
export class FaultLosses {
  readonly #engine: EngineClient
  readonly #question: () => FaultQuestion | null
  #watched = $state.raw<readonly Watched[]>([])
  #found = $state.raw<{
    readonly site: Site
    readonly input: FaultSweepInput
    readonly answer: FaultSweepAnswer
  } | null>(null)
  #progress = $state.raw<Progress | null>(null)
  #problems = $state.raw<readonly Problem[]>([])
  #isStopped = $state(false)
  #run = 0

  readonly #input = $derived.by((): { readonly site: Site; readonly input: FaultSweepInput } | null => {
    const question = this.#question()
    if (question === null) return null
    const { person: _, ...rest } = question.drawn
    return { site: question.site, input: { ...rest, watched: this.#watched } }
  })
  readonly #isCurrent = $derived.by(() => {
    const [found, now] = [this.#found, this.#input]
    if (found === null || now === null || found.site !== now.site) return false
    return JSON.stringify(found.input) === JSON.stringify(now.input)
  })

  constructor(engine: EngineClient, question: () => FaultQuestion | null) {
    this.#engine = engine
    this.#question = question
  }

  /** Pairs of parts whose volts are followed. */
  get watched(): readonly Watched[] {
    return this.#watched
  }

  watch(from: string, to: string): void {
    const isThere = this.#watched.some(
      (pair) => (pair.from === from && pair.to === to) || (pair.from === to && pair.to === from),
    )
    if (from !== to && !isThere) this.#watched = [...this.#watched, { from, to }]
  }

  /** These pairs and no others. */
  take(watched: readonly Watched[]): void {
    this.#watched = watched
  }

  unwatch(place: number): void {
    this.#watched = this.#watched.filter((_, k) => k !== place)
  }

  get answer(): FaultSweepAnswer | null {
    return this.#input && (this.#found?.answer ?? null)
  }

  get isCurrent(): boolean {
    return this.#isCurrent
  }

  get progress(): Progress | null {
    return this.#progress
  }

  get problems(): readonly Problem[] {
    return this.#problems
  }

  get isStopped(): boolean {
    return this.#isStopped
  }

  async find(): Promise<void> {
    const now = this.#input
    if (now === null) return
    const run = ++this.#run
    this.#isStopped = false
    this.#problems = []
    this.#progress = { stage: 'index', fraction: 0 }
    const outcome = await this.#engine.ask('faultSweep', now.input, (progress) => {
      if (this.#run === run) this.#progress = progress
    })
    if (this.#run !== run) return
    this.#progress = null
    if (outcome.status === 'done') this.#found = { ...now, answer: outcome.answer }
    if (outcome.status === 'problem') this.#problems = outcome.problems
  }

  cancel(): void {
    if (this.#progress === null) return
    this.#run++
    this.#progress = null
    this.#isStopped = true
    this.#engine.cancel('faultSweep')
  }

  leave(): void {
    this.cancel()
    this.#watched = []
    this.#found = null
    this.#problems = []
    this.#isStopped = false
  }
}
