import { logSumExp } from '../../src/base/logSum.ts'
import type { StatesSum } from '../../src/locate/contactStates.ts'
import type { ReadingStates } from '../../src/locate/readingStates.ts'
import { precisionDiagonal, precisionEntry, timesPrecision } from '../../src/locate/precision.ts'

const halfLn2Pi = 0.9189385332046727

interface StatesWorkspace {
  readonly lost: Float64Array
  readonly weightedAtStart: Float64Array
  readonly diagonalAtStart: Float64Array
  readonly weighted: Float64Array
  readonly diagonal: Float64Array
  readonly gain: Float64Array
  readonly spoiled: Uint8Array
  readonly probability: Float64Array
}

function statesWorkspace(count: number): StatesWorkspace {
  return {
    lost: new Float64Array(count * count),
    weightedAtStart: new Float64Array(count),
    diagonalAtStart: new Float64Array(count),
    weighted: new Float64Array(count),
    diagonal: new Float64Array(count),
    gain: new Float64Array(count),
    spoiled: new Uint8Array(count),
    probability: new Float64Array(count),
  }
}

/** Readings in doubt whose states are summed out together: 2^7 combinations. */
const mostDoubtful = 7
/** A state less likely than this by its log is left to the product of independent states. */
const doubtNats = 6
/** Readings that may have to be set aside together before that pays. */
const mostMasked = 8

/** Whether a sum of squares is larger than chance makes it: its mean and six standard deviations. */
function isPoorFit(square: number, count: number): boolean {
  return square > count + 6 * Math.sqrt(2 * count)
}

/** What `sumOverContactStates` gives, worked out the plain way: begun anew each time, every subset by its own factor. */
export function directSum(states: ReadingStates, quick: boolean): StatesSum {
  const work = statesWorkspace(states.count)
  const { count: n, residualOhm, logTaken, logSpoiled, mustSpoil } = states
  const { base: matrix, less } = states.precision
  const { lost, weightedAtStart, diagonalAtStart, weighted, diagonal, gain, spoiled, probability } = work
  let base = -0.5 * states.logDeterminant - n * halfLn2Pi
  let lostCount = 0
  timesPrecision(states.precision, residualOhm, weightedAtStart)
  precisionDiagonal(states.precision, diagonalAtStart)
  const start = () => {
    weighted.set(weightedAtStart)
    diagonal.set(diagonalAtStart)
    spoiled.fill(0)
    lostCount = 0
  }
  start()
  for (let i = 0; i < n; i++) base += logTaken[i] - 0.5 * residualOhm[i] * weighted[i]

  const gainOf = (p: number) => {
    const pivot = diagonal[p]
    const u = weighted[p]
    return logSpoiled[p] - logTaken[p] + halfLn2Pi - 0.5 * Math.log(pivot) + (0.5 * u * u) / pivot
  }
  // W loses w wᵀ / W_pp, w its column at p: kept as one more row of `lost`, so that only columns are ever made
  const setAside = (p: number) => {
    const at = lostCount * n
    for (let i = 0; i < n; i++) lost[at + i] = matrix[p * n + i]
    for (let k = 0; k < less.length; k++) takeFrom(at, less[k], 0, p)
    for (let k = 0; k < lostCount; k++) takeFrom(at, lost, k * n, p)
    const scale = 1 / Math.sqrt(diagonal[p])
    const moved = weighted[p] * scale
    spoiled[p] = 1
    for (let i = 0; i < n; i++) {
      const value = spoiled[i] === 1 ? 0 : lost[at + i] * scale
      lost[at + i] = value
      weighted[i] -= value * moved
      diagonal[i] -= value * value
    }
    lostCount++
  }
  const takeFrom = (at: number, v: Float64Array, from: number, p: number) => {
    const share = v[from + p]
    if (share !== 0) for (let i = 0; i < n; i++) lost[at + i] -= share * v[from + i]
  }

  const remainingSquare = () => {
    let sum = 0
    for (let p = 0; p < n; p++) if (spoiled[p] === 0) sum += residualOhm[p] * weighted[p]
    return sum
  }
  const leastLoss = () => {
    let best = -1
    let most = -Infinity
    for (let p = 0; p < n; p++) {
      if (spoiled[p] === 1) continue
      const value = gainOf(p)
      if (value > most) {
        most = value
        best = p
      }
    }
    return best
  }

  /** Begins again with these readings set aside; returns what that gains. */
  const setAsideAnew = (readings: readonly number[]): number => {
    start()
    for (let p = 0; p < n; p++) if (mustSpoil[p] === 1) setAside(p)
    let sum = 0
    for (const p of readings) {
      sum += gainOf(p)
      setAside(p)
    }
    return sum
  }

  const order: number[] = []
  const gained: number[] = []
  for (let p = 0; p < n; p++) {
    if (mustSpoil[p] === 0) continue
    base += gainOf(p)
    setAside(p)
  }
  for (;;) {
    const best = leastLoss()
    const most = best < 0 ? 0 : gainOf(best)
    if (most <= 0) break
    setAside(best)
    order.push(best)
    gained.push(most)
  }

  // readings that contradict the rest together mask each other: setting one aside gains nothing, all of them much
  if (!quick && isPoorFit(remainingSquare(), n - order.length)) {
    const kept = order.length
    let sum = 0
    let bestSum = 0
    let bestCount = 0
    for (let step = 1; step <= Math.min(mostMasked, n - kept - 1); step++) {
      const next = leastLoss()
      if (next < 0) break
      sum += gainOf(next)
      setAside(next)
      order.push(next)
      if (sum > bestSum) {
        bestSum = sum
        bestCount = step
      }
    }
    order.length = kept + bestCount
    // some were only met on the way: what gains by being taken again is taken again
    let total = setAsideAnew(order)
    for (const p of order.slice(kept)) {
      const without = order.filter((other) => other !== p)
      const sumWithout = setAsideAnew(without)
      if (sumWithout < total) continue
      total = sumWithout
      order.splice(order.indexOf(p), 1)
    }
    setAsideAnew(order)
    const before = gained.reduce((a, b) => a + b, 0)
    for (let k = kept; k < order.length; k++) gained.push((total - before) / (order.length - kept))
  }

  // what each further reading would gain by being set aside, given the best set
  for (let p = 0; p < n; p++) gain[p] = spoiled[p] === 1 ? Infinity : gainOf(p)
  order.forEach((p, k) => (gain[p] = gained[k]))
  for (let p = 0; p < n; p++) probability[p] = gain[p] === Infinity ? 1 : 1 / (1 + Math.exp(-gain[p]))

  const doubtful = quick ? [] : mostInDoubt(gain)
  if (doubtful.length > 0) {
    base += setAsideAnew(order.filter((p) => !doubtful.includes(p)))
    base += sumDoubtful(states, work, doubtful, lostCount)
  } else {
    for (const value of gained) base += value
  }
  for (let p = 0; p < n; p++) {
    if (gain[p] === Infinity || doubtful.includes(p)) continue
    // both states of a reading that is hardly in doubt: the likelier one is in `base` already
    base += Math.log1p(Math.exp(-Math.abs(gain[p])))
  }
  return { logEvidence: base, spoiledProbability: probability }
}

