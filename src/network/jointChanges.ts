import { jointIndexOf } from '../layout/jointIndex.ts'
import type { SiteIndex } from '../layout/siteIndex.ts'
import { parseJointAddress } from '../model/address.ts'
import type { JointKind } from '../model/schema/jointKind.ts'

/** What takes the place of a joint as its pattern has it: nothing, or another kind, other ohms, or both. */
export type JointChange = 'absent' | { readonly kind: number | null; readonly medianOhm: number | null }

/**
 * Joints that are designed otherwise than their pattern says, and with `asBuilt` those that were found otherwise
 * than designed, which go over the first. An address that names no joint of the drawing (it may have strayed when
 * the drawing changed under it) changes nothing. `found` counts the as-built differences that do. O(changes).
 */
export function jointChanges(
  index: SiteIndex,
  kindNumber: ReadonlyMap<string, number>,
  asBuilt: boolean,
): { readonly changes: ReadonlyMap<number, JointChange>; readonly found: number } {
  const changes = new Map<number, JointChange>()
  let found = 0
  const change = (text: string, kind: JointKind['id'] | null, medianOhm: number | null): boolean => {
    const address = parseJointAddress(text)
    const joint = address ? jointIndexOf(index, address) : -1
    if (joint < 0) return false
    const earlier = changes.get(joint)
    const kept = earlier === undefined || earlier === 'absent' ? { kind: null, medianOhm: null } : earlier
    changes.set(joint, {
      kind: kind === null ? kept.kind : kindNumber.get(kind)!,
      // ohms that were given for another kind say nothing of this one
      medianOhm: medianOhm ?? (kind === null ? kept.medianOhm : null),
    })
    return true
  }
  const remove = (text: string): boolean => {
    const address = parseJointAddress(text)
    const joint = address ? jointIndexOf(index, address) : -1
    if (joint >= 0) changes.set(joint, 'absent')
    return joint >= 0
  }
  for (const { joint, change: form, kind, medianOhm } of index.drawing.differingJoints) {
    if (form === 'absent') remove(joint)
    else change(joint, kind, medianOhm)
  }
  if (!asBuilt) return { changes, found }
  for (const { found: what } of index.drawing.asBuilt) {
    if (what.form === 'jointAbsent' && remove(what.joint)) found++
    if (what.form === 'jointOther' && change(what.joint, what.kind, what.medianOhm)) found++
  }
  return { changes, found }
}
