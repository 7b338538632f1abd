import { showersOf, timesShownBy, type CoverSets, type Showers } from './coverSets.ts'

/** Turns of the search per candidate of the choice, and at most altogether. */
const turnsPerCandidate = 60
const mostTurns = 6000
const mostWork = 1e8

/**
 * Looks for fewer candidates from a choice that meets all demands: takes one away, and again and again swaps another for
 * one that shows a joint that is short, weights of joints growing as long as they are short (row weighting local search:
 * Gao, Yao, Weise and Li 2015, European Journal of Operational Research 246: 750–761). One-for-one exchanges lead it along
 * choices of equal size, two-for-one exchanges are what it succeeds by. No chance in it: of equals the one that has rested
 * longest, then the first. Stops at `floor`.
 */
export function* exchanged(
  sets: CoverSets,
  chosen: readonly number[],
  floor: number,
): Generator<number, readonly number[]> {
  if (chosen.length <= Math.max(1, floor)) return chosen
  const local = new LocalSearch(sets, chosen)
  const turns = Math.min(mostTurns, Math.max(200, turnsPerCandidate * chosen.length))
  let best = chosen
  for (let turn = 0; turn < turns && local.work < mostWork; turn++) {
    while (local.short === 0) {
      best = local.chosen()
      if (best.length <= floor) return best
      local.dropCheapest(-1)
    }
    local.swap(turn)
    if (turn % 20 === 0) yield turn / turns
  }
  return local.short === 0 && local.chosen().length < best.length ? local.chosen() : best
}

class LocalSearch {
  short = 0
  work = 0
  private readonly sets: CoverSets
  private readonly showers: Showers
  private readonly isIn: Uint8Array
  private readonly times: Int32Array
  private readonly weight: Float64Array
  /** Per candidate: what it would gain, or where it is in, what it would lose. */
  private readonly score: Float64Array
  private readonly movedAt: Int32Array
  private readonly unmet = new Set<number>()
  private readonly inside = new Set<number>()
  private justIn = -1

  constructor(sets: CoverSets, chosen: readonly number[]) {
    this.sets = sets
    this.showers = showersOf(sets)
    this.isIn = new Uint8Array(sets.candidates)
    for (const c of chosen) {
      this.isIn[c] = 1
      this.inside.add(c)
    }
    this.times = timesShownBy(sets, chosen)
    this.weight = new Float64Array(sets.joints).fill(1)
    this.movedAt = new Int32Array(sets.candidates).fill(-1)
    this.score = new Float64Array(sets.candidates)
    for (let c = 0; c < sets.candidates; c++)
      for (let i = sets.offset[c]; i < sets.offset[c + 1]; i++) {
        const e = sets.joint[i]
        const rest = this.times[e] - sets.demand[e]
        if (this.isIn[c] ? rest <= 0 : rest < 0) this.score[c]++
      }
    for (let e = 0; e < sets.joints; e++) this.note(e)
  }

  chosen(): number[] {
    return [...this.inside].sort((a, b) => a - b)
  }

  /** Takes out the candidate that loses least, but not the one that has just come in. */
  dropCheapest(turn: number): void {
    let found = -1
    for (const c of this.inside) {
      if (c === this.justIn && this.inside.size > 1) continue
      if (found < 0 || this.isCheaper(c, found)) found = c
    }
    this.work += this.inside.size
    this.move(found, 0, turn)
  }

  swap(turn: number): void {
    this.dropCheapest(turn)
    const e = this.longestShort()
    const { offset, candidate } = this.showers
    let found = -1
    for (let i = offset[e]; i < offset[e + 1]; i++) {
      const c = candidate[i]
      if (this.isIn[c] || this.movedAt[c] === turn) continue
      if (found < 0 || this.isBetter(c, found)) found = c
    }
    this.work += offset[e + 1] - offset[e]
    if (found < 0) return
    this.justIn = found
    this.move(found, 1, turn)
    for (const f of this.unmet) this.raise(f)
  }

  private isCheaper(a: number, b: number): boolean {
    if (this.score[a] !== this.score[b]) return this.score[a] < this.score[b]
    return this.movedAt[a] !== this.movedAt[b] ? this.movedAt[a] < this.movedAt[b] : a < b
  }

  private isBetter(a: number, b: number): boolean {
    if (this.score[a] !== this.score[b]) return this.score[a] > this.score[b]
    return this.movedAt[a] !== this.movedAt[b] ? this.movedAt[a] < this.movedAt[b] : a < b
  }

  private longestShort(): number {
    let found = -1
    for (const e of this.unmet) if (found < 0 || this.weight[e] > this.weight[found]) found = e
    return found
  }

  private raise(e: number): void {
    this.weight[e]++
    const { offset, candidate } = this.showers
    for (let i = offset[e]; i < offset[e + 1]; i++) this.score[candidate[i]]++
    this.work += offset[e + 1] - offset[e]
  }

  private note(e: number): void {
    if (this.times[e] < this.sets.demand[e]) this.unmet.add(e)
    else this.unmet.delete(e)
    this.short = this.unmet.size
  }

  private move(c: number, into: 0 | 1, turn: number): void {
    const { offset, joint, demand } = this.sets
    this.movedAt[c] = turn
    for (let i = offset[c]; i < offset[c + 1]; i++) {
      const e = joint[i]
      const before = this.times[e] - demand[e]
      this.times[e] += into ? 1 : -1
      const after = before + (into ? 1 : -1)
      this.rescore(e, before, after, c)
      if (before < 0 !== after < 0) this.note(e)
    }
    this.isIn[c] = into
    if (into) this.inside.add(c)
    else this.inside.delete(c)
    this.score[c] = this.ownScore(c)
  }

  /** Scores of the other candidates that show joint e, which was shown `before` times more than it needs. */
  private rescore(e: number, before: number, after: number, moved: number): void {
    const lossChanges = (after <= 0 ? 1 : 0) - (before <= 0 ? 1 : 0)
    const gainChanges = (after < 0 ? 1 : 0) - (before < 0 ? 1 : 0)
    if (lossChanges === 0 && gainChanges === 0) return
    const { offset, candidate } = this.showers
    for (let i = offset[e]; i < offset[e + 1]; i++) {
      const c = candidate[i]
      if (c !== moved) this.score[c] += (this.isIn[c] ? lossChanges : gainChanges) * this.weight[e]
    }
    this.work += offset[e + 1] - offset[e]
  }

  private ownScore(c: number): number {
    const { offset, joint, demand } = this.sets
    let score = 0
    for (let i = offset[c]; i < offset[c + 1]; i++) {
      const rest = this.times[joint[i]] - demand[joint[i]]
      if (this.isIn[c] ? rest <= 0 : rest < 0) score += this.weight[joint[i]]
    }
    return score
  }
}
