import type { EngineClient } from '../engine/client.ts'
import type { Progress } from '../engine/progress.ts'
import type { AnswerTo, NetworkInput, RequestName, Requests } from '../engine/requests.ts'
import type { CurrentMapAnswer, JudgeAnswer, LocateAnswer } from '../model/answers.ts'
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
  #currentMap = $state.raw<CurrentMapAnswer | null>(null)
  #shownPair = $state.raw<ShownPair | null>(null)
  #progress = $state.raw<Progress | null>(null)
  #problems = $state.raw<readonly Problem[]>([])
  #isStopped = $state(false)
  engineState = $state<EngineState>('ready')

  readonly #isCurrent = $derived(
    this.#site !== null && this.#locate !== null && this.#belongs(this.#locate.basis, this.#site),
  )

  constructor(engine: EngineClient) {
    this.#engine = engine
  }

  get locate(): LocateAnswer | null {
    return this.#locate
  }

  get judge(): JudgeAnswer | null {
    return this.#judge
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

  /** What is being worked on, or null. */
  get progress(): Progress | null {
    return this.#progress
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
    this.#engine.setSite(site)
    if (isOther) {
      this.#locate = null
      this.#judge = null
      this.#currentMap = null
      this.#shownPair = null
      this.#problems = []
    }
    if (site === null) {
      this.#progress = null
      return
    }
    void this.#ask('judge', asFound, (answer) => (this.#judge = answer))
    void this.#ask('locate', asFound, (answer) => (this.#locate = answer), true)
    if (this.#shownPair) this.showCurrent(this.#shownPair)
  }

  /** Stops what is asked about the whole site; without work under way there is nothing to stop. */
  cancel(): void {
    if (this.#progress === null) return
    for (const name of ['judge', 'locate', 'currentMap'] as const) this.#engine.cancel(name)
    this.#progress = null
    this.#isStopped = true
  }

  /** Asks again what was stopped; what the engine had done of it by then is not lost. */
  goOn(): void {
    if (this.#isStopped) this.refresh(this.#site)
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

  #belongs(basis: LocateAnswer['basis'], site: Site): boolean {
    return basis.drawingRevision === site.drawing.revision && basis.recordLength === site.record.length
  }
}
