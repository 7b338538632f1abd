import type { Entry } from '../schema/record.ts'
import type { Site } from '../schema/site.ts'
import { byId } from '../queries/byId.ts'

/** What one device wrote of what a file adds. */
export interface AddedPart {
  readonly device: string
  /** Names in the visits that the device opened, in the order of the record. */
  readonly party: readonly string[]
  readonly readings: number
  /** Looks, notes, nullings, repairs and the rest. */
  readonly others: number
  readonly firstAt: string
  readonly lastAt: string
}

/** What the second record has beside the first one, by the device that wrote it, and how many entries both have. */
export function joinParts(
  first: Site,
  second: Site,
): { readonly parts: readonly AddedPart[]; readonly same: number } {
  const present = byId(first.record)
  const added = second.record.filter(({ id }) => !present.has(id))
  const devices = [...new Set(added.map(({ device }) => device))]
  const parts = devices.map((device) =>
    partOf(
      device,
      added.filter((entry) => entry.device === device),
      second,
    ),
  )
  return { parts, same: second.record.length - added.length }
}

function partOf(device: string, added: readonly Entry[], { record }: Site): AddedPart {
  const visits = record.flatMap((entry) =>
    entry.entry === 'visit' && entry.device === device ? [entry] : [],
  )
  const times = added.map(({ at }) => at).sort((a, b) => Date.parse(a) - Date.parse(b))
  const readings = added.filter(({ entry }) => entry === 'reading').length
  return {
    device,
    party: [...new Set(visits.flatMap(({ party }) => party))],
    readings,
    others: added.length - readings,
    firstAt: times[0],
    lastAt: times[times.length - 1],
  }
}