/** Readings whose two states weigh within e^±6 of each other, the closest first, at most seven. */
function mostInDoubt(gain: Float64Array): number[] {
  const close: number[] = []
  for (let p = 0; p < gain.length; p++) if (Math.abs(gain[p]) < doubtNats) close.push(p)
  return close.sort((a, b) => Math.abs(gain[a]) - Math.abs(gain[b]) || a - b).slice(0, mostDoubtful)
}

/**
 * ln Σ over all subsets of the doubtful readings, relative to none of them spoiled; fills their probabilities. The
 * subsets are gone through so that each has one reading more than one before it, and its Cholesky factor one row
 * more. O(2^k k²).
 */
function sumDoubtful(
  { count: n, precision, logTaken, logSpoiled }: ReadingStates,
  { lost, weighted, probability }: StatesWorkspace,
  doubtful: readonly number[],
  lostCount: number,
): number {
  const k = doubtful.length
  const block = new Float64Array(k * k)
  doubtful.forEach((p, a) =>
    doubtful.forEach((q, b) => {
      let value = precisionEntry(precision, p, q)
      for (let at = 0; at < lostCount * n; at += n) value -= lost[at + p] * lost[at + q]
      block[a * k + b] = value
    }),
  )
  const logs = new Float64Array(1 << k).fill(-Infinity)
  const factor = new Float64Array(k * k)
  const solved = new Float64Array(k)
  const members = new Int32Array(k)
  logs[0] = 0
  const extend = (from: number, size: number, subset: number) => {
    for (let a = from; a < k; a++) {
      let pivot = block[a * k + a]
      let right = weighted[doubtful[a]]
      for (let j = 0; j < size; j++) {
        let sum = block[a * k + members[j]]
        for (let t = 0; t < j; t++) sum -= factor[size * k + t] * factor[j * k + t]
        sum /= factor[j * k + j]
        factor[size * k + j] = sum
        pivot -= sum * sum
        right -= sum * solved[j]
      }
      if (!(pivot > 0)) continue
      const root = Math.sqrt(pivot)
      factor[size * k + size] = root
      solved[size] = right / root
      members[size] = a
      const gained = logSpoiled[doubtful[a]] - logTaken[doubtful[a]] + halfLn2Pi
      const larger = subset | (1 << a)
      logs[larger] = logs[subset] + gained + 0.5 * solved[size] * solved[size] - Math.log(root)
      extend(a + 1, size + 1, larger)
    }
  }
  extend(0, 0, 0)
  const total = logSumExp(logs)
  for (let a = 0; a < k; a++) probability[doubtful[a]] = 0
  for (let subset = 1; subset < logs.length; subset++) {
    const share = Math.exp(logs[subset] - total)
    for (let a = 0; a < k; a++) if ((subset & (1 << a)) !== 0) probability[doubtful[a]] += share
  }
  return total
}
