import type { EngineClient } from '../engine/client.ts'
import type { Progress } from '../engine/progress.ts'
import { writePartAddress } from '../model/address.ts'
import type { FaultAnswer, FaultInput } from '../model/faultAnswers.ts'
import type { Problem } from '../model/problem.ts'
import type { FaultSource } from '../model/schema/faults.ts'
import { FaultAnswers, type AnsweredFault } from './faultAnswers.svelte.ts'
import { FaultGround } from './faultGround.svelte.ts'
import { FaultLosses } from './faultLosses.svelte.ts'
import { faultInput, firstSetup, type FaultQuestion, type FaultSetup } from './faultSetup.ts'
import type { DroppedOfFault } from '../text/keptFaultText.ts'
import { fitFault, isDrawn, type KeptFault } from './keptFault.ts'
import type { Session } from './session.svelte.ts'

/**
 * The fault that is looked at: what drives it, where, what is changed about the joints, who touches; and what the
 * engine says of it (`FaultAnswers`): an older answer stays until its own comes, and `isCurrent` says which it is.
 */
export class FaultDesk {
  readonly #session: Session
  readonly #answers: FaultAnswers
  readonly losses: FaultLosses
  readonly ground: FaultGround
  #setup = $state.raw<FaultSetup>(firstSetup)
  #given = $state.raw<FaultInput | null>(null)
  /** First part of a pair whose volts are to be watched; null while none is begun. */
  watchFrom = $state<string | null>(null)
  /** The part or joint whose number at the pointer was asked about by key: its card begins opened. */
  asked = $state.raw<{ readonly of: string } | null>(null)
  #mapShows = $state<'current' | 'losses'>('current')
  #showsChange = $state(true)
  isPaused = $state(false)
  /** What dropped out of this fault because it was no longer drawn, until that is put away. */
  dropped = $state.raw<readonly DroppedOfFault[]>([])
  #cleared = $state.raw<KeptFault | null>(null)

