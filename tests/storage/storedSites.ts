import { newSite } from '../../src/model/newSite.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { uuid } from '../model/exampleSite.ts'

export const plainSite: Site = newSite({
  id: uuid(1),
  revision: uuid(2),
  name: 'North field',
  units: 'metric',
})

/** The same site with another note, as an edit leaves it. */
export function noted(note: string, site: Site = plainSite): Site {
  return { ...site, drawing: { ...site.drawing, facts: { ...site.drawing.facts, note } } }
}

export function noteOf(site: Site): string {
  return site.drawing.facts.note
}
