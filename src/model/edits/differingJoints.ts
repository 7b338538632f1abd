import { writtenJoint } from '../checks/checkEquipment.ts'
import { sameContent } from '../sameContent.ts'
import type { DifferingJoint } from '../schema/equipment.ts'
import { asEdit, commitDrawing, notThere } from './edit.ts'

/** Says how one joint is designed otherwise than its pattern; what was said of that joint before is replaced. */
export const { can: canSetDifferingJoint, edit: setDifferingJoint } = asEdit<DifferingJoint>((site, args) => {
  const differing = { ...args, joint: writtenJoint(args.joint) }
  const { differingJoints } = site.drawing
  const at = differingJoints.findIndex(({ joint }) => writtenJoint(joint) === differing.joint)
  if (at < 0) return commitDrawing(site, { differingJoints: [...differingJoints, differing] })
  if (sameContent(differingJoints[at], differing)) return { ok: true, value: site }
  return commitDrawing(site, { differingJoints: differingJoints.with(at, differing) })
})

/** Takes a joint back to what its pattern says. */
export const { can: canClearDifferingJoint, edit: clearDifferingJoint } = asEdit<{ readonly joint: string }>(
  (site, args) => {
    const written = writtenJoint(args.joint)
    const { differingJoints } = site.drawing
    const left = differingJoints.filter(({ joint }) => writtenJoint(joint) !== written)
    if (left.length === differingJoints.length) return notThere('differing joint', args.joint)
    return commitDrawing(site, { differingJoints: left })
  },
)