  readonly #source = $derived.by((): FaultSource | null => {
    const sources = this.#session.site?.drawing.sources ?? []
    return sources.find(({ id }) => id === this.#setup.source) ?? sources.at(0) ?? null
  })
  readonly #firstBar = $derived.by((): string | null => {
    const bar = this.#session.site?.drawing.earthBars.at(0)
    return bar ? writePartAddress({ at: 'earthBar', id: bar.id }) : null
  })
  readonly #question = $derived.by((): FaultQuestion | null => {
    const { site } = this.#session
    const input = this.#given ?? faultInput(this.#setup, this.#source, this.#firstBar)
    if (site === null || input === null) return null
    return { site, drawn: { ...input, altered: [] }, changed: input.altered.length > 0 ? input : null }
  })
  constructor(session: Session, engine: EngineClient) {
    this.#session = session
    this.#answers = new FaultAnswers(engine, () => this.#question)
    this.losses = new FaultLosses(engine, () => this.#question)
    this.ground = new FaultGround(engine, () => this.#answered)
  }

  get setup(): FaultSetup {
    return this.#setup
  }

  /** Changes what is asked; answers of before stay until the new ones are there. */
  set(change: Partial<FaultSetup>): void {
    this.#setup = { ...this.#setup, ...change }
    this.#cleared = null
    if (change.altered) this.showsChange = true
  }

  /** What of the fault is kept on the device. */
  get kept(): KeptFault {
    const { watched } = this.losses
    const [showsChange, isPaused] = [this.#showsChange, this.isPaused]
    return { setup: this.#setup, watched, showsChange, isPaused, ...this.ground.kept }
  }

  /** Takes up a fault as it was kept, on the drawing of now: what is no longer drawn drops out, and is told. */
  take(kept: KeptFault): void {
    const { index } = this.#session
    const fitted = index ? fitFault(kept, index) : { kept, dropped: [] }
    this.#put(fitted.kept)
    this.dropped = fitted.dropped
    this.#cleared = null
  }

  /** Lets go of what is no longer drawn, and tells it; called whenever the drawing changes. */
  fit(): void {
    const { index } = this.#session
    if (index === null) return
    if (this.watchFrom !== null && !isDrawn(index, this.watchFrom)) this.watchFrom = null
    const { kept, dropped } = fitFault(this.kept, index)
    if (dropped.length === 0) return
    this.#put(kept)
    this.dropped = [...this.dropped, ...dropped]
  }

  #put(kept: KeptFault): void {
    this.#setup = kept.setup
    this.losses.take(kept.watched)
    this.#showsChange = kept.showsChange
    this.isPaused = kept.isPaused
    this.ground.take(kept)
  }

  /** Nothing is asked any more; `bringBack` asks it again. Whether dashes move is no part of the fault. */
  clear(): void {
    const before = this.kept
    this.#begin()
    this.#cleared = before
  }

  get canBringBack(): boolean {
    return this.#cleared !== null
  }

  bringBack(): void {
    if (this.#cleared) this.take(this.#cleared)
  }

  /**
   * A fault that is shown instead of the one in hand, whole as it is given, as a lesson has it, with its change, and with
   * or without the volts of the ground; null: the one in hand again, with all that was chosen of it.
   */
  show(given: FaultInput | null, hasGround = false): void {
    this.#given = given
    this.ground.show(given === null ? null : hasGround)
  }

  /** Where a change is tried: whether the map shows it, or the array as drawn. */
  get showsChange(): boolean {
    return this.#given !== null || this.#showsChange
  }

  set showsChange(showsChange: boolean) {
    this.#showsChange = showsChange
  }

  /** What the map shows: volts of parts and amperes, or what the loss of each joint would cause. */
  get mapShows(): 'current' | 'losses' {
    return this.#given === null ? this.#mapShows : 'current'
  }

  set mapShows(shows: 'current' | 'losses') {
    this.#mapShows = shows
  }

  /** Where the fault that is shown is, who touches and what is changed: of the one that was given, else of the one in hand. */
  get places(): Pick<FaultSetup, 'at' | 'person' | 'altered'> & { readonly second: string | null } {
    const given = this.#given
    if (given === null) return { ...this.#setup, second: this.#setup.second?.part ?? null }
    const { drive } = given
    return { ...given, second: drive.form === 'pv' ? (drive.second?.part ?? null) : null }
  }

  get source(): FaultSource | null {
    return this.#source
  }

  /** Address of the earth bar that a circuit is referenced to where nothing else is chosen; null where none is drawn. */
  get firstBar(): string | null {
    return this.#firstBar
  }

  get question(): FaultQuestion | null {
    return this.#question
  }

  /** With every joint as drawn, of now or of before the last change. */
  get drawn(): FaultAnswer | null {
    return this.#question && (this.#answers.drawn?.answer ?? null)
  }

  /** With the change that is tried; null where none is. */
  get changed(): FaultAnswer | null {
    return this.#question?.changed ? (this.#answers.changed?.answer ?? null) : null
  }

  /** The one that the map and the cards tell of. */
  get shown(): FaultAnswer | null {
    return (this.showsChange ? this.changed : null) ?? this.drawn
  }

  /** What was asked when `shown` was answered; its words belong to these figures. */
  get shownInput(): FaultInput | null {
    const isChange = this.showsChange && this.changed !== null
    const { drawn, changed } = this.#answers
    return this.#question && ((isChange ? changed : drawn)?.input ?? null)
  }

  /** What the map and the cards tell of, once it belongs to the question of now; null until then. */
  get #answered(): AnsweredFault | null {
    const { isCurrent, drawn, changed } = this.#answers
    if (!isCurrent) return null
    return (this.showsChange && this.#question?.changed ? changed : null) ?? drawn
  }

  get isCurrent(): boolean {
    return this.#answers.isCurrent
  }

  get progress(): Progress | null {
    return this.#answers.progress
  }

  get problems(): readonly Problem[] {
    return this.#answers.problems
  }

  get isStopped(): boolean {
    return this.#answers.isStopped
  }

  /** Asks what is not known yet; called whenever the question changes. */
  async refresh(): Promise<void> {
    await this.#answers.refresh()
  }

  cancel(): void {
    this.#answers.cancel()
  }

  goOn(): void {
    void this.refresh()
  }

  /** Another site, or none: nothing of the one before is shown on it. What was given to be shown is for who gave it to take back. */
  leave(): void {
    this.#begin()
    this.isPaused = false
  }

  #begin(): void {
    this.#setup = firstSetup
    this.#cleared = null
    this.dropped = []
    this.#answers.leave()
    this.watchFrom = null
    this.asked = null
    this.mapShows = 'current'
    this.showsChange = true
    this.losses.leave()
    this.ground.leave()
  }
}
