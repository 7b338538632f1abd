import type { ExpectAnswer, ReadingAnswer } from '../model/answers.ts'
import type { AppState } from '../state/appState.ts'
import { writtenReading } from '../state/entries.ts'
import { asFound } from '../state/results.svelte.ts'
import { describeEntered, entryTexts } from '../text/entryText.ts'
import { openNameBook, type NameBook } from '../text/places.ts'
import { describeProblem } from '../text/problems.ts'
import { describeReading } from '../text/readingText.ts'
import { Asking } from './asking.svelte.ts'
import { usualClip } from './clipDefaults.ts'
import { measuringSetup, type MeasuringSetup } from './measuringSetup.ts'
import type { Clip, PairDraft } from './pairDraft.svelte.ts'
import { readingRows } from './readingRows.ts'
import { readTypedOhms } from './typedOhms.ts'
import { visitToWriteIn } from './visitToWriteIn.ts'

const noVerdicts = { locate: new Map(), judge: new Map() }

/** What was last entered: told at once, and again once the ranking has it. */
export interface Told {
  readonly sentence: string
  /** Null until it is ranked. */
  readonly verdict: ReadingAnswer['verdict'] | null
}

/** The form in which a pair is measured: what is expected of it, and the one way a reading is written. */
export class PairForm {
  readonly #app: AppState
  readonly #draft: PairDraft
  readonly #expectation: Asking<ExpectAnswer>
  #trouble = $state<string | null>(null)
  #entered = $state<string | null>(null)
  readonly #book = $derived.by((): NameBook | null => {
    const { site } = this.#app.session
    return site ? openNameBook(site.drawing) : null
  })
  readonly #setup = $derived.by((): MeasuringSetup | null => {
    const { site } = this.#app.session
    return site ? measuringSetup(site, this.#draft) : null
  })

  /** Make it while a component is being made. */
  constructor(app: AppState, draft: PairDraft) {
    this.#app = app
    this.#draft = draft
    this.#expectation = new Asking(() => this.#ask())
  }

  get book(): NameBook | null {
    return this.#book
  }

  get setup(): MeasuringSetup | null {
    return this.#setup
  }

  /** Why the reading could not be written, until something is typed. */
  get trouble(): string | null {
    return this.#trouble
  }

  get fromClip(): Clip | null {
    return this.#clipAt(this.#app.selection.pairFrom, this.#draft.fromClip)
  }

  get toClip(): Clip | null {
    return this.#clipAt(this.#app.selection.pairTo, this.#draft.toClip)
  }

  get hasBothEnds(): boolean {
    const { pairFrom, pairTo } = this.#app.selection
    return pairFrom !== null && pairTo !== null
  }

  /** What a sound array reads for the pair as it is now; null until it is known. */
  get expected(): ExpectAnswer | null {
    const { answer } = this.#expectation
    const { pairFrom, pairTo } = this.#app.selection
    return answer && answer.from === pairFrom && answer.to === pairTo ? answer : null
  }

  /** Of the last reading entered here, until the next pair has both its ends. */
  get told(): Told | null {
    const entered = this.#entered
    const { locate } = this.#app.results
    if (entered === null || this.hasBothEnds) return null
    const index = locate?.readings.findIndex(({ entry }) => entry === entered) ?? -1
    if (!locate || !this.#book || index < 0)
      return { sentence: describeEntered(this.numberOf(entered)), verdict: null }
    return {
      sentence: describeReading(locate, index, this.#book),
      verdict: locate.readings[index].verdict,
    }
  }

  /** The number of a reading in all sentences; null where it is none of this site. */
  numberOf(entry: string): number | null {
    const { site } = this.#app.session
    if (!site) return null
    return readingRows(site, noVerdicts).find(({ reading }) => reading.id === entry)?.number ?? null
  }

  /** Something was typed: what was wrong before is being mended. */
  forgive(): void {
    this.#trouble = null
  }

  /** Writes the reading; false where it cannot be written, and then everything stays as typed. */
  enter(): boolean {
    this.#trouble = this.#write()
    return this.#trouble === null
  }

  #write(): string | null {
    const { session, selection, identity } = this.#app
    const { fromClip, toClip, setup } = this
    if (!session.canWrite) return entryTexts.readOnly
    if (!fromClip || !toClip) return entryTexts.bothEnds
    if (!setup?.kit) return entryTexts.noKit
    const { kit, lead } = setup
    const { ohms, isOver, repeats } = this.#draft
    const result = readTypedOhms(ohms, isOver, kit)
    if (!result.ok) return result.error
    const visit = visitToWriteIn(session, identity)
    if (!visit.ok) return describeProblem(visit.error)
    if (!session.site) return entryTexts.bothEnds
    const typed = { visit: visit.value, kit, lead: lead?.id ?? null, from: fromClip, to: toClip }
    const reading = writtenReading(session.site, identity, {
      ...typed,
      result: result.value,
      repeats,
      note: '',
    })
    const problem = session.append(reading)
    if (problem) return describeProblem(problem)
    this.#entered = reading.id
    this.#draft.clearValue()
    // the fixed end stays clamped: the next reading begins there
    selection.beginPair(fromClip.part)
    return null
  }

  #clipAt(part: string | null, chosen: Clip | null): Clip | null {
    const { site } = this.#app.session
    if (part === null || !site) return null
    return chosen?.part === part ? chosen : usualClip(site.drawing, part)
  }

  #ask(): Promise<ExpectAnswer | null> | null {
    const { results, selection } = this.#app
    // asked again once the engine has the site as it is now
    void results.isCurrent
    const { pairFrom: from, pairTo: to } = selection
    if (from === null || to === null || !this.#setup) return null
    const { kit, lead, nulling } = this.#setup
    return results.ask('expect', { ...asFound, from, to, kit, lead, isNulled: nulling !== null })
  }
}
