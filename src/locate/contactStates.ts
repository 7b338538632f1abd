import { precisionEntry } from './precision.ts'
import type { ReadingStates } from './readingStates.ts'
import {
  gainOf,
  halfLn2Pi,
  mostGaining,
  setAside,
  setAsideAnew,
  setAsideArrays,
  takeAll,
  type SetAside,
} from './setAside.ts'

export interface StatesSum {
  /** ln of the density of all readings, summed over their states. */
  readonly logEvidence: number
  /** Chance of each reading to be spoiled, given the hypothesis. Overwritten by the next sum with the same arrays. */
  readonly spoiledProbability: Float64Array
}

/** Arrays that are kept from call to call; one per size. */
export interface StatesWorkspace {
  readonly aside: SetAside
  readonly gain: Float64Array
  readonly probability: Float64Array
  readonly subsets: SubsetArrays
}

export function statesWorkspace(count: number): StatesWorkspace {
  return {
    aside: setAsideArrays(count),
    gain: new Float64Array(count),
    probability: new Float64Array(count),
    subsets: subsetArrays(),
  }
}

/** Readings whose states are summed out together: 2^7 combinations. */
const mostDoubtful = 7
/** A state less likely than this by its log is left to the product of independent states. */
const doubtNats = 6
/** Readings that may have to be set aside together before that pays. */
const mostMasked = 8

/** Whether a sum of squares is larger than chance makes it: its mean and six standard deviations. */
function isPoorFit(square: number, count: number): boolean {
  return square > count + 6 * Math.sqrt(2 * count)
}

/**
 * The evidence of all readings, summed over which of them are spoiled:
 *
 *   p(y) = Σ_F Π_{p∈F} spoiled_p · Π_{p∉F} taken_p · N(y_rest; 0, Σ_rest)
 *
 * With W = Σ⁻¹ and u = W ρ, leaving F out of the normal needs only the block of F:
 *
 *   ln N(rest) = −½ [ (n − |F|) ln 2π + ln det Σ + ln det W_FF + ρᵀu − u_Fᵀ W_FF⁻¹ u_F ]
 *
 * The best set is found greedily, one pivot on W each, and where the rest then still does not fit, further by
 * up to eight readings that pay only together; the up to seven readings whose state is most in doubt are then
 * summed out exactly, the rest as independent of each other. O(n² |F| + 2^7).
 * With `quick` nothing is summed out together: a screening value.
 */
export function sumOverContactStates(
  states: ReadingStates,
  work: StatesWorkspace,
  quick: boolean,
): StatesSum {
  const { count: n, logTaken, mustSpoil } = states
  const { aside, gain, probability, subsets } = work
  let base = -0.5 * (states.logDeterminant + takeAll(aside, states)) - n * halfLn2Pi
  for (let i = 0; i < n; i++) base += logTaken[i]
  for (let p = 0; p < n; p++) if (mustSpoil[p] === 1) base += setAside(aside, states, p)
  const must = aside.count

  const order: number[] = []
  const gained: number[] = []
  for (let best = mostGaining(aside, n, 0); best >= 0; best = mostGaining(aside, n, 0)) {
    gained.push(setAside(aside, states, best))
    order.push(best)
  }
  if (!quick && isPoorFit(remainingSquare(states, aside), n - order.length))
    setMaskedAside(states, aside, must, order, gained)

  // what each further reading would gain by being set aside, given the best set
  for (let p = 0; p < n; p++) gain[p] = aside.isSpoiled[p] === 1 ? Infinity : gainOf(aside, p)
  for (let k = 0; k < order.length; k++) gain[order[k]] = gained[k]

  const doubtful = quick ? 0 : mostInDoubt(gain, n, subsets)
  // both states of a reading that is hardly in doubt: the likelier one is in `base` already
  let both = 1
  for (let p = 0; p < n; p++) {
    if (gain[p] === Infinity) {
      probability[p] = 1
      continue
    }
    const rarer = Math.exp(-Math.abs(gain[p]))
    probability[p] = (gain[p] > 0 ? 1 : rarer) / (1 + rarer)
    if (!isDoubtful(subsets, doubtful, p)) both *= 1 + rarer
  }
  if (doubtful > 0) {
    const others = order.filter((p) => !isDoubtful(subsets, doubtful, p))
    base += setAsideAnew(aside, states, must, others)
    base += sumDoubtful(states, work, doubtful)
  } else {
    for (const value of gained) base += value
  }
  return { logEvidence: base + Math.log(both), spoiledProbability: probability }
}

/** ρᵀ W ρ of the readings that are left. */
function remainingSquare(
  { count: n, residualOhm }: ReadingStates,
  { weighted, isSpoiled }: SetAside,
): number {
  let sum = 0
  for (let p = 0; p < n; p++) if (isSpoiled[p] === 0) sum += residualOhm[p] * weighted[p]
  return sum
}

/**
 * Readings that contradict the rest together mask each other: setting one aside gains nothing, all of them much.
 * Lengthens `order` and `gained` by those that pay together.
 */
