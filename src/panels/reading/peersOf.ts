import type { Peer } from '../../compare/firstVerdict.ts'
import { classKey, pairClassOf } from '../../compare/pairClass.ts'
import { parsePartAddress } from '../../model/address.ts'
import type { LocateAnswer } from '../../model/answers.ts'
import type { Drawing } from '../../model/schema/drawing.ts'
import type { Entry, EntryOf } from '../../model/schema/record.ts'

/**
 * Readings of the same visit and instrument whose pairs are of the same class, each with what the last ranking expects of
 * it; no other reading of the same two parts. O(entries).
 */
export function peersOf(
  drawing: Drawing,
  record: readonly Entry[],
  reading: EntryOf<'reading'>,
  locate: LocateAnswer | null,
): readonly Peer[] {
  const keyOf = (method: EntryOf<'reading'>['method'], from: string, to: string) => {
    const [a, b] = [parsePartAddress(from), parsePartAddress(to)]
    const pairClass = a && b ? pairClassOf(drawing, method, a, b) : null
    return pairClass ? classKey(pairClass) : null
  }
  const own = keyOf(reading.method, reading.from.part, reading.to.part)
  if (own === null || !locate) return []
  const ofVisit = new Set<string>()
  for (const entry of record) {
    if (entry.entry === 'reading' && entry.visit === reading.visit) ofVisit.add(entry.id)
  }
  const ends = [reading.from.part, reading.to.part].sort().join(' ')
  return locate.readings.flatMap(({ entry, method, kit, from, to, readOhm, expectedOhm, verdict }) => {
    if (verdict === 'setAside' || readOhm === null || kit !== reading.kit || !ofVisit.has(entry)) return []
    if (!(expectedOhm > 0) || expectedOhm === Infinity || [from, to].sort().join(' ') === ends) return []
    return keyOf(method, from, to) === own ? [{ readOhm, expectedOhm }] : []
  })
}
