import type { Kit } from '../model/schema/record.ts'
import { distanceM } from '../layout/path.ts'
import { partPositionM } from '../layout/positions.ts'
import type { SiteIndex } from '../layout/siteIndex.ts'

/** Lead that lies on the ground and hangs to the clips instead of spanning the distance, in metres. */
export const slackM = 3
/** What the short leads of an instrument span where nothing longer was read with it so far, in metres. */
export const shortReachM = 3

/** What the leads that a four-wire bond tester comes with span together (common practice, from memory: two of 5 m). */
const fourWireReachM = 10

/** What the leads of an instrument span where no longer one is taken, in metres. */
export function reachOfOwnLeadsM({ method }: Kit): number {
  return method === 'fourWire' ? fourWireReachM : shortReachM
}

/** The distance that a lead of this length spans, in metres; never below 0. */
export function reachOfLeadM(lengthM: number): number {
  return Math.max(0, lengthM - slackM)
}

/** The least whole metres of lead that span a distance. */
export function lengthToReachM(apartM: number): number {
  return Math.ceil(apartM + slackM)
}

/** Straight distance between two parts in plan, in metres; Infinity to remote earth, which is nowhere. O(log runs). */
export function straightM(index: SiteIndex, a: number, b: number): number {
  const from = partPositionM(index, a)
  const to = partPositionM(index, b)
  return from && to ? distanceM(from, to) : Infinity
}

/** The way from part to part in plan, in metres, along straight lines. */
export function wayM(index: SiteIndex, parts: readonly number[]): number {
  let sum = 0
  for (let k = 1; k < parts.length; k++) sum += straightM(index, parts[k - 1], parts[k])
  return sum
}
