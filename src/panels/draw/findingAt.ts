import { parseJointAddress } from '../../model/address.ts'
import { writtenJoint } from '../../model/checks/checkEquipment.ts'
import { foundOfJoint } from '../../model/edits/foundJoints.ts'
import type { Drawing } from '../../model/schema/drawing.ts'
import type { AsBuilt, DifferingJoint } from '../../model/schema/equipment.ts'

/** What was found of a joint: missing or otherwise; for one that was found, its own finding. Else null. */
export function findingAt(drawing: Drawing, joint: string): AsBuilt | null {
  const address = parseJointAddress(joint)
  if (address?.at !== 'asBuilt') return foundOfJoint(drawing.asBuilt, joint)
  return drawing.asBuilt.find(({ id }) => id === address.id) ?? null
}

/** How a joint differs by design; null where it is as its pattern says. */
export function designAt(drawing: Drawing, joint: string): DifferingJoint | null {
  const written = writtenJoint(joint)
  return drawing.differingJoints.find((differing) => writtenJoint(differing.joint) === written) ?? null
}
