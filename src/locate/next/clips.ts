import { parsePartAddress, type PartAddress } from '../../model/address.ts'
import type { Drawing } from '../../model/schema/drawing.ts'
import type { PartKind } from '../../model/schema/planning.ts'
import type { EntryOf, Spot } from '../../model/schema/record.ts'
import { poorContactRate } from '../../reading/contact.ts'

type Reading = EntryOf<'reading'>

/** What a clip meets on parts of each kind: what the crew last noted, else what the site says can be reached. */
export interface Clips {
  readonly surfaces: ReadonlyMap<PartKind, Spot['surface']>
  readonly isReachable: ReadonlySet<PartKind>
}

function kindOf(address: PartAddress | null): PartKind | null {
  if (!address || address.at === 'remoteEarth') return null
  if (address.at === 'table') return address.part.of
  return address.at === 'conductor' ? 'conductorEnd' : address.at
}

export function clipsOf(drawing: Drawing, readings: readonly Reading[]): Clips {
  const surfaces = new Map<PartKind, Spot['surface']>()
  const isReachable = new Set<PartKind>()
  for (const { part, reachable, surface } of drawing.access) {
    // what is coated is pierced before it is read
    surfaces.set(part, surface === 'coated' ? 'pierced' : 'bare')
    if (reachable) isReachable.add(part)
  }
  for (const { from, to } of readings) {
    for (const { part, surface } of [from, to]) {
      const kind = kindOf(parsePartAddress(part))
      if (kind) surfaces.set(kind, surface)
    }
  }
  return { surfaces, isReachable }
}

/** Chance that a reading between two parts, taken as the last one was, meets a poor contact. */
export function poorRateBetween(clips: Clips, like: Reading, from: string, to: string): number {
  return poorContactRate({ ...like, from: spotOn(clips, from), to: spotOn(clips, to), repeats: null })
}

/** The same for a repeat of a reading with its clips seated afresh. */
export function poorRateAgain(reading: Reading): number {
  return poorContactRate({ ...reading, repeats: reading.id })
}

function spotOn({ surfaces }: Clips, part: string): Spot {
  const kind = kindOf(parsePartAddress(part))
  return { part, spot: 'unknown', surface: (kind && surfaces.get(kind)) ?? 'bare' }
}
