import type { Kit } from '../model/schema/record.ts'
import type { NullingInterval } from '../reading/nulling.ts'
import { digitsSdOhm } from '../reading/kitError.ts'

/** What a lead adds to the readings of an interval: mean and standard deviation in ohm. */
export interface Offset {
  readonly meanOhm: number
  readonly sdOhm: number
}

export interface ShortedRead {
  readonly ohm: number
  readonly kit: Kit
}

/** Mean of shorted reads, each uncertain by its digits; null of none. */
export function shortedOffset(reads: readonly ShortedRead[]): Offset | null {
  if (reads.length === 0) return null
  let weight = 0
  let sum = 0
  for (const { ohm, kit } of reads) {
    const w = 1 / digitsSdOhm(kit) ** 2
    weight += w
    sum += w * ohm
  }
  return { meanOhm: sum / weight, sdOhm: 1 / Math.sqrt(weight) }
}

/**
 * The offset of an interval from what nulling leaves and what was read with the leads shorted, both normal:
 * precisions add. Readings of the array do not enter: what they share may lie in the array.
 */
export function offsetOf(interval: NullingInterval, reads: readonly ShortedRead[]): Offset {
  const shorted = shortedOffset(reads)
  const { offsetMeanOhm: meanOhm, offsetSdOhm: sdOhm } = interval
  if (!shorted) return { meanOhm, sdOhm }
  if (!interval.lead) return shorted
  const before = 1 / sdOhm ** 2
  const told = 1 / shorted.sdOhm ** 2
  const precision = before + told
  return {
    meanOhm: (before * meanOhm + told * shorted.meanOhm) / precision,
    sdOhm: 1 / Math.sqrt(precision),
  }
}
