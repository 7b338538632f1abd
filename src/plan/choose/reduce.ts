import {
  attainableDemand,
  showersOf,
  subSetsOf,
  type CoverSets,
  type Showers,
  type SubSets,
} from './coverSets.ts'

/** What is left after reducing, with candidates that are in every smallest choice or may be taken to be. */
export interface Reduced extends SubSets {
  readonly forced: readonly number[]
}

/**
 * Makes sets smaller without changing the least number of candidates that meet all demands (the classical reductions
 * of set covering: Garfinkel and Nemhauser, "Integer Programming", 1972, ch. 8):
 *
 * - a joint shown by no more candidates than it needs takes them all
 * - a joint whose candidates all show another one that needs no more than it makes that one superfluous
 * - a candidate is superfluous that shows no more than another, where each of its joints needs one candidate only
 *
 * until none applies. Of equals the first stays.
 */
export function* reduced(sets: CoverSets): Generator<number, Reduced> {
  const forced: number[] = []
  let need = attainableDemand(sets)
  let current = subSetsOf(sets, need, new Uint8Array(sets.candidates).fill(1))
  for (;;) {
    const { joints, candidates } = current.sets
    if (joints === 0) break
    const round = new Round(current.sets)
    round.takeForced()
    yield 0
    for (const _ of round.dropJoints()) yield 0
    for (const _ of round.dropCandidates()) yield 0
    for (const c of round.forced) forced.push(current.candidateOf[c])
    need = round.need
    const next = subSetsOf(current.sets, need, round.kept)
    const isSame = next.sets.joints === joints && next.sets.candidates === candidates
    current = {
      sets: next.sets,
      jointOf: next.jointOf.map((e) => current.jointOf[e]),
      candidateOf: next.candidateOf.map((c) => current.candidateOf[c]),
    }
    if (isSame) break
  }
  return { ...current, forced: forced.sort((a, b) => a - b) }
}

/** Steps of subset tests between two pauses. */
const stepsPerPause = 1 << 18

class Round {
  readonly need: Uint8Array
  readonly kept: Uint8Array
  readonly forced: number[] = []
  private readonly showers: Showers
  private readonly sets: CoverSets
  private readonly jointsLeft: Int32Array
  private readonly showersLeft: Int32Array
  private steps = 0

  constructor(sets: CoverSets) {
    this.sets = sets
    this.showers = showersOf(sets)
    this.need = sets.demand.slice()
    this.kept = new Uint8Array(sets.candidates).fill(1)
    this.jointsLeft = Int32Array.from(
      { length: sets.candidates },
      (_, c) => sets.offset[c + 1] - sets.offset[c],
    )
    const { offset } = this.showers
    this.showersLeft = Int32Array.from({ length: sets.joints }, (_, e) => offset[e + 1] - offset[e])
  }

  takeForced(): void {
    for (let e = 0; e < this.sets.joints; e++) {
      if (this.need[e] === 0 || this.showersLeft[e] > this.need[e]) continue
      this.eachShower(e, (c) => this.take(c))
    }
  }

  /** A joint e makes every joint superfluous that all of its candidates show and that needs no more. */
  *dropJoints(): Generator<void> {
    for (let e = 0; e < this.sets.joints; e++) {
      if (this.need[e] > 0) this.dropImpliedBy(e)
      if (this.steps > stepsPerPause) {
        this.steps = 0
        yield
      }
    }
  }

  *dropCandidates(): Generator<void> {
    for (let c = 0; c < this.sets.candidates; c++) {
      if (this.kept[c] === 1 && this.isContained(c)) this.drop(c)
      if (this.steps > stepsPerPause) {
        this.steps = 0
        yield
      }
    }
  }

  private eachShower(e: number, visit: (c: number) => void): void {
    const { offset, candidate } = this.showers
    for (let i = offset[e]; i < offset[e + 1]; i++) if (this.kept[candidate[i]] === 1) visit(candidate[i])
  }

  private take(c: number): void {
    this.forced.push(c)
    this.drop(c)
    const { offset, joint } = this.sets
    for (let i = offset[c]; i < offset[c + 1]; i++) {
      const e = joint[i]
      if (this.need[e] > 0 && --this.need[e] === 0) this.forget(e)
    }
  }

  private drop(c: number): void {
    this.kept[c] = 0
    const { offset, joint } = this.sets
    for (let i = offset[c]; i < offset[c + 1]; i++) this.showersLeft[joint[i]]--
  }

  private forget(e: number): void {
    this.need[e] = 0
    const { offset, candidate } = this.showers
    for (let i = offset[e]; i < offset[e + 1]; i++) this.jointsLeft[candidate[i]]--
  }

  private dropImpliedBy(e: number): void {
    let smallest = -1
    this.eachShower(e, (c) => {
      if (smallest < 0 || this.jointsLeft[c] < this.jointsLeft[smallest]) smallest = c
    })
    if (smallest < 0) return
    const { offset, joint } = this.sets
    for (let i = offset[smallest]; i < offset[smallest + 1]; i++) {
      const f = joint[i]
      if (f === e || this.need[f] === 0 || this.need[f] > this.need[e]) continue
      if (this.showersLeft[f] < this.showersLeft[e]) continue
      const isEqual = this.showersLeft[f] === this.showersLeft[e] && this.need[f] === this.need[e]
      if (isEqual && f < e) continue
      if (this.areAllShowing(e, f)) this.forget(f)
    }
  }

  private areAllShowing(e: number, f: number): boolean {
    const { offset, candidate } = this.showers
    for (let i = offset[e]; i < offset[e + 1]; i++)
      if (this.kept[candidate[i]] === 1 && !this.shows(candidate[i], f)) return false
    return true
  }

  private shows(c: number, e: number): boolean {
    const { offset, joint } = this.sets
    let low = offset[c]
    let high = offset[c + 1]
    while (low < high) {
      this.steps++
      const middle = (low + high) >>> 1
      if (joint[middle] < e) low = middle + 1
      else high = middle
    }
    return low < offset[c + 1] && joint[low] === e
  }

  /** Whether another candidate shows all that c shows; false where c may be wanted beside that one. */
  private isContained(c: number): boolean {
    const { offset, joint } = this.sets
    let rarest = -1
    for (let i = offset[c]; i < offset[c + 1]; i++) {
      const e = joint[i]
      if (this.need[e] > 1) return false
      if (this.need[e] === 1 && (rarest < 0 || this.showersLeft[e] < this.showersLeft[rarest])) rarest = e
    }
    if (rarest < 0) return true
    const { offset: start, candidate } = this.showers
    for (let i = start[rarest]; i < start[rarest + 1]; i++) {
      const other = candidate[i]
      this.steps++
      if (other === c || this.kept[other] === 0 || this.jointsLeft[other] < this.jointsLeft[c]) continue
      if (this.jointsLeft[other] === this.jointsLeft[c] && other > c) continue
      if (this.showsAllOf(other, c)) return true
    }
    return false
  }

  private showsAllOf(other: number, c: number): boolean {
    const { offset, joint } = this.sets
    for (let i = offset[c]; i < offset[c + 1]; i++)
      if (this.need[joint[i]] > 0 && !this.shows(other, joint[i])) return false
    return true
  }
}
