import { showersOf, type CoverSets, type Showers } from './coverSets.ts'
import { priceUnit, wholePrices } from './provedBound.ts'

export interface Searched {
  readonly chosen: readonly number[]
  /** Whether no choice with fewer candidates is left. */
  readonly isLeast: boolean
}

/** What may still be spent on finding fewer; counted down by what spends it. */
export interface SearchEffort {
  /** Entries that searches may look at; with none left there are no linear programmes either. */
  steps: number
  /** Entries of the sets that a test cover may be solved with, each time that it is. */
  testEntries: number
}

/** For all pieces of a site: a few seconds each. */
export const fullEffort = (): SearchEffort => ({ steps: 6e7, testEntries: 2e6 })

/** Reductions, greedy, ascent and exchanges alone. */
export const lightEffort = (): SearchEffort => ({ steps: 0, testEntries: 0 })
const stepsPerPause = 1 << 19

/**
 * Branch and bound (Land and Doig 1960) over the candidates of a piece, from a choice and prices: takes the joint with
 * the fewest candidates to spare, tries each of them in turn and leaves out those that were tried. Cut off where
 * the prices prove that no fewer candidates can come of it. `floor`: a number that no choice goes below; a choice of so
 * many ends the search.
 */
export function* searched(
  sets: CoverSets,
  chosen: readonly number[],
  price: ArrayLike<number>,
  floor: number,
  effort: SearchEffort,
): Generator<number, Searched> {
  const search = new Search(sets, chosen, price, floor, effort.steps)
  const found = yield* search.run()
  effort.steps -= Math.min(effort.steps, search.steps)
  return found
}

class Search {
  steps = 0
  private best: readonly number[]
  /** Below 0 where a joint is shown oftener than it needs. */
  private readonly need: Int16Array
  private readonly isOut: Uint8Array
  private readonly showersLeft: Int32Array
  private readonly showers: Showers
  private readonly price: Float64Array
  /** Per candidate what it saves the prices of its joints beyond its own cost. */
  private readonly saving: Float64Array
  private readonly taken: number[] = []
  private readonly sets: CoverSets
  private readonly floor: number
  private pricesLeft = 0
  private short = 0
  private readonly mostSteps: number
  private pausedAt = 0

  constructor(
    sets: CoverSets,
    chosen: readonly number[],
    price: ArrayLike<number>,
    floor: number,
    mostSteps: number,
  ) {
    this.sets = sets
    this.floor = floor
    this.mostSteps = mostSteps
    this.best = chosen
    this.showers = showersOf(sets)
    this.need = Int16Array.from(sets.demand)
    this.isOut = new Uint8Array(sets.candidates)
    this.price = wholePrices(price)
    this.showersLeft = new Int32Array(sets.joints)
    for (let e = 0; e < sets.joints; e++) {
      this.showersLeft[e] = this.showers.offset[e + 1] - this.showers.offset[e]
      this.pricesLeft += this.need[e] * this.price[e]
      this.short += this.need[e]
    }
    this.saving = Float64Array.from({ length: sets.candidates }, (_, c) => {
      let sum = -priceUnit
      for (let i = sets.offset[c]; i < sets.offset[c + 1]; i++) sum += this.price[sets.joint[i]]
      return Math.max(0, sum)
    })
    for (const saving of this.saving) this.pricesLeft -= saving
  }

  *run(): Generator<number, Searched> {
    yield* this.branch()
    return { chosen: this.best, isLeast: this.steps < this.mostSteps || this.best.length <= this.floor }
  }

  private *branch(): Generator<number> {
    if (this.short === 0) {
      if (this.taken.length < this.best.length) this.best = [...this.taken].sort((a, b) => a - b)
      return
    }
    if (this.steps > this.mostSteps) return
    if (this.steps - this.pausedAt > stepsPerPause) {
      this.pausedAt = this.steps
      yield this.steps / this.mostSteps
    }
    if (this.taken.length + Math.max(1, Math.ceil(this.pricesLeft / priceUnit)) >= this.best.length) return
    const joint = this.scarcest()
    if (joint < 0) return
    const tried: number[] = []
    for (const c of this.byPrice(joint)) {
      // What is left out no longer saves anything on the prices.
      if (this.showersLeft[joint] < this.need[joint]) break
      this.leaveOut(c)
      tried.push(c)
      this.take(c)
      yield* this.branch()
      this.putBack(c)
      if (this.best.length <= this.floor || this.steps > this.mostSteps) break
    }
    for (const c of tried) this.bringIn(c)
  }

  /** The unmet joint with the fewest candidates to spare; −1 where one cannot be met any more. */
  private scarcest(): number {
    let found = -1
    let least = Infinity
    for (let e = 0; e < this.sets.joints; e++) {
      if (this.need[e] <= 0) continue
      const spare = this.showersLeft[e] - this.need[e]
      if (spare < 0) return -1
      if (spare < least) {
        least = spare
        found = e
      }
    }
    this.steps += this.sets.joints
    return found
  }

  private byPrice(e: number): number[] {
    const { offset, candidate } = this.showers
    const found: { readonly c: number; readonly worth: number }[] = []
    for (let i = offset[e]; i < offset[e + 1]; i++) {
      const c = candidate[i]
      if (this.isOut[c]) continue
      let worth = 0
      for (let at = this.sets.offset[c]; at < this.sets.offset[c + 1]; at++) {
        const f = this.sets.joint[at]
        if (this.need[f] > 0) worth += this.price[f] + 1
      }
      this.steps += this.sets.offset[c + 1] - this.sets.offset[c]
      found.push({ c, worth })
    }
    return found.sort((a, b) => b.worth - a.worth || a.c - b.c).map(({ c }) => c)
  }

  private leaveOut(c: number): void {
    this.isOut[c] = 1
    this.pricesLeft += this.saving[c]
    for (let i = this.sets.offset[c]; i < this.sets.offset[c + 1]; i++) this.showersLeft[this.sets.joint[i]]--
  }

  private bringIn(c: number): void {
    this.isOut[c] = 0
    this.pricesLeft -= this.saving[c]
    for (let i = this.sets.offset[c]; i < this.sets.offset[c + 1]; i++) this.showersLeft[this.sets.joint[i]]++
  }

  private take(c: number): void {
    this.taken.push(c)
    for (let i = this.sets.offset[c]; i < this.sets.offset[c + 1]; i++) {
      const e = this.sets.joint[i]
      if (this.need[e]-- <= 0) continue
      this.short--
      this.pricesLeft -= this.price[e]
    }
  }

  private putBack(c: number): void {
    this.taken.pop()
    for (let i = this.sets.offset[c]; i < this.sets.offset[c + 1]; i++) {
      const e = this.sets.joint[i]
      if (++this.need[e] <= 0) continue
      this.short++
      this.pricesLeft += this.price[e]
    }
  }
}
