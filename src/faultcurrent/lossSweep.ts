import { portionSteps } from '../base/portion.ts'
import type { Circuit } from './circuit.ts'
import type { FaultFlow } from './faultFlow.ts'
import { lossKernel, type Loss } from './lossKernel.ts'
import { portCurrentsA } from './operatingPoint.ts'
import {
  mostWatched,
  prepareWatch,
  watchLoss,
  type Watch,
  type Watched,
  type WatchedPair,
} from './watchedPairs.ts'
import { unitCurrents } from './unitCurrents.ts'

/** For every edge that is a joint, what its loss alone would do to a fault. */
export interface LossSweep {
  readonly acrossV: Float64Array
  readonly leftA: Float64Array
  readonly watched: readonly Watched[]
  /** Edges with the largest volts across themselves, the largest first. */
  readonly worst: readonly number[]
  readonly stops: number
}

const mostWorst = 400
/** Share of the sound current below which none is left. */
const noneLeft = 1e-9

/**
 * Loses every joint in turn. One pass over the edges with the currents of each port and each watched pair; exact
 * (`lossKernel.ts`). O(edges · (ports + watched)) and a small Newton method for those whose loss is felt; 8 bytes an edge
 * for each port and watched pair. Yields the fraction done.
 */
export function* lossSweep(
  circuit: Circuit,
  flow: FaultFlow,
  pairs: readonly WatchedPair[],
): Generator<number, LossSweep> {
  const { reduced, point } = flow
  const { prepared, count, potentialV } = reduced
  const { edgeCount } = prepared.network
  const portUnits: (Float64Array | null)[] = []
  for (const x of potentialV) {
    portUnits.push(x && unitCurrents(prepared, x))
    yield 0.1
  }
  const watches: Watch[] = []
  for (const pair of pairs) {
    watches.push(prepareWatch(flow, pair))
    yield 0.2
  }
  const lose = lossKernel(circuit, reduced, point, portCurrentsA(point))
  const sweep = { acrossV: new Float64Array(edgeCount), leftA: new Float64Array(edgeCount), stops: 0 }
  const i = new Float64Array(count)
  const loseSome = (first: number): number => {
    let e = first
    for (let steps = 0; e < edgeCount && steps < portionSteps; e++) {
      for (let q = 0; q < count; q++) i[q] = portUnits[q]?.[e] ?? 0
      const loss: Loss = lose(i, prepared.loopS[e])
      sweep.acrossV[e] = Math.abs(loss.gapV)
      sweep.leftA[e] = loss.faultA
      if (loss.faultA <= noneLeft * flow.faultA && flow.faultA > 0) sweep.stops++
      for (const watch of watches) watchLoss(watch, e, loss)
      steps += loss.gapV === 0 ? 4 : 32
    }
    return e
  }
  for (let e = 0; e < edgeCount;) {
    e = loseSome(e)
    yield 0.2 + (0.75 * e) / edgeCount
  }
  return { ...sweep, watched: watches.map(mostWatched), worst: largest(sweep.acrossV, mostWorst) }
}

/** Indices of the largest values above 0, of equal ones the lower first. O(values · log most) at worst. */
function largest(values: Float64Array, most: number): number[] {
  const found: number[] = []
  for (let k = 0; k < values.length; k++) {
    const value = values[k]
    if (value === 0 || (found.length === most && value <= values[found[most - 1]])) continue
    let low = 0
    for (let high = found.length; low < high;) {
      const middle = (low + high) >> 1
      if (values[found[middle]] >= value) low = middle + 1
      else high = middle
    }
    found.splice(low, 0, k)
    if (found.length > most) found.pop()
  }
  return found
}
