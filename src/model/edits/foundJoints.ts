import { ok } from '../../base/result.ts'
import { writtenJoint } from '../checks/checkEquipment.ts'
import { sameContent } from '../sameContent.ts'
import type { AsBuilt } from '../schema/equipment.ts'
import { asEdit, commitDrawing, notThere, takeId } from './edit.ts'

export interface SetFoundJoint {
  readonly joint: string
  readonly found: 'absent' | 'other'
  /** What was found instead, where it was: its kind, its ohms, or both. Nothing of an absent joint. */
  readonly kind: string | null
  readonly medianOhm: number | null
  /** The day it was found, where it is known. */
  readonly on: AsBuilt['on']
  readonly note: string
}

/** The as-built difference about a joint of the drawing; of several the first. */
export function foundOfJoint(asBuilt: readonly AsBuilt[], joint: string): AsBuilt | null {
  const written = writtenJoint(joint)
  return asBuilt.find((difference) => isAbout(difference, written)) ?? null
}

function isAbout({ found }: AsBuilt, written: string): boolean {
  if (found.form !== 'jointAbsent' && found.form !== 'jointOther') return false
  return writtenJoint(found.joint) === written
}

/**
 * Says how a joint was found otherwise than drawn. What was said of that joint before is replaced and keeps its id;
 * the drawing stays as designed.
 */
export const { can: canSetFoundJoint, edit: setFoundJoint } = asEdit<SetFoundJoint>((site, args) => {
  const joint = writtenJoint(args.joint)
  const { asBuilt } = site.drawing
  const { kind, medianOhm, on, note } = args
  const found: AsBuilt['found'] =
    args.found === 'absent' ? { form: 'jointAbsent', joint } : { form: 'jointOther', joint, kind, medianOhm }
  const before = foundOfJoint(asBuilt, joint)
  if (!before) {
    const [id, counted] = takeId(site.drawing, 'asBuilt')
    return commitDrawing(site, { ...counted, asBuilt: [...asBuilt, { id, found, on, note }] })
  }
  const difference = { id: before.id, found, on, note }
  const others = asBuilt.filter((one) => one === before || !isAbout(one, joint))
  if (others.length === asBuilt.length && sameContent(before, difference)) return ok(site)
  return commitDrawing(site, { asBuilt: others.map((one) => (one === before ? difference : one)) })
})

/** Takes back what was said of a joint as found. */
export const { can: canClearFoundJoint, edit: clearFoundJoint } = asEdit<{ readonly joint: string }>(
  (site, args) => {
    const joint = writtenJoint(args.joint)
    const left = site.drawing.asBuilt.filter((difference) => !isAbout(difference, joint))
    if (left.length === site.drawing.asBuilt.length) return notThere('as-built difference', args.joint)
    return commitDrawing(site, { asBuilt: left })
  },
)
