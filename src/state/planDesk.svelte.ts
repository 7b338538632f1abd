import type { EngineClient } from '../engine/client.ts'
import type { Progress } from '../engine/progress.ts'
import type {
  CoverageAnswer,
  CoverageInput,
  PlanPairInput,
  PlanSeverity,
  PlanTerms,
  WalkAnswer,
} from '../model/planning.ts'
import type { Problem } from '../model/problem.ts'
import type { Plan } from '../model/schema/planning.ts'
import type { Kit, Lead } from '../model/schema/record.ts'
import { Proposing } from './proposing.svelte.ts'
import type { Session } from './session.svelte.ts'

/** What is asked of a plan as it is now; another object whenever anything of it has changed. */
interface Question {
  readonly input: CoverageInput
}

/**
 * The plan that is worked on, how it is looked at, and what it would show. Of questions the newest counts; an older
 * answer stays until its own comes, and `isCurrent` says which it is.
 */
export class PlanDesk {
  readonly #session: Session
  readonly #engine: EngineClient
  readonly proposing: Proposing
  #chosen = $state<string | null>(null)
  /** What a joint is thought to become. */
  /** What the map shows: of the joints, the pairs, the way. */
  showsSights = $state(true)
  showsPairs = $state(true)
  showsWay = $state(true)
  severity = $state<PlanSeverity>('open')
  /** Whether bare contact that conducts today is relied on. */
  countsIncidental = $state(true)
  /** Null: as in the record. */
  #kit = $state.raw<Kit | null>(null)
  #lead = $state.raw<Lead | null>(null)
  #coverage = $state.raw<{ readonly of: Question; readonly answer: CoverageAnswer } | null>(null)
  #required = $state.raw<{ readonly of: Question; readonly answer: CoverageAnswer } | null>(null)
  #walk = $state.raw<{
    readonly pairs: readonly PlanPairInput[]
    readonly persons: 1 | 2
    readonly answer: WalkAnswer
  } | null>(null)
  #problems = $state.raw<readonly Problem[]>([])
  #progress = $state.raw<Progress | null>(null)
  #isStopped = $state(false)
  #asked: Question | null = null

  readonly #plan = $derived.by((): Plan | null => {
    const plans = this.#session.site?.drawing.plans ?? []
    return plans.find(({ id }) => id === this.#chosen) ?? plans.at(0) ?? null
  })
  readonly #terms = $derived.by((): PlanTerms => ({
    countIncidental: this.countsIncidental,
    asBuilt: true,
    severity: this.severity,
    ...(this.#kit ? { kit: this.#kit, lead: this.#lead } : {}),
  }))
  readonly #question = $derived.by((): Question | null => {
    if (this.#session.site === null) return null
    const pairs = (this.#plan?.pairs ?? []).map(({ from, to }) => ({ from, to }))
    return { input: { ...this.#terms, pairs } }
  })
  readonly #isCurrent = $derived(this.#coverage !== null && this.#coverage.of === this.#question)

  constructor(session: Session, engine: EngineClient) {
    this.#session = session
    this.#engine = engine
    this.proposing = new Proposing(engine)
  }

  /** The one that was chosen, else the first; null where there is none. */
  get plan(): Plan | null {
    return this.#plan
  }

  choose(plan: string | null): void {
    this.#chosen = plan
  }

  /** With what and against what it is held. */
  get terms(): PlanTerms {
    return this.#terms
  }

  /** Another instrument and lead than those of the record; null for those. */
  takeKit(kit: Kit | null, lead: Lead | null): void {
    this.#kit = kit
    this.#lead = lead
  }

  get kit(): Kit | null {
    return this.#kit
  }

  get lead(): Lead | null {
    return this.#lead
  }

  get question(): Question | null {
    return this.#question
  }

  /** What the plan would show, of now or of before its last change. */
  get coverage(): CoverageAnswer | null {
    return this.#coverage?.answer ?? null
  }

  /** Of the proposal that is looked at, else of the plan. */
  get shownCoverage(): CoverageAnswer | null {
    return this.proposing.draft?.answer.coverage ?? this.coverage
  }

  /** The pairs that `shownCoverage` is of, or will be. */
  get shownPairs(): readonly PlanPairInput[] {
    return this.proposing.draft?.answer.pairs ?? this.#question?.input.pairs ?? []
  }

  /** One of `shownPairs`, with its number in the plan; null where it is in none. */
  pairAt(place: number): (PlanPairInput & { readonly id: number | null }) | null {
    const pair = this.shownPairs.at(place)
    if (!pair) return null
    return { ...pair, id: this.proposing.draft ? null : (this.#plan?.pairs.at(place)?.id ?? null) }
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

  /** The user stopped the work. */
  get isStopped(): boolean {
    return this.#isStopped
  }

  /** Asks what the plan would show, unless that is known or asked already; called whenever the question changes. */
  async refresh(): Promise<void> {
    const question = this.#question
    if (question === null) return
    if (this.#isCurrent || this.#asked === question) return
    this.#asked = question
    this.#isStopped = false
    this.#progress = { stage: 'index', fraction: 0 }
    const outcome = await this.#engine.ask('coverage', question.input, (progress) => {
      if (this.#asked === question) this.#progress = progress
    })
    if (this.#asked !== question) return
    this.#progress = null
    if (outcome.status === 'done') this.#coverage = { of: question, answer: outcome.answer }
    this.#problems = outcome.status === 'problem' ? outcome.problems : []
    if (outcome.status === 'done') await this.#askRequired(question)
    else this.#asked = null
  }

  /** How one walks through `shownPairs`, of now or of before their last change; null where there is nothing to walk. */
  get walk(): WalkAnswer | null {
    return this.shownPairs.length === 0 ? null : (this.#walk?.answer ?? null)
  }

  /** The walk is that of the pairs as they are now. */
  get isWalkCurrent(): boolean {
    return (
      this.#walk !== null &&
      this.#walk.pairs === this.shownPairs &&
      this.#walk.persons === this.proposing.persons
    )
  }

  /** Asks for the walk through what is shown; called whenever that changes. */
  async refreshWalk(): Promise<void> {
    const { shownPairs: pairs } = this
    const { persons } = this.proposing
    if (pairs.length === 0 || this.isWalkCurrent) return
    const input = { pairs: pairs.map(({ from, to }) => ({ from, to })), persons, order: 'asGiven' as const }
    const outcome = await this.#engine.ask('walk', input)
    if (outcome.status === 'done') this.#walk = { pairs, persons, answer: outcome.answer }
  }

  /** The pairs of the plan in an order, and from ends, that make a short walk; null where there is none. */
  async shortWalk(): Promise<WalkAnswer | null> {
    const pairs = (this.#plan?.pairs ?? []).map(({ from, to }) => ({ from, to }))
    const { persons } = this.proposing
    const outcome = await this.#engine.ask('walk', { pairs, persons, order: 'short' })
    return outcome.status === 'done' ? outcome.answer : null
  }

  /** What the pairs that the contract asks for would show alone; null while that is not known. */
  get requiredCoverage(): CoverageAnswer | null {
    return this.#required !== null && this.#required.of === this.#question ? this.#required.answer : null
  }

  async #askRequired(question: Question): Promise<void> {
    const pairs = (this.#plan?.pairs ?? []).filter(({ required }) => required)
    if (pairs.length === 0 || this.#question !== question) return
    const required = pairs.map(({ from, to }) => ({ from, to }))
    const outcome = await this.#engine.ask('coverage', { ...question.input, pairs: required })
    if (outcome.status === 'done') this.#required = { of: question, answer: outcome.answer }
  }

  cancel(): void {
    if (this.#progress === null) return
    this.#asked = null
    this.#progress = null
    this.#isStopped = true
    this.#engine.cancel('coverage')
  }

  goOn(): void {
    void this.refresh()
  }

  /** Another site, or none: nothing of the one before is shown on it. */
  leave(): void {
    this.#chosen = null
    this.#isStopped = false
    this.#asked = null
    this.#coverage = null
    this.#required = null
    this.#walk = null
    this.#problems = []
    this.#progress = null
    this.proposing.putAway()
  }
}
