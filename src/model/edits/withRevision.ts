import type { Site } from '../schema/site.ts'

/**
 * Stamps a committed edit: the drawing gets a new revision, a UUID given from outside, and remembers the one
 * that it was made from.
 */
export function withRevision(site: Site, revision: string): Site {
  return { ...site, drawing: { ...site.drawing, parent: site.drawing.revision, revision } }
}
