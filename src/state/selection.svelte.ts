import type { ReadingsBy } from './readingTimes.ts'
import { isSamePick, type Picked } from './picked.ts'

/** Part addresses of two ends. */
export interface PartPair {
  readonly from: string
  readonly to: string
}

/** What is chosen and what is pointed at, shared by the map and the lists. */
export class Selection {
  #picked = $state.raw<Picked | null>(null)
  #hovered = $state.raw<Picked | null>(null)
  #pointedPair = $state.raw<PartPair | null>(null)
  #pairFrom = $state.raw<string | null>(null)
  #pairTo = $state.raw<string | null>(null)
  /** What the map tells of readings. */
  readingsBy = $state<ReadingsBy>('finding')

  get picked(): Picked | null {
    return this.#picked
  }

  get hovered(): Picked | null {
    return this.#hovered
  }

  /** The pair that is pointed at among those that could be read next. */
  get pointedPair(): PartPair | null {
    return this.#pointedPair
  }

  /** Part address where a pair begins, while one is being linked or entered. */
  get pairFrom(): string | null {
    return this.#pairFrom
  }

  get pairTo(): string | null {
    return this.#pairTo
  }

  pick(picked: Picked | null): void {
    if (!isSamePick(picked, this.#picked)) this.#picked = picked
  }

  hover(hovered: Picked | null): void {
    if (!isSamePick(hovered, this.#hovered)) this.#hovered = hovered
  }

  pointAtPair(pair: PartPair | null): void {
    this.#pointedPair = pair
  }

  /** The first end of a pair, or none. */
  beginPair(from: string | null): void {
    this.#pairFrom = from
    this.#pairTo = null
  }

  /** The second end; a pair of a part with itself is no pair. */
  endPair(to: string): boolean {
    if (this.#pairFrom === null || this.#pairFrom === to) return false
    this.#pairTo = to
    return true
  }

  clear(): void {
    this.#picked = null
    this.#hovered = null
    this.#pointedPair = null
    this.beginPair(null)
  }
}
