import type { RandomStream } from '../../../../../src/base/random.ts'
import { pairPotentials } from '../../../../../src/network/solve.ts'
import { drawSoundOhms, type Fault } from '../../generator/drawOhms.ts'
import type { PossibleNetwork } from '../../generator/possibleNetwork.ts'
import { factorOf } from '../../generator/solveOhms.ts'

/** An open joint as one that gains this: beyond every instrument's range, and still a number. */
const openOhm = 1e8

/** One array as it might be, with nothing bad; what bad joints do to it is exact. */
export interface SampledNetwork {
  /** Ohms of each pair. */
  readonly soundOhm: Float64Array
  /** Current in an edge per ampere through each pair. */
  currents(edge: number): Float64Array
  /** g (1 − h): what limits the effect of a bad edge. */
  loopS(edge: number): number
  /** Ohms of each pair with these bad joints. */
  withFaults(faults: readonly Fault[]): Float64Array
}

export function sampleNetwork(
  possible: PossibleNetwork,
  pairs: readonly (readonly [number, number])[],
  random: RandomStream,
): SampledNetwork {
  return networkOf(possible, drawSoundOhms(possible, random), pairs)
}

/** The network that certain ohms make. */
export function networkOf(
  { network }: PossibleNetwork,
  ohm: Float64Array,
  pairs: readonly (readonly [number, number])[],
): SampledNetwork {
  const { from, to, nodeCount } = network.graph
  const factor = factorOf(network, ohm)
  const volts = pairs.map(([a, b]) => pairPotentials(factor, a, b, new Float64Array(nodeCount)))
  const soundOhm = Float64Array.from(pairs, ([a, b], p) => volts[p][a] - volts[p][b])
  const keptCurrents = new Map<number, Float64Array>()
  const keptVolts = new Map<number, Float64Array>()
  const currents = (e: number) => {
    const kept = keptCurrents.get(e)
    if (kept) return kept
    const i = Float64Array.from(volts, (x) => (x[from[e]] - x[to[e]]) / ohm[e])
    keptCurrents.set(e, i)
    return i
  }
  const voltsOf = (e: number) => {
    const kept = keptVolts.get(e)
    if (kept) return kept
    const x = pairPotentials(factor, from[e], to[e], new Float64Array(nodeCount))
    keptVolts.set(e, x)
    return x
  }
  /** Q_kl = g_k δ_kl − g_k (b_kᵀ X b_l) g_l. */
  const kernel = (k: number, l: number) => {
    const x = voltsOf(l)
    const between = x[from[k]] - x[to[k]]
    return k === l ? Math.max(0, (1 - between / ohm[k]) / ohm[k]) : -between / (ohm[k] * ohm[l])
  }
  const loops = new Map<number, number>()
  const loopS = (e: number) => {
    const kept = loops.get(e) ?? kernel(e, e)
    loops.set(e, kept)
    return kept
  }
  return {
    soundOhm,
    currents,
    loopS,
    withFaults(faults) {
      const out = soundOhm.slice()
      if (faults.length === 0) return out
      if (faults.length === 1) {
        const [{ edge, addedOhm }] = faults
        const i = currents(edge)
        const limit = 1 / Math.min(addedOhm, openOhm) + loopS(edge)
        for (let p = 0; p < out.length; p++) out[p] += (i[p] * i[p]) / limit
        return out
      }
      const n = faults.length
      const a = Array.from({ length: n }, (_, k) =>
        Array.from({ length: n }, (_, l) => {
          const q = k === l ? loopS(faults[k].edge) : kernel(faults[k].edge, faults[l].edge)
          return q + (k === l ? 1 / Math.min(faults[k].addedOhm, openOhm) : 0)
        }),
      )
      for (let p = 0; p < out.length; p++)
        out[p] += form(
          a,
          faults.map(({ edge }) => currents(edge)[p]),
        )
      return out
    },
  }
}

/** iᵀ A⁻¹ i by elimination; A positive definite and small. Not below 0. */
function form(a: readonly (readonly number[])[], i: readonly number[]): number {
  const n = i.length
  const m = a.map((row) => [...row])
  const y = [...i]
  let sum = 0
  for (let k = 0; k < n; k++) {
    const pivot = Math.max(m[k][k], 1e-12)
    sum += (y[k] * y[k]) / pivot
    for (let r = k + 1; r < n; r++) {
      const share = m[r][k] / pivot
      y[r] -= share * y[k]
      for (let c = k; c < n; c++) m[r][c] -= share * m[k][c]
    }
  }
  return sum
}
