import { choleskyInPlace } from '../base/symmetric.ts'
import { logAdd } from '../base/logSum.ts'

const halfLn2Pi = 0.9189385332046727

/**
 * What is known of the readings under one hypothesis. The readings that are taken as they stand follow
 * a normal distribution with precision W (inverse covariance, n × n row-major); each reading may instead
 * be set aside as spoiled (poor contact, false low), independently of the others.
 */
export interface ReadingStates {
  readonly count: number
  /** Inverse covariance of all readings, n × n. */
  readonly precision: Float64Array
  /** ln det of the covariance. */
  readonly logDeterminant: number
  /** Reading minus prediction, in ohm. */
  readonly residualOhm: Float64Array
  /** ln of the chance that a reading is to be taken as it stands. */
  readonly logTaken: Float64Array
  /** ln of the chance that it is spoiled, times the density of what it then reads. */
  readonly logSpoiled: Float64Array
  /** 1 where a reading cannot be taken as it stands under this hypothesis (no path is predicted). */
  readonly mustSpoil: Uint8Array
}

export interface StatesSum {
  /** ln of the density of all readings, summed over their states. */
  readonly logEvidence: number
  /** Chance of each reading to be spoiled, given the hypothesis. */
  readonly spoiledProbability: Float64Array
}

/** Arrays that are kept from call to call; one per size. */
export interface StatesWorkspace {
  readonly precision: Float64Array
  readonly weighted: Float64Array
  readonly gain: Float64Array
  readonly spoiled: Uint8Array
  readonly probability: Float64Array
}

export function statesWorkspace(count: number): StatesWorkspace {
  return {
    precision: new Float64Array(count * count),
    weighted: new Float64Array(count),
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
 * summed out exactly, the rest as independent of each other. O(n² |F| + 2^7 · 7²).
 * With `quick` nothing is summed out together: a screening value.
 */
export function sumOverContactStates(
  states: ReadingStates,
  work: StatesWorkspace,
  quick: boolean,
): StatesSum {
  const { count: n, residualOhm, logTaken, logSpoiled, mustSpoil } = states
  const { precision, weighted, gain, spoiled, probability } = work
  let base = -0.5 * states.logDeterminant - n * halfLn2Pi
  const start = () => {
    precision.set(states.precision)
    spoiled.fill(0)
    for (let i = 0; i < n; i++) {
      let sum = 0
      for (let j = 0; j < n; j++) sum += precision[i * n + j] * residualOhm[j]
      weighted[i] = sum
    }
  }
  start()
  for (let i = 0; i < n; i++) base += logTaken[i] - 0.5 * residualOhm[i] * weighted[i]

  const gainOf = (p: number) => {
    const pivot = precision[p * n + p]
    const u = weighted[p]
    return logSpoiled[p] - logTaken[p] + halfLn2Pi - 0.5 * Math.log(pivot) + (0.5 * u * u) / pivot
  }
  const setAside = (p: number) => {
    const pivot = precision[p * n + p]
    const u = weighted[p]
    for (let i = 0; i < n; i++) {
      const share = precision[i * n + p] / pivot
      if (share === 0 || i === p || spoiled[i] === 1) continue
      weighted[i] -= share * u
      for (let j = 0; j < n; j++) precision[i * n + j] -= share * precision[p * n + j]
    }
    spoiled[p] = 1
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
    base += sumDoubtful(states, work, doubtful, n)
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

/** ln Σ over all subsets of the doubtful readings, relative to none of them spoiled; fills their probabilities. */
function sumDoubtful(
  { logTaken, logSpoiled }: ReadingStates,
  { precision, weighted, probability }: StatesWorkspace,
  doubtful: readonly number[],
  n: number,
): number {
  const k = doubtful.length
  const block = new Float64Array(k * k)
  const right = new Float64Array(k)
  const members: number[] = []
  let total = -Infinity
  const withMember = new Float64Array(k).fill(-Infinity)
  for (let subset = 0; subset < 1 << k; subset++) {
    members.length = 0
    let log = 0
    for (let a = 0; a < k; a++) {
      if ((subset & (1 << a)) === 0) continue
      members.push(a)
      log += logSpoiled[doubtful[a]] - logTaken[doubtful[a]] + halfLn2Pi
    }
    const size = members.length
    for (let i = 0; i < size; i++) {
      const p = doubtful[members[i]]
      right[i] = weighted[p]
      for (let j = 0; j < size; j++) block[i * size + j] = precision[p * n + doubtful[members[j]]]
    }
    if (choleskyInPlace(block, size) >= 0) continue
    for (let i = 0; i < size; i++) {
      let sum = right[i]
      for (let j = 0; j < i; j++) sum -= block[i * size + j] * right[j]
      right[i] = sum / block[i * size + i]
      log += 0.5 * right[i] * right[i] - Math.log(block[i * size + i])
    }
    total = logAdd(total, log)
    for (const a of members) withMember[a] = logAdd(withMember[a], log)
  }
  for (let a = 0; a < k; a++) probability[doubtful[a]] = Math.exp(withMember[a] - total)
  return total
}
