import { riseOhm } from '../../../src/network/jointSweep.ts'
import type { Fault } from './generator/drawOhms.ts'
import { networkOf } from './methods/ceiling/sampledNetwork.ts'
import type { TypedSite } from './typedSite.ts'

/** A fault that moves the readings by less than this, all taken together, cannot be told from nothing. */
export const leastVisible = 2

/**
 * By how many standard deviations of instrument and sound clips a bad joint moves the readings of a site, all
 * taken together, on the drawn network at its medians. Infinity where a reading goes out of all range.
 */
export function shiftOf({ prepared, readings }: TypedSite, edge: number, addedOhm: number): number {
  let sum = 0
  for (const { squared, ownSdOhm } of readings) {
    const rise = riseOhm(squared[edge], prepared.loopS[edge], addedOhm)
    sum += (rise / ownSdOhm) ** 2
  }
  return Math.sqrt(sum)
}

/**
 * Which of several bad joints, by edges of the drawn network, the readings could show: those that could be seen
 * alone, and those without which the readings would be others. Two joints that each leave a way round may cut it
 * together.
 */
export function visibleAmong(typed: TypedSite): (faults: readonly Fault[]) => number[] {
  const { prepared, readings } = typed
  const { network } = prepared
  const drawn = networkOf(
    { network, undrawn: [], address: [] },
    network.medianOhm,
    readings.map(({ a, b }) => [a, b] as const),
  )
  const alone = (fault: Fault) => shiftOf(typed, fault.edge, fault.addedOhm) >= leastVisible
  return (faults) => {
    if (faults.length < 2) return faults.filter(alone).map(({ edge }) => edge)
    const together = drawn.withFaults(faults)
    const isSeen = (fault: Fault) => {
      if (alone(fault)) return true
      const without = drawn.withFaults(faults.filter((other) => other !== fault))
      const squares = readings.reduce((sum, { kit, ownSdOhm }, p) => {
        const moved = Math.min(together[p], kit.mostOhm) - Math.min(without[p], kit.mostOhm)
        return sum + (moved / ownSdOhm) ** 2
      }, 0)
      return Math.sqrt(squares) >= leastVisible
    }
    return faults.filter(isSeen).map(({ edge }) => edge)
  }
}
