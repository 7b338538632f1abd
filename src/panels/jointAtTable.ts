import { parseJointAddress, parsePartAddress, writePartAddress } from '../model/address.ts'
import { byId } from '../model/queries/byId.ts'
import type { Drawing } from '../model/schema/drawing.ts'

/**
 * Whether a joint is one of a table or touches it: joints inside, jumpers to the tables beside it, lugs and wires of
 * conductors that land on it, and joints drawn or found between one of its parts and something else.
 */
export function isJointAtTable(drawing: Drawing, address: string, row: number, table: number): boolean {
  const isPart = (part: string | undefined) => {
    const parsed = part === undefined ? null : parsePartAddress(part)
    return parsed?.at === 'table' && parsed.row === row && parsed.table === table
  }
  const joint = parseJointAddress(address)
  switch (joint?.at) {
    case 'table':
      return joint.row === row && joint.table === table
    case 'row':
      return joint.row === row && (joint.tableBefore === table || joint.tableAfter === table)
    case 'lug':
    case 'wire':
      return landings(drawing, joint.conductor, joint.point, joint.at).some(isPart)
    case 'extra': {
      const drawn = byId(drawing.extraJoints).get(joint.id)
      return isPart(drawn?.from) || isPart(drawn?.to)
    }
    case 'asBuilt': {
      const found = byId(drawing.asBuilt).get(joint.id)?.found
      return found?.form === 'jointAdded' && (isPart(found.from) || isPart(found.to))
    }
    case 'earthPath':
      return isPart(writePartAddress(joint.part))
    case undefined:
      return false
  }
}

/** What a lug lands on; or what the wire from a point to the next landing runs between. */
function landings(drawing: Drawing, conductor: number, point: number, at: 'lug' | 'wire'): string[] {
  const drawn = byId(drawing.conductors).get(conductor)
  const index = drawn?.points.findIndex(({ id }) => id === point) ?? -1
  if (!drawn || index < 0) return []
  const own = drawn.points[index].landing
  const next = drawn.points.slice(index + 1).find(({ landing }) => landing !== null)
  const other = next ?? (drawn.closed ? drawn.points[0] : undefined)
  const ends = at === 'lug' ? [own] : [own, other?.landing ?? null]
  return ends.flatMap((landing) => (landing === null ? [] : [landing.part]))
}
