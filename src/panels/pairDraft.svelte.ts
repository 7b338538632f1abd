import { getContext, setContext } from 'svelte'
import type { Spot } from '../model/schema/record.ts'
import { noExtras, readKeptDraft, type KeptDraft, type KeptExtras } from '../storage/keptDraft.ts'

/** Where a clip sits, chosen for one part; for another part it means nothing. */
export type Clip = Spot

/** What else is noted of a reading. */
export type Extras = KeptExtras

/** What a bare number is in. */
export type TypedUnit = 'mΩ' | 'Ω'

/**
 * What is being typed of a reading: it outlives the panel, so that a look at another panel loses nothing, and the page,
 * for it is kept on the device. A new field joins `storage/keptDraft.ts`, `snapshot` and `restore`.
 */
export class PairDraft {
  #ohms = $state('')
  /** As chosen; null leaves it to what is expected. */
  #chosenUnit = $state<TypedUnit | null>(null)
  /** Unit of the number that is being typed: it does not change under it. */
  #typedUnit = $state<TypedUnit | null>(null)
  isOver = $state(false)
  /** Entry that the reading repeats. */
  repeats = $state<string | null>(null)
  kit = $state<string | null>(null)
  lead = $state<string | null>(null)
  fromText = $state('')
  toText = $state('')
  fromClip = $state.raw<Clip | null>(null)
  toClip = $state.raw<Clip | null>(null)
  /** Instrument and lead that were said to be used without nulling. */
  leftUnnulled = $state<string | null>(null)
  #extras = $state.raw<Extras>(noExtras)
  /** It was typed before the page was loaded; told until it is entered or put away. */
  isFromBefore = $state(false)
  /** Counts up with each wish to go on at the value: the form comes into view. */
  calls = $state(0)

  /** What else is noted of the reading, and where one stands in a walk. */
  get extras(): Extras {
    return this.#extras
  }

  noteDown(change: Partial<Extras>): void {
    this.#extras = { ...this.#extras, ...change }
  }

  /** As typed, whether or not it can be read. */
  get ohms(): string {
    return this.#ohms
  }

  /** A number keeps the unit that it was begun in. */
  type(text: string, unit: TypedUnit): void {
    this.#ohms = text
    if (text.trim() === '') this.#typedUnit = null
    else this.#typedUnit ??= unit
  }

  unitOr(usual: TypedUnit): TypedUnit {
    return this.#typedUnit ?? this.#chosenUnit ?? usual
  }

  chooseUnit(unit: TypedUnit): void {
    this.#chosenUnit = unit
    if (this.#typedUnit !== null) this.#typedUnit = unit
  }

  /** Whether something was typed that is in no record yet: a choice of instrument alone is nothing typed. */
  get isBegun(): boolean {
    const { note, photos } = this.#extras
    const isTyped = [this.#ohms, this.fromText, this.toText, note].some((typed) => typed.trim() !== '')
    return isTyped || this.isOver || photos.length > 0
  }

  /** All of it as plain JSON. */
  snapshot(): KeptDraft {
    return {
      ohms: this.#ohms,
      chosenUnit: this.#chosenUnit,
      typedUnit: this.#typedUnit,
      isOver: this.isOver,
      repeats: this.repeats,
      kit: this.kit,
      lead: this.lead,
      fromText: this.fromText,
      toText: this.toText,
      fromClip: this.fromClip,
      toClip: this.toClip,
      leftUnnulled: this.leftUnnulled,
      extras: this.#extras,
    }
  }

  /** Takes up what was kept; whatever it is, what cannot be understood of it counts as not typed. */
  restore(kept: unknown): void {
    const draft = readKeptDraft(kept)
    this.#ohms = draft.ohms
    this.#chosenUnit = draft.chosenUnit
    this.#typedUnit = draft.typedUnit
    this.isOver = draft.isOver
    this.repeats = draft.repeats
    this.kit = draft.kit
    this.lead = draft.lead
    this.fromText = draft.fromText
    this.toText = draft.toText
    this.fromClip = draft.fromClip
    this.toClip = draft.toClip
    this.leftUnnulled = draft.leftUnnulled
    this.#extras = draft.extras
  }

  callForm(): void {
    this.calls += 1
  }

  /** After a reading was entered: its value goes, the instrument and the leads stay. */
  clearValue(): void {
    this.#ohms = ''
    this.#typedUnit = null
    this.isOver = false
    this.repeats = null
    this.isFromBefore = false
    // the weather and the walk go on; what was seen at the last pair does not
    const { metalC, trackerDeg, plan, planPair, walkedAfter, passedOver, checking } = this.#extras
    this.#extras = { ...noExtras, metalC, trackerDeg, plan, planPair, walkedAfter, passedOver, checking }
  }
}

const key = Symbol('pair draft')

/** Made once by the page; what lies deep in a card can begin a reading with it. */
export function providePairDraft(draft: PairDraft): PairDraft {
  return setContext(key, draft)
}

export function usePairDraft(): PairDraft | null {
  return getContext<PairDraft | undefined>(key) ?? null
}
