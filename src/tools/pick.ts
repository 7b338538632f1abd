import type { PointM } from '../model/schema/primitives.ts'
import { isSameTarget, type Tap, type Target } from './tap.ts'

/** Where the last tap was and what it chose; null before the first tap and after one on nothing. */
export type PickState = { readonly at: PointM; readonly chosen: Target } | null

/**
 * What a tap chooses, and the state for the next one. A tap at the same place takes the next thing that lies
 * there, and after the last the first again; a tap elsewhere begins anew.
 */
export function pickAt(state: PickState, tap: Tap): PickState {
  const targets = targetsOf(tap)
  if (targets.length === 0) return null
  const isRepeated = state !== null && distanceM(state.at, tap.at) <= tap.reachM
  const last = isRepeated ? targets.findIndex((target) => isSameTarget(target, state.chosen)) : -1
  return { at: isRepeated ? state.at : tap.at, chosen: targets[(last + 1) % targets.length] }
}

/** All that lies under a tap, what is drawn on top first, each once. */
export function targetsOf({ mark, part, joint, reading, table }: Tap): readonly Target[] {
  const targets: Target[] = []
  const add = (target: Target) => {
    if (!targets.some((other) => isSameTarget(other, target))) targets.push(target)
  }
  if (mark) add(mark)
  if (part >= 0) add({ kind: 'part', part })
  if (joint >= 0) add({ kind: 'joint', joint })
  if (reading !== null) add({ kind: 'reading', entry: reading })
  if (table) add({ kind: 'table', run: table.run, place: table.place })
  return targets
}

function distanceM(a: PointM, b: PointM): number {
  return Math.hypot(a.x - b.x, a.y - b.y)
}
