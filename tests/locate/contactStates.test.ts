import { describe, expect, it } from 'vitest'
import { logSumExp } from '../../src/base/logSum.ts'
import { randomStream } from '../../src/base/random.ts'
import { choleskyInPlace, inverseFromCholesky, logDeterminant, solveLower } from '../../src/base/symmetric.ts'
import { precisionEntry, quadraticForm, timesPrecision, widened } from '../../src/locate/precision.ts'
import { statesWorkspace, sumOverContactStates } from '../../src/locate/contactStates.ts'
import type { ReadingStates } from '../../src/locate/readingStates.ts'

/** ln density of a normal vector with the given covariance, the plain way. */
function logNormal(covariance: Float64Array, size: number, x: Float64Array): number {
  const factor = covariance.slice()
  choleskyInPlace(factor, size)
  const y = x.slice()
  solveLower(factor, size, y)
  const square = y.reduce((sum, v) => sum + v * v, 0)
  return -0.5 * (size * Math.log(2 * Math.PI) + logDeterminant(factor, size) + square)
}

function scenario(seed: number, n: number, spoiledAt: readonly number[]) {
  const random = randomStream(seed)
  const covariance = new Float64Array(n * n)
  const shared = Array.from({ length: n }, () => random.normal() * 0.02)
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++)
      covariance[i * n + j] = shared[i] * shared[j] + 0.0004 + (i === j ? 0.0003 : 0)
  }
  const residualOhm = Float64Array.from({ length: n }, () => random.normal() * 0.02)
  for (const p of spoiledAt) residualOhm[p] += 0.2
  const factor = covariance.slice()
  choleskyInPlace(factor, n)
  const states: ReadingStates = {
    count: n,
    precision: { size: n, base: inverseFromCholesky(factor, n), less: [] },
    logDeterminant: logDeterminant(factor, n),
    residualOhm,
    logTaken: new Float64Array(n).fill(Math.log(0.9)),
    logSpoiled: Float64Array.from(
      { length: n },
      (_, p) => Math.log(0.1) + (residualOhm[p] > 0.05 ? 0.5 : -1),
    ),
    mustSpoil: new Uint8Array(n),
  }
  return { covariance, states }
}

/** The sum over every subset of spoiled readings. */
function bruteForce(covariance: Float64Array, s: ReadingStates): { log: number; probability: number[] } {
  const n = s.count
  const logs: number[] = []
  const per: number[][] = Array.from({ length: n }, () => [])
  for (let subset = 0; subset < 1 << n; subset++) {
    const taken = Array.from({ length: n }, (_, i) => i).filter((i) => (subset & (1 << i)) === 0)
    if (taken.some((i) => s.mustSpoil[i] === 1)) continue
    const part = new Float64Array(taken.length * taken.length)
    taken.forEach((p, i) => taken.forEach((q, j) => (part[i * taken.length + j] = covariance[p * n + q])))
    let log = taken.length
      ? logNormal(
          part,
          taken.length,
          Float64Array.from(taken, (p) => s.residualOhm[p]),
        )
      : 0
    for (let p = 0; p < n; p++) log += taken.includes(p) ? s.logTaken[p] : s.logSpoiled[p]
    logs.push(log)
    for (let p = 0; p < n; p++) if (!taken.includes(p)) per[p].push(log)
  }
  const total = logSumExp(logs)
  return { log: total, probability: per.map((list) => Math.exp(logSumExp(list) - total)) }
}

