import { precisionDiagonal, timesPrecision } from './precision.ts'
import type { ReadingStates } from './readingStates.ts'

export const halfLn2Pi = 0.9189385332046727

/**
 * W of the readings that are left while others are set aside one after the other, each a pivot on W: arrays that are
 * kept from call to call. Row k of a matrix belongs to the k-th that was set aside.
 */
export interface SetAside {
  /** How many are set aside. */
  count: number
  /** Which one, and what that gained. */
  readonly reading: Int32Array
  readonly gained: Float64Array
  /** What the precision lost by it: W is the one of the hypothesis less Σ lost lostᵀ. */
  readonly lost: Float64Array
  /** W ρ and the diagonal of W as they were before it. */
  readonly weightedBefore: Float64Array
  readonly diagonalBefore: Float64Array
  readonly weighted: Float64Array
  readonly diagonal: Float64Array
  readonly isSpoiled: Uint8Array
  /** ln of spoiled over taken, what a reading gains before W has its say. */
  readonly odds: Float64Array
  /** A former entry of the diagonal and its logarithm: bounds what a reading gains without another logarithm. */
  readonly formerly: Float64Array
  readonly lnFormerly: Float64Array
}

export function setAsideArrays(n: number): SetAside {
  return {
    count: 0,
    reading: new Int32Array(n),
    gained: new Float64Array(n),
    lost: new Float64Array(n * n),
    weightedBefore: new Float64Array(n * n),
    diagonalBefore: new Float64Array(n * n),
    weighted: new Float64Array(n),
    diagonal: new Float64Array(n),
    isSpoiled: new Uint8Array(n),
    odds: new Float64Array(n),
    formerly: new Float64Array(n),
    lnFormerly: new Float64Array(n),
  }
}

/** Begins with none set aside; returns ρᵀ W ρ. */
export function takeAll(aside: SetAside, states: ReadingStates): number {
  const { count: n, precision, residualOhm, weighted, logTaken, logSpoiled } = states
  if (weighted) aside.weighted.set(weighted)
  else timesPrecision(precision, residualOhm, aside.weighted)
  precisionDiagonal(precision, aside.diagonal)
  aside.isSpoiled.fill(0)
  aside.count = 0
  let square = 0
  for (let p = 0; p < n; p++) {
    square += residualOhm[p] * aside.weighted[p]
    aside.odds[p] = logSpoiled[p] - logTaken[p] + halfLn2Pi
    aside.formerly[p] = 0
  }
  return square
}

/** What it gains to set one more reading aside. */
export function gainOf({ odds, weighted, diagonal, formerly, lnFormerly }: SetAside, p: number): number {
  const pivot = diagonal[p]
  if (pivot !== formerly[p]) {
    formerly[p] = pivot
    lnFormerly[p] = Math.log(pivot)
  }
  return odds[p] - 0.5 * lnFormerly[p] + (0.5 * weighted[p] * weighted[p]) / pivot
}

/** Sets one more reading aside. W loses w wᵀ / W_pp, w its column at p: only columns are ever made. O(n count). */
export function setAside(aside: SetAside, { count: n, precision }: ReadingStates, p: number): number {
  const { lost, weighted, diagonal, weightedBefore, diagonalBefore, isSpoiled } = aside
  const { base, less } = precision
  const gained = gainOf(aside, p)
  const at = aside.count * n
  for (let i = 0; i < n; i++) lost[at + i] = base[p * n + i]
  for (let k = 0; k < less.length; k++) takeFrom(lost, at, less[k], 0, p, n)
  let from = 0
  for (; from + 4 * n <= at; from += 4 * n) takeFourFrom(lost, at, from, p, n)
  for (; from < at; from += n) takeFrom(lost, at, lost, from, p, n)
  const scale = 1 / Math.sqrt(diagonal[p])
  const moved = weighted[p] * scale
  isSpoiled[p] = 1
  for (let i = 0; i < n; i++) {
    const value = isSpoiled[i] === 1 ? 0 : lost[at + i] * scale
    weightedBefore[at + i] = weighted[i]
    diagonalBefore[at + i] = diagonal[i]
    lost[at + i] = value
    weighted[i] -= value * moved
    diagonal[i] -= value * value
  }
  aside.reading[aside.count] = p
  aside.gained[aside.count++] = gained
  return gained
}

function takeFrom(lost: Float64Array, at: number, v: Float64Array, from: number, p: number, n: number): void {
  const share = v[from + p]
  if (share !== 0) for (let i = 0; i < n; i++) lost[at + i] -= share * v[from + i]
}

/** The same for four rows of `lost` at once: their sums are read and written once. */
function takeFourFrom(lost: Float64Array, at: number, from: number, p: number, n: number): void {
  const r1 = from + n
  const r2 = r1 + n
  const r3 = r2 + n
  const s0 = lost[from + p]
  const s1 = lost[r1 + p]
  const s2 = lost[r2 + p]
  const s3 = lost[r3 + p]
  for (let i = 0; i < n; i++)
    lost[at + i] -= s0 * lost[from + i] + s1 * lost[r1 + i] + (s2 * lost[r2 + i] + s3 * lost[r3 + i])
}

/** Takes again all but the first `count` that were set aside, to the last bit as it was then. */
function takeBack(aside: SetAside, n: number, count: number): void {
  if (count >= aside.count) return
  const { weighted, diagonal, weightedBefore, diagonalBefore, isSpoiled, reading } = aside
  for (let k = count; k < aside.count; k++) isSpoiled[reading[k]] = 0
  for (let i = 0, at = count * n; i < n; i++, at++) {
    weighted[i] = weightedBefore[at]
    diagonal[i] = diagonalBefore[at]
  }
  aside.count = count
}

/** Has these readings set aside, in this order, after the first `kept`; returns what that gains. */
export function setAsideAnew(
  aside: SetAside,
  states: ReadingStates,
  kept: number,
  readings: readonly number[],
): number {
  let same = 0
  let sum = 0
  while (kept + same < aside.count && aside.reading[kept + same] === readings[same]) {
    sum += aside.gained[kept + same]
    same++
  }
  takeBack(aside, states.count, kept + same)
  for (let k = same; k < readings.length; k++) sum += setAside(aside, states, readings[k])
  return sum
}

/** Room for rounding in the bound. */
const rounding = 1e-9

/**
 * The reading that gains most by being set aside, the first of equals, or −1 where none gains more than `least`. Bounded
 * first: with d the former entry of the diagonal, ln W_pp ≥ ln d + 1 − d / W_pp.
 */
export function mostGaining(aside: SetAside, n: number, least: number): number {
  const { odds, weighted, diagonal, formerly, lnFormerly, isSpoiled } = aside
  let best = -1
  let most = least
  for (let p = 0; p < n; p++) {
    if (isSpoiled[p] === 1) continue
    if (formerly[p] !== 0) {
      const inverse = 1 / diagonal[p]
      const half = weighted[p] * weighted[p] * inverse - lnFormerly[p] - 1 + formerly[p] * inverse
      if (odds[p] + 0.5 * half + rounding < most) continue
    }
    const value = gainOf(aside, p)
    if (value > most) {
      most = value
      best = p
    }
  }
  return best
}
