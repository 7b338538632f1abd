import type { EngineClient } from '../engine/client.ts'
import type { Progress } from '../engine/progress.ts'
import type { AnswerTo, NetworkInput, RequestName, Requests } from '../engine/requests.ts'
import type { Basis, CurrentMapAnswer, JudgeAnswer, LocateAnswer, NextAnswer } from '../model/answers.ts'
import type { Problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'

/** How the joints are counted on screen: as found, bare contact included. */
export const asFound: NetworkInput = { countIncidental: true, asBuilt: true }

export type EngineState = 'ready' | 'restarting' | 'failed'

/** The pair whose current is shown. */
export interface ShownPair {
  readonly from: string
  readonly to: string
}

/**
 * What the engine says of the site that is open. Answers stay until newer ones come, and `isCurrent` says
 * whether they belong to the site as it is now: an older answer is never shown as current.
 */
export class Results {
  readonly #engine: EngineClient
  #site = $state.raw<Site | null>(null)
  #locate = $state.raw<LocateAnswer | null>(null)
  #judge = $state.raw<JudgeAnswer | null>(null)
  #next = $state.raw<NextAnswer | null>(null)
  #currentMap = $state.raw<CurrentMapAnswer | null>(null)
  #shownPair = $state.raw<ShownPair | null>(null)
  #progress = $state.raw<Progress | null>(null)
  #nextProgress = $state.raw<Progress | null>(null)
  #problems = $state.raw<readonly Problem[]>([])
  #nextAsked = 0
  #isStopped = $state(false)
  #isNextStopped = $state(false)
  engineState = $state<EngineState>('ready')

  readonly #isCurrent = $derived(this.#belongs(this.#locate))
  readonly #isNextCurrent = $derived(this.#isCurrent && this.#belongs(this.#next))

  constructor(engine: EngineClient) {
    this.#engine = engine
  }

  get locate(): LocateAnswer | null {
    return this.#locate
  }

  get judge(): JudgeAnswer | null {
    return this.#judge
  }

  /** What to do next, worked out after every ranking. */
  get next(): NextAnswer | null {
    return this.#next
  }

  /** Current through the joints for the pair that is shown, once it is known. */
  get currentMap(): CurrentMapAnswer | null {
    const pair = this.#shownPair
    const map = this.#currentMap
    return pair && map && map.from === pair.from && map.to === pair.to ? map : null
  }

  get isCurrent(): boolean {
    return this.#isCurrent
  }

  get isNextCurrent(): boolean {
    return this.#isNextCurrent
  }

  /** What is being worked on, or null. */
  get progress(): Progress | null {
    return this.#progress
  }

  /** The ranking is there and what to do next is being worked out; else null. */
  get nextProgress(): Progress | null {
    return this.#nextProgress
  }

  /** The user stopped the work on what to do next, be it with the ranking or after it. */
  get isNextStopped(): boolean {
    return this.#isStopped || this.#isNextStopped
  }

  /** The user stopped the work: the answers are those of before, and nothing is on its way. */
  get isStopped(): boolean {
    return this.#isStopped
  }

  get problems(): readonly Problem[] {
    return this.#problems
  }

  /** Asks everything about a site anew; called whenever the site has changed. */
  refresh(site: Site | null): void {
    const isOther = site?.id !== this.#site?.id
    this.#site = site
    this.#isStopped = false
    this.#dropNext()
    this.#isNextStopped = false
    this.#engine.setSite(site)
    if (isOther) {
      this.#locate = null
      this.#judge = null
      this.#next = null
      this.#currentMap = null
      this.#shownPair = null
      this.#problems = []
    }
    if (site === null) {
      this.#progress = null
      return
    }
    void this.#ask('judge', asFound, (answer) => (this.#judge = answer))
    void this.#ask('locate', asFound, (answer) => this.#takeRanking(answer), true)
    if (this.#shownPair) this.showCurrent(this.#shownPair)
  }

  /**
   * Stops what is asked about the whole site; without work under way there is nothing to stop. After the ranking only
   * the work on what to do next is stopped, and the ranking stays current.
   */
  cancel(): void {
    if (this.#dropNext()) this.#isNextStopped = true
    if (this.#progress === null) return
    for (const name of ['judge', 'locate', 'currentMap'] as const) this.#engine.cancel(name)
    this.#progress = null
    this.#isStopped = true
  }

  /** Asks again what was stopped; what the engine had done of it by then is not lost. */
  goOn(): void {
    if (this.#isStopped) this.refresh(this.#site)
    else if (this.#isNextStopped) this.#askNext()
  }

  /** Shows how the measuring current of a pair spreads, or nothing. */
  showCurrent(pair: ShownPair | null): void {
    this.#shownPair = pair
    if (pair === null) return
    void this.#ask('currentMap', { ...asFound, ...pair }, (answer) => (this.#currentMap = answer))
  }

  /** One question whose answer only the asker needs; null when it was overtaken or could not be answered. */
  async ask<N extends RequestName>(name: N, input: Requests[N][0]): Promise<AnswerTo<N> | null> {
    const outcome = await this.#engine.ask(name, input)
    return outcome.status === 'done' ? outcome.answer : null
  }

  #takeRanking(answer: LocateAnswer): void {
    this.#locate = answer
    this.#askNext()
  }

  #askNext(): void {
    this.#isNextStopped = false
    this.#nextProgress = { stage: 'index', fraction: 0 }
    void this.#answerNext()
  }

  async #answerNext(): Promise<void> {
    const asked = ++this.#nextAsked
    const outcome = await this.#engine.ask('next', asFound, (progress) => (this.#nextProgress = progress))
    // overtaken by a newer question, which has a progress of its own, or taken back
    if (asked !== this.#nextAsked) return
    this.#nextProgress = null
    if (outcome.status === 'done') this.#next = outcome.answer
  }

  /** Takes back the question of what to do next; false where none is open. */
  #dropNext(): boolean {
    if (this.#nextProgress === null) return false
    this.#nextProgress = null
    this.#nextAsked++
    this.#engine.cancel('next')
    return true
  }

  async #ask<N extends RequestName>(
    name: N,
    input: Requests[N][0],
    keep: (answer: AnswerTo<N>) => void,
    isMain = false,
  ): Promise<void> {
    const site = this.#site
    if (isMain) this.#progress = { stage: 'index', fraction: 0 }
    const outcome = await this.#engine.ask(name, input, (progress) => {
      if (isMain) this.#progress = progress
    })
    // another site, or an older state of this one: whoever asked later gets the answer
    if (outcome.status === 'cancelled' || site !== this.#site) return
    if (isMain) this.#progress = null
    if (outcome.status === 'done') keep(outcome.answer)
    if (isMain) this.#problems = outcome.status === 'problem' ? outcome.problems : []
  }

  /** Whether an answer is of the site as it is now. */
  #belongs(answer: { readonly basis: Basis } | null): boolean {
    const site = this.#site
    if (site === null || answer === null) return false
    const { drawingRevision, recordLength } = answer.basis
    return drawingRevision === site.drawing.revision && recordLength === site.record.length
  }
}
