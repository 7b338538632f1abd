import type { LocalPart } from '../address.ts'
import { parseJointAddress, parsePartAddress } from '../address.ts'
import { partExistsInType } from '../pattern.ts'
import { byId } from '../queries/byId.ts'
import type { StoredAddress } from '../queries/storedAddresses.ts'
import { storedAddresses } from '../queries/storedAddresses.ts'
import { typeOfTable } from '../presence.ts'
import type { TableType } from '../schema/tableType.ts'
import type { Site } from '../schema/site.ts'

/** A long member shifted further than this is taken for another one. Judgement. */
const sameMemberM = 0.25

/** Whether a part that both forms of a type have stands elsewhere in the new one: its number then means another. */
function stands(type: TableType, next: TableType, part: LocalPart): boolean {
  if (!partExistsInType(type, part) || !partExistsInType(next, part)) return true
  switch (part.of) {
    case 'frame':
      return true
    case 'longMember': {
      const [a, b] = [type.longMembers[part.member - 1], next.longMembers[part.member - 1]]
      return a.carries.join() === b.carries.join() && Math.abs(a.upM - b.upM) <= sameMemberM
    }
    case 'crossMember':
      return type.crossMembers!.stations[part.position - 1] === next.crossMembers!.stations[part.position - 1]
    case 'post':
      return type.posts!.stations[part.position - 1] === next.posts!.stations[part.position - 1]
  }
}

/**
 * The stored addresses that a type's new form would give another meaning: rail 2 or post 3 is still there, but
 * stands elsewhere, so that what was read there would count at the new place. Cost O(stored addresses).
 */
export function movedByTypeEdit(site: Site, next: TableType): readonly StoredAddress[] {
  const type = byId(site.drawing.tableTypes).get(next.id)
  if (!type || type === next) return []
  return [...storedAddresses(site)].filter(({ text }) => {
    const at = parsePartAddress(text) ?? parseJointAddress(text)
    if (at?.at !== 'table' || typeOfTable(site.drawing, at.row, at.table) !== type) return false
    const parts = 'part' in at ? [at.part] : [at.from, at.to]
    return !parts.every((part) => stands(type, next, part))
  })
}
