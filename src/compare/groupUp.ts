import { fewestInGroup } from '../base/smallGroups.ts'
import type { Measured } from './gather.ts'

export interface Group {
  readonly id: string
  readonly visit: string
  readonly members: readonly Measured[]
}

export interface Grouped {
  readonly groups: readonly Group[]
  /** Of a pair that was read again in its visit, the earlier ones. */
  readonly readAgain: readonly Measured[]
  readonly tooFew: readonly Measured[]
}

/** Readings between two pauses. */
const itemsPerSlice = 1024

/** Expectations in a group are at most so many times apart: what differs more does not scatter alike. */
export const mostApart = 2

function* classesOf(items: readonly Measured[]): Generator<number, ReadonlyMap<string, Measured[]>> {
  const groups = new Map<string, Measured[]>()
  for (const [k, item] of items.entries()) {
    if (k % itemsPerSlice === 0) yield k / items.length
    const key = `${item.reading.visit} ${item.key}`
    const group = groups.get(key)
    if (group) group.push(item)
    else groups.set(key, [item])
  }
  return groups
}

/** Between which two nodes and how a reading was taken, whichever clip was where. */
export function pairKey({ a, b, reading }: Measured): string {
  return `${reading.method} ${Math.min(a, b)} ${Math.max(a, b)}`
}

/** Cut where the expectation exceeds twice the least of its band: a factor on all of them moves no cut. */
function* bandsOf(members: readonly Measured[]): Generator<number, readonly (readonly Measured[])[]> {
  const sorted = Float64Array.from(members, ({ expectedOhm }) => expectedOhm).sort()
  yield 0
  const startsOhm: number[] = []
  // a hair of room, so that rounding alone parts nothing
  const most = mostApart * (1 + 1e-9)
  for (const ohm of sorted)
    if (startsOhm.length === 0 || ohm > most * startsOhm[startsOhm.length - 1]) startsOhm.push(ohm)
  const bands: Measured[][] = startsOhm.map(() => [])
  for (const [k, member] of members.entries()) {
    if (k % itemsPerSlice === itemsPerSlice - 1) yield k / members.length
    bands[startsOhm.findLastIndex((ohm) => ohm <= member.expectedOhm)].push(member)
  }
  return bands
}

/** Of every pair the last reading in its visit, and those before it. */
function* latestOf(measured: readonly Measured[]): Generator<number, [Measured[], Measured[]]> {
  const keys: string[] = []
  const latest = new Map<string, Measured>()
  for (const [k, item] of measured.entries()) {
    if (k % itemsPerSlice === 0) yield k / measured.length
    const key = `${item.reading.visit} ${pairKey(item)}`
    keys.push(key)
    latest.set(key, item)
  }
  const counted: Measured[] = []
  const readAgain: Measured[] = []
  for (const [k, item] of measured.entries()) {
    if (k % itemsPerSlice === 0) yield k / measured.length
    const list = latest.get(keys[k]) === item ? counted : readAgain
    list.push(item)
  }
  return [counted, readAgain]
}

/**
 * Sorts readings into groups of one visit, one class of pairs and expectations within a factor of two. Of several
 * readings of one pair in a visit the latest counts: a repeat with fresh contacts, or a reading after a repair, is how
 * things stood when the visit ended. O(n log n).
 */
export function* groupUp(measured: readonly Measured[]): Generator<number, Grouped> {
  const [counted, readAgain] = yield* latestOf(measured)
  const groups: Group[] = []
  const tooFew: Measured[] = []
  for (const [key, members] of yield* classesOf(counted)) {
    for (const [k, band] of (yield* bandsOf(members)).entries()) {
      if (band.length < fewestInGroup) tooFew.push(...band)
      else groups.push({ id: `${key} ${k + 1}`, visit: band[0].reading.visit, members: band })
    }
  }
  return { groups, readAgain, tooFew }
}
