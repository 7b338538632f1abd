import { parseJointAddress, writeJointAddress } from '../../model/address.ts'
import { addAsBuilt, canAddAsBuilt, canChangeAsBuilt, changeAsBuilt } from '../../model/edits/asBuilt.ts'
import type { Drawing } from '../../model/schema/drawing.ts'
import type { AsBuilt, DifferingJoint } from '../../model/schema/equipment.ts'
import { changeOf, type Change } from './change.ts'

/** Two texts that name one joint are one joint. */
function written(joint: string): string {
  const address = parseJointAddress(joint)
  return address ? writeJointAddress(address) : joint
}

/** What was found last of a joint: missing or otherwise; for one that was found, its own finding. Else null. */
export function findingAt(drawing: Drawing, joint: string): AsBuilt | null {
  const address = parseJointAddress(joint)
  if (address?.at === 'asBuilt') return drawing.asBuilt.find(({ id }) => id === address.id) ?? null
  const same = written(joint)
  const isOfJoint = ({ found }: AsBuilt) =>
    (found.form === 'jointAbsent' || found.form === 'jointOther') && written(found.joint) === same
  return drawing.asBuilt.findLast(isOfJoint) ?? null
}

/** How a joint differs by design; null where it is as its pattern says. */
export function designAt(drawing: Drawing, joint: string): DifferingJoint | null {
  const same = written(joint)
  return drawing.differingJoints.find((differing) => written(differing.joint) === same) ?? null
}

/** Keeps what was found of a joint in place of what was found of it before. */
export function keepFinding(
  drawing: Drawing,
  joint: string,
  fields: Omit<AsBuilt, 'id'>,
  label: string,
): Change {
  const earlier = findingAt(drawing, joint)
  if (earlier === null) return changeOf(canAddAsBuilt, addAsBuilt, fields, label)
  return changeOf(canChangeAsBuilt, changeAsBuilt, { id: earlier.id, changes: fields }, label)
}
