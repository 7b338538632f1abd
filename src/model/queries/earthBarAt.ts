import { parsePartAddress, type PartAddress } from '../address.ts'
import { byId } from './byId.ts'
import type { Drawing } from '../schema/drawing.ts'

/** The earth bar that a part is: the bar itself, or the one that a conductor end is lugged on; else null. */
export function earthBarAt(drawing: Drawing, address: PartAddress): PartAddress | null {
  if (address.at === 'earthBar') return address
  if (address.at !== 'conductor') return null
  const points = byId(drawing.conductors).get(address.id)?.points ?? []
  const landing = points.find(({ id }) => id === address.point)?.landing
  const part = landing ? parsePartAddress(landing.part) : null
  return part?.at === 'earthBar' ? part : null
}