function setMaskedAside(
  states: ReadingStates,
  aside: SetAside,
  must: number,
  order: number[],
  gained: number[],
): void {
  const kept = order.length
  let sum = 0
  let bestSum = 0
  let bestCount = 0
  for (let step = 1; step <= Math.min(mostMasked, states.count - kept - 1); step++) {
    const next = mostGaining(aside, states.count, -Infinity)
    if (next < 0) break
    sum += setAside(aside, states, next)
    order.push(next)
    if (sum > bestSum) {
      bestSum = sum
      bestCount = step
    }
  }
  order.length = kept + bestCount
  // some were only met on the way: what gains by being taken again is taken again
  let total = setAsideAnew(aside, states, must, order)
  for (const p of order.slice(kept)) {
    const without = order.filter((other) => other !== p)
    const sumWithout = setAsideAnew(aside, states, must, without)
    if (sumWithout < total) continue
    total = sumWithout
    order.splice(order.indexOf(p), 1)
  }
  setAsideAnew(aside, states, must, order)
  const before = gained.reduce((a, b) => a + b, 0)
  for (let k = kept; k < order.length; k++) gained.push((total - before) / (order.length - kept))
}

/** Arrays for the sum over the subsets of the doubtful readings. */
interface SubsetArrays {
  readonly reading: Int32Array
  /** W over the doubtful, and W ρ, once for each of them that was decided on. */
  readonly block: Float64Array
  readonly right: Float64Array
  /** By subset: ln of its weight but for the determinant, which is the product of the pivots. */
  readonly log: Float64Array
  readonly pivots: Float64Array
}

function subsetArrays(): SubsetArrays {
  const k = mostDoubtful
  return {
    reading: new Int32Array(k),
    block: new Float64Array((k + 1) * k * k),
    right: new Float64Array((k + 1) * k),
    log: new Float64Array(1 << k),
    pivots: new Float64Array(1 << k),
  }
}

function isDoubtful({ reading }: SubsetArrays, count: number, p: number): boolean {
  for (let a = 0; a < count; a++) if (reading[a] === p) return true
  return false
}

/** Readings whose two states weigh within e^±6 of each other, the closest first, at most seven. */
function mostInDoubt(gain: Float64Array, n: number, { reading }: SubsetArrays): number {
  let count = 0
  for (let p = 0; p < n; p++) {
    const size = Math.abs(gain[p])
    if (!(size < doubtNats)) continue
    let at = count
    for (; at > 0 && Math.abs(gain[reading[at - 1]]) > size; at--)
      if (at < mostDoubtful) reading[at] = reading[at - 1]
    if (at < mostDoubtful) reading[at] = p
    count = Math.min(mostDoubtful, count + 1)
  }
  return count
}

/**
 * ln Σ over all subsets of the doubtful readings, relative to none of them spoiled; fills their probabilities.
 * One reading after the other is decided on: taken, or set aside, which is a pivot on what W has left of those to
 * come. O(2^k) and the block of W.
 */
function sumDoubtful(states: ReadingStates, work: StatesWorkspace, k: number): number {
  const { aside, probability, subsets } = work
  const { reading, block, right, log, pivots } = subsets
  const { count: n, precision } = states
  for (let a = 0; a < k; a++) {
    const p = reading[a]
    right[a] = aside.weighted[p]
    for (let b = a; b < k; b++) {
      let value = precisionEntry(precision, p, reading[b])
      for (let at = 0; at < aside.count * n; at += n)
        value -= aside.lost[at + p] * aside.lost[at + reading[b]]
      block[a * k + b] = value
    }
  }
  decide(aside.odds, subsets, k, 0, 0, 0, 1)
  const size = 1 << k
  let most = -Infinity
  for (let subset = 0; subset < size; subset++) if (log[subset] > most) most = log[subset]
  for (let subset = 0; subset < size; subset++)
    log[subset] = Math.exp(log[subset] - most) / Math.sqrt(pivots[subset])
  // halves: with and without the last of those that are not summed over yet
  for (let a = k - 1, half = size >> 1; a >= 0; a--, half >>= 1) {
    let spoiled = 0
    for (let subset = 0; subset < half; subset++) {
      spoiled += log[half + subset]
      log[subset] += log[half + subset]
    }
    probability[reading[a]] = spoiled
  }
  for (let a = 0; a < k; a++) probability[reading[a]] /= log[0]
  return most + Math.log(log[0])
}

/** Decides on the doubtful reading `a` and those after it; `subset`: those before it that are set aside. */
function decide(
  odds: Float64Array,
  arrays: SubsetArrays,
  k: number,
  a: number,
  subset: number,
  gained: number,
  product: number,
): void {
  const { reading, block, right, log, pivots } = arrays
  if (a === k) {
    log[subset] = gained
    pivots[subset] = product
    return
  }
  const from = a * k * k
  const to = from + k * k
  const now = a * k
  const then = now + k
  for (let i = a + 1; i < k; i++) {
    right[then + i] = right[now + i]
    for (let j = i; j < k; j++) block[to + i * k + j] = block[from + i * k + j]
  }
  decide(odds, arrays, k, a + 1, subset, gained, product)
  const pivot = block[from + a * k + a]
  const larger = subset | (1 << a)
  if (!(pivot > 0)) {
    for (let s = larger; s < 1 << k; s += 1 << (a + 1)) {
      log[s] = -Infinity
      pivots[s] = 1
    }
    return
  }
  const inverse = 1 / pivot
  const moved = right[now + a] * inverse
  for (let i = a + 1; i < k; i++) {
    const share = block[from + a * k + i] * inverse
    right[then + i] = right[now + i] - block[from + a * k + i] * moved
    for (let j = i; j < k; j++)
      block[to + i * k + j] = block[from + i * k + j] - share * block[from + a * k + j]
  }
  const more = odds[reading[a]] + 0.5 * right[now + a] * moved
  decide(odds, arrays, k, a + 1, larger, gained + more, product * pivot)
}
