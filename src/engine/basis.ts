import type { Basis } from '../model/answers.ts'
import type { Site } from '../model/schema/site.ts'

/** What an answer was computed from: it holds as long as neither the drawing nor the record has moved on. */
export function basisOf(site: Site): Basis {
  return { drawingRevision: site.drawing.revision, recordLength: site.record.length }
}

export function isCurrent(basis: Basis, site: Site): boolean {
  return basis.drawingRevision === site.drawing.revision && basis.recordLength === site.record.length
}