describe('the sum over contact states', () => {
  it('is the sum over all subsets when no more readings are in doubt than it enumerates', () => {
    for (let seed = 1; seed <= 12; seed++) {
      const { covariance, states } = scenario(seed, 6, seed % 3 === 0 ? [1, 4] : seed % 3 === 1 ? [2] : [])
      const exact = bruteForce(covariance, states)
      const { logEvidence, spoiledProbability } = sumOverContactStates(states, statesWorkspace(6), false)
      expect(logEvidence).toBeCloseTo(exact.log, 2)
      for (let p = 0; p < 6; p++) expect(spoiledProbability[p]).toBeCloseTo(exact.probability[p], 2)
    }
  })

  it('keeps the screening value within half a nat where one reading is plainly spoiled', () => {
    const { covariance, states } = scenario(40, 8, [3])
    const exact = bruteForce(covariance, states)
    const quick = sumOverContactStates(states, statesWorkspace(8), true)
    expect(Math.abs(quick.logEvidence - exact.log)).toBeLessThan(0.5)
    expect(quick.spoiledProbability[3]).toBeGreaterThan(0.95)
  })

  it('leaves out what cannot be taken as it stands', () => {
    const { covariance, states } = scenario(7, 6, [])
    states.mustSpoil[2] = 1
    const exact = bruteForce(covariance, states)
    const sum = sumOverContactStates(states, statesWorkspace(6), false)
    expect(sum.logEvidence).toBeCloseTo(exact.log, 2)
    expect(sum.spoiledProbability[2]).toBe(1)
  })

  it('sets several readings aside together where each alone would gain nothing', () => {
    // four readings of one far group, all 0.2 ohm off: to each other they agree to a milliohm
    const n = 8
    const covariance = new Float64Array(n * n)
    const residualOhm = Float64Array.from({ length: n }, (_, p) => (p < 4 ? 0.2 + p * 0.0003 : p * 0.0002))
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) {
        const group = i < 4 && j < 4 ? 1e-4 : 0
        covariance[i * n + j] = group + (i === j ? 1e-6 : 0)
      }
    }
    const factor = covariance.slice()
    choleskyInPlace(factor, n)
    const states: ReadingStates = {
      count: n,
      precision: { size: n, base: inverseFromCholesky(factor, n), less: [] },
      logDeterminant: logDeterminant(factor, n),
      residualOhm,
      logTaken: new Float64Array(n).fill(Math.log(0.95)),
      logSpoiled: new Float64Array(n).fill(Math.log(0.05)),
      mustSpoil: new Uint8Array(n),
    }
    const exact = bruteForce(covariance, states)
    const { logEvidence, spoiledProbability } = sumOverContactStates(states, statesWorkspace(n), false)
    expect(logEvidence).toBeCloseTo(exact.log, 1)
    for (let p = 0; p < n; p++) expect(spoiledProbability[p]).toBeCloseTo(exact.probability[p], 1)
    expect(exact.probability[0]).toBeGreaterThan(0.99)
  })

  it('does not depend on the order of the readings', () => {
    const { states } = scenario(9, 7, [0, 5])
    const n = 7
    const swap = [6, 2, 0, 5, 1, 4, 3]
    const moved: ReadingStates = {
      ...states,
      precision: {
        size: n,
        base: Float64Array.from(
          { length: n * n },
          (_, k) => states.precision.base[swap[Math.floor(k / n)] * n + swap[k % n]],
        ),
        less: [],
      },
      residualOhm: Float64Array.from(swap, (p) => states.residualOhm[p]),
      logTaken: Float64Array.from(swap, (p) => states.logTaken[p]),
      logSpoiled: Float64Array.from(swap, (p) => states.logSpoiled[p]),
      mustSpoil: Uint8Array.from(swap, (p) => states.mustSpoil[p]),
    }
    const a = sumOverContactStates(states, statesWorkspace(n), false)
    const b = sumOverContactStates(moved, statesWorkspace(n), false)
    expect(b.logEvidence).toBeCloseTo(a.logEvidence, 9)
  })

  it('takes what a hypothesis adds to the covariance column by column, like the whole inverted anew', () => {
    const { covariance, states } = scenario(11, 7, [1, 2])
    const n = 7
    const random = randomStream(12)
    let { precision } = states
    let added = 0
    const full = covariance.slice()
    for (let k = 0; k < 3; k++) {
      const column = Float64Array.from({ length: n }, () => random.normal() * 0.05)
      for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) full[i * n + j] += column[i] * column[j]
      const wider = widened(precision, column)
      precision = wider.precision
      added += wider.logDeterminant
    }
    const factor = full.slice()
    choleskyInPlace(factor, n)
    expect(states.logDeterminant + added).toBeCloseTo(logDeterminant(factor, n), 9)
    const anew: ReadingStates = {
      ...states,
      precision: { size: n, base: inverseFromCholesky(factor, n), less: [] },
      logDeterminant: logDeterminant(factor, n),
    }
    const byColumns: ReadingStates = { ...states, precision, logDeterminant: states.logDeterminant + added }
    const a = sumOverContactStates(anew, statesWorkspace(n), false)
    const b = sumOverContactStates(byColumns, statesWorkspace(n), false)
    expect(b.logEvidence).toBeCloseTo(a.logEvidence, 8)
    const x = Float64Array.from({ length: n }, (_, p) => p - 3)
    const product = timesPrecision(precision, x, new Float64Array(n))
    const square = product.reduce((sum, value, p) => sum + value * x[p], 0)
    expect(quadraticForm(precision, x)).toBeCloseTo(square, 6 - Math.ceil(Math.log10(square)))
    expect(precisionEntry(precision, 2, 5) / anew.precision.base[2 * n + 5]).toBeCloseTo(1, 9)
  })
})
