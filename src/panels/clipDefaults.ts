import { parsePartAddress, type PartAddress } from '../model/address.ts'
import type { Drawing } from '../model/schema/drawing.ts'
import type { PartKind } from '../model/schema/planning.ts'
import type { Spot } from '../model/schema/record.ts'

function kindOf(address: PartAddress): PartKind | null {
  switch (address.at) {
    case 'table':
      return address.part.of
    case 'conductor':
      return 'conductorEnd'
    case 'remoteEarth':
      return null
    default:
      return address.at
  }
}

/** Where a crew clips on as a rule; the surface comes from the site's access list. */
const usualSpot: Readonly<Record<PartKind, Spot['spot']>> = {
  frame: 'face',
  longMember: 'cutEdge',
  crossMember: 'cutEdge',
  post: 'face',
  enclosure: 'stud',
  earthBar: 'stud',
  electrode: 'face',
  conductorEnd: 'lug',
}

/** Spot and surface to begin with at a part; what is coated is taken as pierced, for else nothing is read. */
export function usualClip(drawing: Drawing, part: string): Spot {
  const address = parsePartAddress(part)
  const kind = address && kindOf(address)
  if (kind === null) return { part, spot: 'unknown', surface: 'bare' }
  const surface = drawing.access.find((access) => access.part === kind)?.surface ?? 'bare'
  return { part, spot: usualSpot[kind], surface: surface === 'coated' ? 'pierced' : 'bare' }
}
