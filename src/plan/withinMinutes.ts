import { portion } from '../base/portion.ts'
import type { PairInstance } from './choose/chooseTypes.ts'
import { attainableDemand } from './choose/coverSets.ts'
import { lazyGreedy } from './choose/lazyGreedy.ts'
import { Partition } from './choose/partition.ts'

/** What a choice shows and tells apart, 0 … 1 of what all candidates do. */
type Worth = (chosen: readonly number[]) => number

/** What is taken by gain per minute before the walk is asked how long it takes, as a multiple of the minutes. */
const beyond = 1.5

/**
 * The best of what fits into so many minutes: required ones, then candidates by gain per minute (a greedy under a knapsack:
 * Khuller, Moss and Naor 1999, with their bound only where ways are cheap), as many as the walk has time for. Once
 * from the pairs of the whole plan, once from all candidates; what is worth more stays. Gain: chances of going bad of
 * joints that are short of showing, and entropy, by `tellApart`. The required ones stay where they alone take longer.
 *
 * `walkMin`: minutes of a walk through these candidates. It is asked some twenty times.
 */
export function* withinMinutes(
  instance: PairInstance,
  required: number,
  whole: readonly number[],
  terms: { readonly mostMinutes: number; readonly tellApart: number },
  walkMin: (chosen: readonly number[]) => Generator<number, number>,
): Generator<number, readonly number[]> {
  const worth = worthOf(instance, terms.tellApart)
  const fixed = Array.from({ length: required }, (_, c) => c)
  const ofWhole = new Set(whole)
  let best: readonly number[] = fixed
  for (const [half, isMeant] of [(c: number) => ofWhole.has(c), () => true].entries()) {
    const order = byGainPerMinute(instance, fixed, terms, isMeant)
    const fits = yield* portion(longestThatFits(fixed, order, terms.mostMinutes, walkMin), half / 2, 1 / 2)
    if (best === fixed || worth(fits) > worth(best) + 1e-12) best = fits
  }
  return [...best].sort((a, b) => a - b)
}

/** By bisection: minutes of a walk grow with its pairs, but for what a heuristic order makes of them. */
function* longestThatFits(
  fixed: readonly number[],
  order: readonly number[],
  mostMinutes: number,
  walkMin: (chosen: readonly number[]) => Generator<number, number>,
): Generator<number, readonly number[]> {
  let low = 0
  let high = order.length
  const rounds = Math.ceil(Math.log2(high + 1)) + 1
  for (let round = 0; low < high; round++) {
    const middle = Math.ceil((low + high) / 2)
    const chosen = [...fixed, ...order.slice(0, middle)]
    const minutes = yield* portion(walkMin(chosen), Math.min(1, round / rounds), 0)
    if (minutes <= mostMinutes) low = middle
    else high = middle - 1
  }
  return [...fixed, ...order.slice(0, low)]
}

function byGainPerMinute(
  { shown, signs, weight, minutes }: PairInstance,
  fixed: readonly number[],
  { mostMinutes, tellApart }: { readonly mostMinutes: number; readonly tellApart: number },
  isMeant: (c: number) => boolean,
): number[] {
  const need = attainableDemand(shown)
  const all = weightOf(need, weight)
  const partition = new Partition(signs, weight)
  const bits = bitsOfAll(signs, weight)
  const { offset, joint } = shown
  const shownGain = (c: number) => {
    let gain = 0
    for (let i = offset[c]; i < offset[c + 1]; i++) if (need[joint[i]] > 0) gain += weight[joint[i]]
    return gain
  }
  const take = (c: number) => {
    partition.take(c)
    for (let i = offset[c]; i < offset[c + 1]; i++) if (need[joint[i]] > 0) need[joint[i]]--
  }
  fixed.forEach(take)
  const isFixed = new Set(fixed)
  let left = beyond * mostMinutes
  return lazyGreedy(
    shown.candidates,
    (c) => {
      if (isFixed.has(c) || !isMeant(c)) return 0
      const told = tellApart > 0 ? (tellApart * partition.gain(c)) / bits : 0
      return (((1 - tellApart) * shownGain(c)) / all + told) / minutes[c]
    },
    (c) => {
      take(c)
      left -= minutes[c]
      return left > 0
    },
  )
}

function worthOf({ shown, signs, weight }: PairInstance, tellApart: number): Worth {
  const demand = attainableDemand(shown)
  const all = weightOf(demand, weight)
  const bits = bitsOfAll(signs, weight)
  return (chosen) => {
    const need = demand.slice()
    const partition = new Partition(signs, weight)
    for (const c of chosen) {
      partition.take(c)
      for (let i = shown.offset[c]; i < shown.offset[c + 1]; i++)
        if (need[shown.joint[i]] > 0) need[shown.joint[i]]--
    }
    return (1 - tellApart) * (1 - weightOf(need, weight) / all) + (tellApart * partition.bits) / bits
  }
}

function weightOf(need: Uint8Array, weight: Float64Array): number {
  let sum = 0
  for (let e = 0; e < need.length; e++) sum += need[e] * weight[e]
  return sum || 1
}

/** Bits of all candidates; 1 where they tell nothing apart. */
function bitsOfAll(signs: PairInstance['signs'], weight: Float64Array): number {
  const partition = new Partition(signs, weight)
  for (let c = 0; c < signs.candidates; c++) partition.take(c)
  return partition.bits || 1
}
