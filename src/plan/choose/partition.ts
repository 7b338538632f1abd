import type { Asked, PairInstance, Signs } from './chooseTypes.ts'

/**
 * Joints in classes that the readings taken so far do not tell apart (partition refinement: Paige and Tarjan 1987). A
 * candidate splits each class by the level at which it shows its joints; joints that it does not show stay. What is
 * gained is entropy in bits of a lot that falls on joints by their weights (the entropy index of fault dictionaries:
 * Starzyk, Liu and others 2004). As the entropy of a set of outcomes it only falls off as the set grows, so that
 * stale gains are bounds.
 */
export class Partition {
  readonly classOf: Int32Array
  /** Entropy that was gained, in bits. */
  bits = 0
  private readonly sets: Signs
  private readonly share: Float64Array
  private readonly shareOfClass: number[] = []
  private readonly membersOfClass: number[] = []

  /** `classOf`: joints with different numbers are told apart from the start. */
  constructor(sets: Signs, weight: Float64Array, classOf: Int32Array = new Int32Array(sets.joints)) {
    this.sets = sets
    const all = weight.reduce((sum, w) => sum + w, 0) || 1
    this.share = weight.map((w) => w / all)
    const numberOf = new Map<number, number>()
    this.classOf = classOf.map((own, e) => {
      const known = numberOf.get(own)
      const number = known ?? this.shareOfClass.push(0) - 1
      if (known === undefined) {
        numberOf.set(own, number)
        this.membersOfClass.push(0)
      }
      this.shareOfClass[number] += this.share[e]
      this.membersOfClass[number]++
      return number
    })
  }

  get classes(): number {
    return this.shareOfClass.length
  }

  /** Bits that candidate c would add. */
  gain(c: number): number {
    return this.bitsOf(this.splitBy(c))
  }

  /** Splits classes by candidate c. */
  take(c: number): void {
    const split = this.splitBy(c)
    this.bits += this.bitsOf(split)
    const classAt = new Map<number, number>()
    for (const [key, part] of split) {
      const own = Math.floor(key / levels)
      // A class that is taken over whole keeps its number.
      if (part.members === this.membersOfClass[own]) continue
      classAt.set(key, this.shareOfClass.push(part.share) - 1)
      this.membersOfClass.push(part.members)
      this.shareOfClass[own] -= part.share
      this.membersOfClass[own] -= part.members
    }
    const { offset, joint, level } = this.sets
    for (let i = offset[c]; i < offset[c + 1]; i++) {
      const found = classAt.get(this.classOf[joint[i]] * levels + level[i])
      if (found !== undefined) this.classOf[joint[i]] = found
    }
  }

  private splitBy(c: number): Map<number, Part> {
    const { offset, joint, level } = this.sets
    const split = new Map<number, Part>()
    for (let i = offset[c]; i < offset[c + 1]; i++) {
      const key = this.classOf[joint[i]] * levels + level[i]
      const part = split.get(key)
      if (part) {
        part.share += this.share[joint[i]]
        part.members++
      } else split.set(key, { share: this.share[joint[i]], members: 1 })
    }
    return split
  }

  private bitsOf(split: ReadonlyMap<number, Part>): number {
    const rest = new Map<number, Part>()
    let bits = 0
    for (const [key, { share, members }] of split) {
      const own = Math.floor(key / levels)
      const left = rest.get(own) ?? { share: this.shareOfClass[own], members: this.membersOfClass[own] }
      rest.set(own, { share: left.share - share, members: left.members - members })
      if (members < this.membersOfClass[own]) bits += share * Math.log2(this.shareOfClass[own] / share)
    }
    for (const [own, { share, members }] of rest)
      if (members > 0 && members < this.membersOfClass[own] && share > 0)
        bits += share * Math.log2(this.shareOfClass[own] / share)
    return bits
  }
}

/** What these candidates tell apart beyond what is told apart already. */
export function partitionBy(
  { signs, weight }: PairInstance,
  { classOf }: Asked,
  chosen: Iterable<number>,
): Partition {
  const partition = new Partition(signs, weight, classOf)
  for (const c of chosen) partition.take(c)
  return partition
}

/** Levels are bytes. */
const levels = 256

interface Part {
  share: number
  members: number
}
