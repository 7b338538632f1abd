import type { Told } from '../../model/drawDeed.ts'
import type { DrawPreview, DrawStep } from './drawTool.ts'
import { noPreview } from './drawTool.ts'
import type { Snapped } from './snap.ts'

/** A preview that shows only what is given. */
export function previewOf(shown: Partial<DrawPreview>): DrawPreview {
  return { ...noPreview, ...shown }
}

/** The place that a press would take, and why there. */
export function snappedShown({ atM, guides, onto }: Snapped): Pick<DrawPreview, 'guides' | 'snapped'> {
  return { guides, snapped: onto === null ? null : atM }
}

/** A step that does nothing but show. */
export function showing<S>(state: S, preview: DrawPreview | null): DrawStep<S> {
  return { state, preview, done: null }
}

/** A step that tells why nothing came of it. */
export function refusing<S>(state: S, reason: Extract<Told, { fact: 'refused' }>['reason']): DrawStep<S> {
  return showing(state, previewOf({ told: { fact: 'refused', reason } }))
}
