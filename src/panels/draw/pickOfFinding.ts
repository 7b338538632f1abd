import { parseJointAddress } from '../../model/address.ts'
import type { AsBuilt } from '../../model/schema/equipment.ts'
import type { Picked } from '../../state/picked.ts'

/** What a finding is about, as it is picked on the map. */
export function pickOfFinding({ id, found }: AsBuilt): Picked {
  switch (found.form) {
    case 'jointAbsent':
    case 'jointOther':
      return { kind: 'joint', address: found.joint }
    case 'jointAdded':
      return { kind: 'joint', address: `A${id}` }
    case 'other':
      return { kind: parseJointAddress(found.about) ? 'joint' : 'part', address: found.about }
  }
}
