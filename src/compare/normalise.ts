import { median } from '../base/orderStatistics.ts'
import type { Measured } from './gather.ts'

/** A reading in the form that peers are compared in: natural logarithms, so that ratios are differences. */
export interface Normalised {
  readonly x: number
  /** What the instrument leaves open of x, as a standard deviation. */
  readonly floor: number
}

/**
 * x = asinh((y − c)/2f) − ln(R̂/f), with y the reading, c its lead's offset, R̂ what its network predicts, f the floor in
 * ohm. Well above the floor that is ln(y − c) − ln R̂; near and below it a straight line, so that zeros and small negative
 * rests stay ordinary numbers (variance-stabilising: Huber et al. 2002, from memory). A factor common to all R̂ moves all x
 * alike; another unit changes none.
 */
export function normalise(
  readOhm: number,
  offsetOhm: number,
  expectedOhm: number,
  floorOhm: number,
): Normalised {
  const y = readOhm - offsetOhm
  return {
    x: Math.asinh(y / (2 * floorOhm)) - Math.log(expectedOhm / floorOhm),
    floor: floorOhm / Math.hypot(y, 2 * floorOhm),
  }
}

export interface NormalisedGroup {
  readonly x: Float64Array
  readonly floor: Float64Array
  /** What leads leave open of the group's middle, in x. */
  readonly middleFloor: number
}

/**
 * The readings of a group over one floor, the middle one of theirs: digits √(σ0² + step²/12) and unsteadiness and,
 * where the group was read in several nulling intervals, what nulling leaves. In one interval all share that offset: it
 * moves the middle and no reading against its peers.
 */
export function normaliseGroup(members: readonly Measured[]): NormalisedGroup {
  const intervals = new Set(members.map(({ interval }) => interval)).size
  const isMixed = intervals > 1
  const floorOhm = median(
    members.map((member) => (isMixed ? Math.hypot(member.floorOhm, member.offset.sdOhm) : member.floorOhm)),
  )
  const each = members.map(({ readOhm, atLeastOhm, offset, expectedOhm }) =>
    normalise(readOhm ?? atLeastOhm, offset.meanOhm, expectedOhm, floorOhm),
  )
  const floor = Float64Array.from(each, (one) => one.floor)
  const leadFloor = (median(members.map(({ offset }) => offset.sdOhm)) / floorOhm) * median(floor)
  return {
    x: Float64Array.from(each, ({ x }) => x),
    floor,
    middleFloor: leadFloor / Math.sqrt(intervals),
  }
}
