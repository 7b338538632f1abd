import type { EngineClient, Outcome } from '../engine/client.ts'
import type { Progress } from '../engine/progress.ts'
import type { Requests } from '../engine/requests.ts'
import type {
  DrillAnswer,
  DrillCallInput,
  DrillHiding,
  DrillQuestion,
  DrillReadingInput,
  DrillStartInput,
} from '../model/drill.ts'
import type { Problem } from '../model/problem.ts'
import type { Kit, Lead } from '../model/schema/record.ts'
import { asFound } from './results.svelte.ts'

type DrillRequest = 'drillStart' | 'drillReading' | 'drillCall' | 'drillAsk'
const requests: readonly DrillRequest[] = ['drillStart', 'drillReading', 'drillCall', 'drillAsk']

/** How a drill is set by the trainer: what it is taken with, and what may be asked. Kits and leads by their ids; null: the first. */
export interface DrillSetup {
  readonly kit: string | null
  readonly lead: string | null
  readonly mayAsk: DrillStartInput['mayAsk']
}

/**
 * The practice drill that goes on, as far as it may be seen: the hidden joint is known to the engine alone until the drill is
 * over. Nothing of it touches the site.
 */
export class DrillDesk {
  readonly #engine: Pick<EngineClient, 'ask' | 'cancel'>
  #answer = $state.raw<DrillAnswer | null>(null)
  #progress = $state.raw<Progress | null>(null)
  #problems = $state.raw<readonly Problem[]>([])
  #from = $state<string | null>(null)
  #to = $state<string | null>(null)
  #run = 0
  #setup = $state.raw<DrillSetup>({ kit: null, lead: null, mayAsk: { suspects: true, next: true } })

  constructor(engine: Pick<EngineClient, 'ask' | 'cancel'>) {
    this.#engine = engine
  }

  /** Null while none has begun. */
  get answer(): DrillAnswer | null {
    return this.#answer
  }

  get isOn(): boolean {
    return this.#answer !== null && this.#answer.revealed === null
  }

  /** What is being worked on; null while nothing is. */
  get progress(): Progress | null {
    return this.#progress
  }

  get problems(): readonly Problem[] {
    return this.#problems
  }

  /** Addresses of the pair that is to be read next. */
  get from(): string | null {
    return this.#from
  }

  get to(): string | null {
    return this.#to
  }

  setEnd(end: 'from' | 'to', part: string | null): void {
    if (end === 'from') this.#from = part
    else this.#to = part
  }

  /** As the last drill was set: the next one begins with it. */
  get setup(): DrillSetup {
    return this.#setup
  }

  set(change: Partial<DrillSetup>): void {
    this.#setup = { ...this.#setup, ...change }
  }

  /** Hides a joint; a drill that went on is over with that. False where it could not be. */
  async start(hiding: DrillHiding, kit: Kit, lead: Lead | null): Promise<boolean> {
    const isBegun = await this.#ask('drillStart', {
      ...asFound,
      hiding,
      kit,
      lead,
      mayAsk: this.#setup.mayAsk,
    })
    if (isBegun) this.#from = this.#to = null
    return isBegun
  }

  read(input: DrillReadingInput): Promise<boolean> {
    return this.#ask('drillReading', input)
  }

  /** Reads the pair that is chosen; the first clip stays where it is for the next one. */
  async readPair(): Promise<boolean> {
    if (this.#from === null || this.#to === null) return false
    const isRead = await this.read({ how: 'new', from: this.#from, to: this.#to })
    if (isRead) this.#to = null
    return isRead
  }

  call(input: DrillCallInput): Promise<boolean> {
    return this.#ask('drillCall', input)
  }

  /** Asks for help with the readings as they are; counted. */
  help(question: DrillQuestion): Promise<boolean> {
    return this.#ask('drillAsk', { question })
  }

  /** Stops what is being worked on; the drill stands where it stood. */
  cancel(): void {
    if (this.#progress === null) return
    this.#run++
    this.#progress = null
    for (const name of requests) this.#engine.cancel(name)
  }

  /** Puts a drill away that is over, or goes on; also with another site. */
  leave(): void {
    this.cancel()
    this.#answer = null
    this.#problems = []
    this.#from = this.#to = null
  }

  async #ask<N extends DrillRequest>(name: N, input: Requests[N][0]): Promise<boolean> {
    const run = ++this.#run
    this.#problems = []
    this.#progress = { stage: 'index', fraction: 0 }
    const outcome: Outcome<N> = await this.#engine.ask(name, input, (progress) => {
      if (this.#run === run) this.#progress = progress
    })
    if (this.#run !== run) return false
    this.#progress = null
    if (outcome.status === 'problem') this.#problems = outcome.problems
    // a drill that the engine no longer has is over for good: what it hid is gone
    if (this.#problems.some(({ code }) => code === 'drill.none')) this.#answer = null
    if (outcome.status === 'done') this.#answer = outcome.answer
    return outcome.status === 'done'
  }
}
