import type { Asked, PairInstance, Signs } from './chooseTypes.ts'
import { mixed, signOf } from './mixed.ts'
import { showersOf, type CoverSets, type Showers } from './coverSets.ts'

/** Two joints that only readings with an end at one part tell apart; `other` −1: the joint and nothing bad. */
export interface Witness {
  readonly joint: number
  readonly other: number
}

/** Parts that are an end of some pair in any plan, how often, and what proves it. */
export interface NeededEnds {
  readonly part: readonly number[]
  readonly times: readonly number[]
  readonly witness: readonly Witness[]
}

/**
 * A part must be an end so often as a joint needs readings beyond those that have no end there. Where joints are to be told
 * apart (`isToTell`), it must be an end too if two joints of a
 * class are shown alike by all candidates but some that end there: along a run of joints, every part between two of them.
 * Alike ones are found by sums of hashes and then compared entry by entry, so that no chance is in the proof. Yields
 * its fraction done.
 */
export function* neededEnds(
  instance: PairInstance,
  asked: Asked,
  isToTell: boolean,
): Generator<number, NeededEnds> {
  const showers = showersOf(instance.shown)
  const book = isToTell ? new SignBook(instance, asked.classOf) : null
  const part: number[] = []
  const times: number[] = []
  const witness: Witness[] = []
  const byPart = candidatesByPart(instance)
  yield 0.2
  let looked = 0
  for (const [u, candidates] of byPart) {
    if (++looked % 64 === 0) yield 0.2 + (0.8 * looked) / byPart.size
    const own = ownNeed(instance.shown, showers, asked.need, candidates)
    const found = own.times > 0 ? { joint: own.joint, other: -1 } : book?.partedAt(u, candidates)
    if (!found) continue
    part.push(u)
    times.push(Math.max(1, own.times))
    witness.push(found)
  }
  return { part, times, witness }
}

/**
 * The choice relaxed to ends: each needed part is to be an end of as many candidates as it must, whatever they show. Its least
 * number of candidates is a bound on any choice.
 */
export function endCover({ from, to }: PairInstance, { part, times }: NeededEnds): CoverSets {
  const numberOf = new Map(part.map((u, i) => [u, i]))
  const singles = new Int32Array(part.length)
  const lists: number[][] = []
  for (let c = 0; c < from.length; c++) {
    const a = numberOf.get(from[c])
    const b = numberOf.get(to[c])
    if (a !== undefined && b !== undefined) lists.push(a < b ? [a, b] : [b, a])
    else if (a !== undefined || b !== undefined) {
      const one = (a ?? b)!
      if (singles[one]++ < times[one]) lists.push([one])
    }
  }
  const offset = new Int32Array(lists.length + 1)
  lists.forEach((list, c) => (offset[c + 1] = offset[c] + list.length))
  return {
    joints: part.length,
    candidates: lists.length,
    demand: Uint8Array.from(times),
    offset,
    joint: Int32Array.from(lists.flat()),
  }
}

function candidatesByPart({ from, to }: PairInstance): Map<number, number[]> {
  const found = new Map<number, number[]>()
  for (let c = 0; c < from.length; c++)
    for (const u of from[c] === to[c] ? [from[c]] : [from[c], to[c]]) {
      const own = found.get(u)
      if (own) own.push(c)
      else found.set(u, [c])
    }
  return found
}

/** The most readings that any joint needs from these candidates, and that joint. */
function ownNeed(
  { offset, joint }: CoverSets,
  showers: Showers,
  need: Uint8Array,
  candidates: readonly number[],
): { readonly times: number; readonly joint: number } {
  const here = new Map<number, number>()
  for (const c of candidates)
    for (let i = offset[c]; i < offset[c + 1]; i++)
      if (need[joint[i]] > 0) here.set(joint[i], (here.get(joint[i]) ?? 0) + 1)
  let most = { times: 0, joint: -1 }
  for (const [e, count] of here) {
    const all = showers.offset[e + 1] - showers.offset[e]
    const times = Math.min(need[e], all) - (all - count)
    if (times > most.times) most = { times, joint: e }
  }
  return most
}

/** Sums of hashes of what feels each joint. */
class SignBook {
  private readonly instance: PairInstance
  private readonly signs: Signs
  private readonly showers: Showers
  private readonly classOf: Int32Array
  private readonly low: Int32Array
  private readonly high: Int32Array
  /** By sign the first joint that has it. */
  private readonly jointBySign = new Map<number, number>()

  constructor(instance: PairInstance, classOf: Int32Array) {
    const { signs } = instance
    this.instance = instance
    this.signs = signs
    this.showers = showersOf(signs)
    this.classOf = classOf
    this.low = classOf.map((own) => mixed(own, 1))
    this.high = classOf.map((own) => mixed(own, 2))
    for (let c = 0; c < signs.candidates; c++)
      for (let i = signs.offset[c]; i < signs.offset[c + 1]; i++) {
        this.low[signs.joint[i]] += this.lowOf(c, i)
        this.high[signs.joint[i]] += this.highOf(c, i)
      }
    for (let e = 0; e < signs.joints; e++) {
      const sign = signOf(this.low[e], this.high[e])
      if (!this.jointBySign.has(sign)) this.jointBySign.set(sign, e)
    }
  }

  private lowOf(c: number, i: number): number {
    return mixed(c, 256 + this.signs.level[i])
  }

  private highOf(c: number, i: number): number {
    return mixed(c, 1024 + this.signs.level[i])
  }

  /** Two joints that only some of these candidates tell apart, all those that end at part u. */
  partedAt(u: number, candidates: readonly number[]): Witness | null {
    const { offset, joint } = this.signs
    const without = new Map<number, [low: number, high: number]>()
    for (const c of candidates)
      for (let i = offset[c]; i < offset[c + 1]; i++) {
        const e = joint[i]
        const [low, high] = without.get(e) ?? [this.low[e], this.high[e]]
        without.set(e, [(low - this.lowOf(c, i)) | 0, (high - this.highOf(c, i)) | 0])
      }
    const here = new Map<number, number>()
    for (const [e, [low, high]] of without) {
      const sign = signOf(low, high)
      for (const f of [this.jointBySign.get(sign), here.get(sign)])
        if (f !== undefined && f !== e && this.arePartedOnlyAt(u, e, f)) return { joint: e, other: f }
      here.set(sign, e)
    }
    return null
  }

  private arePartedOnlyAt(u: number, e: number, f: number): boolean {
    if (this.classOf[e] !== this.classOf[f]) return false
    const far = (g: number) => this.entriesOf(g, (c) => !this.endsAt(c, u))
    const near = (g: number) => this.entriesOf(g, (c) => this.endsAt(c, u))
    return far(e) === far(f) && near(e) !== near(f)
  }

  private endsAt(c: number, u: number): boolean {
    return this.instance.from[c] === u || this.instance.to[c] === u
  }

  private entriesOf(e: number, isMeant: (c: number) => boolean): string {
    const { offset, candidate, entry } = this.showers
    const found: string[] = []
    for (let i = offset[e]; i < offset[e + 1]; i++)
      if (isMeant(candidate[i])) found.push(`${candidate[i]} ${this.signs.level[entry[i]]}`)
    return found.join()
  }
}
