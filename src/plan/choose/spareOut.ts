import type { Asked, PairInstance } from './chooseTypes.ts'
import { timesShownBy } from './coverSets.ts'
import { mixed, signOf } from './mixed.ts'
import { partitionBy } from './partition.ts'

/**
 * Leaves out, last taken first, whatever is not needed to meet all needs and to tell apart as much. What joints read is
 * followed by sums of hashes, and what comes of it is held against the true classes: should two sums ever agree by
 * chance, nothing is left out. Ascending.
 */
export function spareOut(instance: PairInstance, asked: Asked, taken: readonly number[]): number[] {
  const { offset, joint } = instance.shown
  const all = [...new Set(taken)]
  const times = timesShownBy(instance.shown, all)
  const book = new SignCounts(instance, asked, all)
  const kept = new Set(all)
  for (const c of all.toReversed()) {
    let isShown = true
    for (let i = offset[c]; i < offset[c + 1] && isShown; i++)
      isShown = times[joint[i]] > asked.need[joint[i]]
    if (!isShown || !book.isSpare(c)) continue
    kept.delete(c)
    for (let i = offset[c]; i < offset[c + 1]; i++) times[joint[i]]--
  }
  const classes = (chosen: Iterable<number>) => partitionBy(instance, asked, chosen).classes
  const left = classes(kept) === classes(all) ? [...kept] : all
  return left.sort((a, b) => a - b)
}

class SignCounts {
  private readonly instance: PairInstance
  private readonly low: Int32Array
  private readonly high: Int32Array
  private readonly counts = new Map<number, number>()

  constructor(instance: PairInstance, { classOf }: Asked, chosen: readonly number[]) {
    this.instance = instance
    this.low = classOf.map((own) => mixed(own, 1))
    this.high = classOf.map((own) => mixed(own, 2))
    const { offset, joint } = instance.signs
    for (const c of chosen) for (let i = offset[c]; i < offset[c + 1]; i++) this.shift(joint[i], c, i, 1)
    for (let e = 0; e < classOf.length; e++) this.count(e, 1)
  }

  /** Takes c out where that leaves as many different signs, and says whether it did. */
  isSpare(c: number): boolean {
    const before = this.counts.size
    this.moveAll(c, -1)
    if (this.counts.size === before) return true
    this.moveAll(c, 1)
    return false
  }

  private moveAll(c: number, by: 1 | -1): void {
    const { offset, joint } = this.instance.signs
    for (let i = offset[c]; i < offset[c + 1]; i++) {
      this.count(joint[i], -1)
      this.shift(joint[i], c, i, by)
      this.count(joint[i], 1)
    }
  }

  private shift(e: number, c: number, i: number, by: 1 | -1): void {
    const { level } = this.instance.signs
    this.low[e] += by * mixed(c, 256 + level[i])
    this.high[e] += by * mixed(c, 1024 + level[i])
  }

  private count(e: number, by: 1 | -1): void {
    const sign = signOf(this.low[e], this.high[e])
    const count = (this.counts.get(sign) ?? 0) + by
    if (count === 0) this.counts.delete(sign)
    else this.counts.set(sign, count)
  }
}
