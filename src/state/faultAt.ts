import type { SiteIndex } from '../layout/siteIndex.ts'
import type { FaultDesk } from './faultDesk.svelte.ts'
import { jointOf, partOf } from './mapMarks.ts'
import type { Picked } from './picked.ts'

/** What a fault does to one part or joint. */
export type FaultThere =
  | { readonly kind: 'part'; readonly volt: number }
  | { readonly kind: 'joint'; readonly ampere: number; readonly lossV: number | null }

/** Null for what a fault says nothing of, and while nothing is known. */
export function faultAt(index: SiteIndex, desk: FaultDesk, picked: Picked | null): FaultThere | null {
  const { shown } = desk
  if (picked === null || shown === null) return null
  if (picked.kind === 'part') {
    const part = partOf(index, picked.address)
    return part === null || shown.partV.length <= part ? null : { kind: 'part', volt: shown.partV[part] }
  }
  if (picked.kind !== 'joint') return null
  const joint = jointOf(index, picked.address)
  if (joint === null || shown.currentA.length <= joint) return null
  const lost = desk.losses.isCurrent ? desk.losses.answer : null
  return { kind: 'joint', ampere: shown.currentA[joint], lossV: lost ? lost.acrossV[joint] : null }
}
