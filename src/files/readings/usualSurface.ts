import { parsePartAddress } from '../../model/address.ts'
import type { Drawing } from '../../model/schema/drawing.ts'
import type { Spot } from '../../model/schema/record.ts'

/** The surface that the site's access list gives a part; what is coated is taken as pierced, for else nothing is read. */
export function usualSurface({ access }: Drawing, part: string): Spot['surface'] {
  const address = parsePartAddress(part)
  const kind =
    address?.at === 'table' ? address.part.of : address?.at === 'conductor' ? 'conductorEnd' : address?.at
  const surface = access.find((one) => one.part === kind)?.surface ?? 'bare'
  return surface === 'coated' ? 'pierced' : surface
}
