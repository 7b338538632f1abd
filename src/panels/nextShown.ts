import type { NextAction } from '../model/answers.ts'
import type { Picked } from '../state/picked.ts'
import type { PartPair, Selection } from '../state/selection.svelte.ts'

/** What of an action can be seen on the map: a pair of parts, or a joint. */
export type NextShown = ({ readonly kind: 'pair' } & PartPair) | Extract<Picked, { kind: 'joint' }>

/** Null for what has no place on the map, such as the leads. */
export function shownOf({ from, to, joint }: NextAction): NextShown | null {
  if (from !== undefined && to !== undefined) return { kind: 'pair', from, to }
  return joint === undefined ? null : { kind: 'joint', address: joint }
}

/** Shows it on the map while it is pointed at; what is given back puts it away again. */
export function pointAt(selection: Selection, shown: NextShown): () => void {
  if (shown.kind === 'joint') {
    selection.hover(shown)
    return () => selection.hover(null)
  }
  selection.pointAtPair({ from: shown.from, to: shown.to })
  return () => selection.pointAtPair(null)
}
