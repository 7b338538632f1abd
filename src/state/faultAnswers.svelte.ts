import type { EngineClient } from '../engine/client.ts'
import type { Progress } from '../engine/progress.ts'
import type { FaultAnswer, FaultInput } from '../model/faultAnswers.ts'
import type { Problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import type { FaultQuestion } from './faultSetup.ts'

/** An answer with what was asked for it. */
export interface AnsweredFault {
  readonly site: Site
  readonly input: FaultInput
  readonly answer: FaultAnswer
}

/**
 * What the engine says of a fault, with every joint as drawn and with the change that is tried. Of questions the newest
 * counts; an older answer stays until its own comes.
 */
export class FaultAnswers {
  readonly #engine: EngineClient
  readonly #question: () => FaultQuestion | null
  #drawn = $state.raw<AnsweredFault | null>(null)
  #changed = $state.raw<AnsweredFault | null>(null)
  #problems = $state.raw<readonly Problem[]>([])
  #progress = $state.raw<Progress | null>(null)
  #isStopped = $state(false)
  #asked: FaultQuestion | null = null

  readonly #isCurrent = $derived.by(() => {
    const question = this.#question()
    if (question === null) return false
    const { site, drawn, changed } = question
    return (
      isAnswered(this.#drawn, site, drawn) && (changed === null || isAnswered(this.#changed, site, changed))
    )
  })

  constructor(engine: EngineClient, question: () => FaultQuestion | null) {
    this.#engine = engine
    this.#question = question
  }

  /** With every joint as drawn; of now or of before. */
  get drawn(): AnsweredFault | null {
    return this.#drawn
  }

  /** With a change, of now or of before, even where none is tried any more. */
  get changed(): AnsweredFault | null {
    return this.#changed
  }

  /** Whether all that is asked now is answered. */
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

  /** Asks what is not known yet; called whenever the question changes. */
  async refresh(): Promise<void> {
    const question = this.#question()
    if (question === null || this.#isCurrent) {
      this.#asked = null
      this.#progress = null
      this.#problems = []
      return
    }
    if (this.#asked === question) return
    this.#asked = question
    this.#isStopped = false
    this.#progress = { stage: 'index', fraction: 0 }
    const { site, drawn, changed } = question
    if (!isAnswered(this.#drawn, site, drawn)) {
      const answer = await this.#ask(question, drawn)
      if (this.#asked !== question) return
      if (answer) this.#drawn = { site, input: drawn, answer }
      else return this.#end()
    }
    if (changed && !isAnswered(this.#changed, site, changed)) {
      const answer = await this.#ask(question, changed)
      if (this.#asked !== question) return
      if (answer) this.#changed = { site, input: changed, answer }
      else return this.#end()
    }
    this.#progress = null
    this.#problems = []
  }

  async #ask(question: FaultQuestion, input: FaultInput): Promise<FaultAnswer | null> {
    const outcome = await this.#engine.ask('faultCurrent', input, (progress) => {
      if (this.#asked === question) this.#progress = progress
    })
    if (this.#asked !== question) return null
    if (outcome.status === 'problem') this.#problems = outcome.problems
    return outcome.status === 'done' ? outcome.answer : null
  }

  #end(): void {
    this.#progress = null
    this.#asked = null
  }

  cancel(): void {
    if (this.#progress === null) return
    this.#end()
    this.#isStopped = true
    this.#engine.cancel('faultCurrent')
  }

  /** Nothing of before is known any more. */
  leave(): void {
    this.#drawn = null
    this.#changed = null
    this.#problems = []
    this.#isStopped = false
    this.#end()
  }
}

function isAnswered(answered: AnsweredFault | null, site: Site, input: FaultInput): boolean {
  return answered !== null && answered.site === site && isSameInput(answered.input, input)
}

/** Inputs are small: no array of the site is among them. */
function isSameInput(a: object, b: object): boolean {
  return a === b || JSON.stringify(a) === JSON.stringify(b)
}
