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
import { drillToKeep, keepDrillHere, readKeptDrill, type KeptDrill } from './keptDrill.ts'
import type { KeyValues } from './preferences.svelte.ts'
import { asFound } from './results.svelte.ts'
import type { Session } from './session.svelte.ts'

type DrillRequest = 'drillStart' | 'drillReading' | 'drillCall' | 'drillAsk' | 'drillResume'
const requests: readonly DrillRequest[] = [
  'drillStart',
  'drillReading',
  'drillCall',
  'drillAsk',
  'drillResume',
]

/** How a drill is set by the trainer: what it is taken with, and what may be asked. Kits and leads by their ids; null: the first. */
export interface DrillSetup {
  readonly kit: string | null
  readonly lead: string | null
  readonly mayAsk: DrillStartInput['mayAsk']
}

/**
 * The practice drill that goes on, as far as it may be seen: the hidden joint is known to the engine alone until the drill is
 * over. Nothing of it touches the site. While it goes on, its steps are kept on this device: it can be gone through again when the
 * program starts anew or another site was open meanwhile.
 */
export class DrillDesk {
  readonly #engine: Pick<EngineClient, 'ask' | 'cancel'>
  #answer = $state.raw<DrillAnswer | null>(null)
  #progress = $state.raw<Progress | null>(null)
  #problems = $state.raw<readonly Problem[]>([])
  #from = $state<string | null>(null)
  #to = $state<string | null>(null)
  #run = 0
  readonly #session: Pick<Session, 'site'>
  readonly #store: KeyValues | null
  #start: DrillStartInput | null = null
  #kept = $state.raw<KeptDrill | null>(null)
  #setup = $state.raw<DrillSetup>({ kit: null, lead: null, mayAsk: { suspects: true, next: true } })

  constructor(
    session: Pick<Session, 'site'>,
    engine: Pick<EngineClient, 'ask' | 'cancel'>,
    store: KeyValues | null,
  ) {
    this.#session = session
    this.#engine = engine
    this.#store = store
    this.#kept = readKeptDrill(store)
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
    const start = { ...asFound, hiding, kit, lead, mayAsk: this.#setup.mayAsk }
    return this.#begin('drillStart', start, start)
  }

  /** The drill of this site that was left before it was over, while none goes on. */
  get kept(): KeptDrill | null {
    const isHere = this.#kept !== null && this.#kept.site === this.#session.site?.id
    return isHere && this.#answer === null ? this.#kept : null
  }

  /** Goes on with the drill that was kept. False where it could not be; it stays kept. */
  async resume(): Promise<boolean> {
    const { kept } = this
    if (kept === null) return false
    const { start, stood } = kept
    const isBegun = await this.#begin('drillResume', { start, stood }, start)
    if (isBegun) this.set({ kit: start.kit.id, lead: start.lead?.id ?? null, mayAsk: start.mayAsk })
    return isBegun
  }

  putKeptAway(): void {
    this.#problems = []
    this.#keep(null)
  }

  async #begin<N extends 'drillStart' | 'drillResume'>(
    name: N,
    input: Requests[N][0],
    start: DrillStartInput,
  ): Promise<boolean> {
    const before = this.#start
    this.#start = start
    const isBegun = await this.#ask(name, input)
    if (isBegun) this.#from = this.#to = null
    else this.#start = before
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

  /**
   * Stops what is being worked on; the drill stands where it stood. What was done before the engine heard of it is done, and
   * is told.
   */
  async cancel(): Promise<void> {
    if (this.#progress === null) return
    this.#stop()
    if (this.isOn) await this.call({ call: 'look' })
  }

  #stop(): void {
    this.#run++
    this.#progress = null
    for (const name of requests) this.#engine.cancel(name)
  }

  /** Clears the desk, also with another site; a drill that goes on stays kept. */
  leave(): void {
    this.#stop()
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
    if (outcome.status === 'done') this.#tell(outcome.answer)
    return outcome.status === 'done'
  }
  #tell(answer: DrillAnswer): void {
    this.#answer = answer
    const { site } = this.#session
    const isKept = answer.revealed === null && this.#start !== null && site !== null
    this.#keep(isKept ? drillToKeep(site.id, this.#start!, answer) : null)
  }

  #keep(drill: KeptDrill | null): void {
    this.#kept = drill
    keepDrillHere(this.#store, drill)
  }
}
