import { isSamePick, type Picked } from './picked.ts'

/** What is chosen and what is pointed at, shared by the map and the lists. */
export class Selection {
  #picked = $state.raw<Picked | null>(null)
  #hovered = $state.raw<Picked | null>(null)
  #pairFrom = $state.raw<string | null>(null)
  #pairTo = $state.raw<string | null>(null)

  get picked(): Picked | null {
    return this.#picked
  }

  get hovered(): Picked | null {
    return this.#hovered
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
    this.beginPair(null)
  }
}
