import type { EngineClient } from '../engine/client.ts'
import type { Progress } from '../engine/progress.ts'
import { planPatterns, type PlanAnswer, type PlanInput, type PlanTerms } from '../model/planning.ts'
import type { Problem } from '../model/problem.ts'
import type { Drawing } from '../model/schema/drawing.ts'
import type { Plan } from '../model/schema/planning.ts'

/** A way of laying out a plan: chosen for what it shows, or a pattern that crews use. */
export type How = PlanInput['how']
export const hows: readonly How[] = ['proposed', ...planPatterns]

export interface Proposal {
  readonly how: How
  readonly input: PlanInput
  readonly answer: PlanAnswer
  readonly drawing: Drawing
}

/** What proposals are laid out for: the plan whose required pairs come first, the site, kit and severity. */
export interface ProposeFor {
  readonly drawing: Drawing
  readonly plan: Plan | null
  readonly terms: PlanTerms
}

/**
 * Proposals for a plan, each by one of the ways, and the one that is looked at as a draft. Nothing of them is in the
 * plan before it is accepted.
 */
export class Proposing {
  readonly #engine: EngineClient
  /** 0: as few pairs as show what can be shown; 1: as many as tell apart what can be. */
  tellApart = $state(0)
  timesShown = $state<1 | 2>(1)
  mostMinutes = $state<number | null>(null)
  persons = $state<1 | 2>(1)
  #made = $state.raw<readonly Proposal[]>([])
  #draft = $state<How | null>(null)
  #working = $state<How | null>(null)
  #progress = $state.raw<Progress | null>(null)
  #problems = $state.raw<readonly Problem[]>([])
  #asked = 0

  constructor(engine: EngineClient) {
    this.#engine = engine
  }

  get made(): readonly Proposal[] {
    return this.#made
  }

  /** What is looked at instead of the plan. */
  get draft(): Proposal | null {
    return this.#made.find(({ how }) => how === this.#draft) ?? null
  }

  get working(): How | null {
    return this.#working
  }

  get progress(): Progress | null {
    return this.#progress
  }

  get problems(): readonly Problem[] {
    return this.#problems
  }

  lookAt(how: How | null): void {
    this.#draft = how
  }

  /** Asks for each way, one after the other; what was made for other terms is dropped. The first is looked at. */
  async propose(ways: readonly How[], { drawing, plan, terms }: ProposeFor): Promise<void> {
    const asked = ++this.#asked
    this.#problems = []
    for (const how of ways) {
      this.#working = how
      this.#progress = { stage: 'index', fraction: 0 }
      const input = this.#inputOf(how, plan, terms)
      const outcome = await this.#engine.ask('plan', input, (progress) => {
        if (asked === this.#asked) this.#progress = progress
      })
      if (asked !== this.#asked) return
      if (outcome.status === 'problem') this.#problems = outcome.problems
      if (outcome.status !== 'done') break
      const made = { how, input, answer: outcome.answer, drawing }
      this.#made = [...this.#made.filter((other) => other.how !== how), made]
      if (how === ways[0]) this.#draft = how
    }
    this.#working = null
    this.#progress = null
  }

  cancel(): void {
    if (this.#working === null) return
    this.#asked++
    this.#working = null
    this.#progress = null
    this.#engine.cancel('plan')
  }

  /** Nothing of the proposals is kept. */
  putAway(): void {
    this.cancel()
    this.#made = []
    this.#draft = null
    this.#problems = []
  }

  #inputOf(how: How, plan: Plan | null, terms: PlanTerms): PlanInput {
    const required = (plan?.pairs ?? []).filter((pair) => pair.required)
    return {
      ...terms,
      how,
      required: required.map(({ from, to }) => ({ from, to })),
      tellApart: this.tellApart,
      timesShown: this.timesShown,
      mostMinutes: this.mostMinutes,
      persons: this.persons,
    }
  }
}
