import type { Entry } from '../../model/schema/record.ts'
import type { Site } from '../../model/schema/site.ts'

const aimsAt = (entry: Entry): string | null =>
  entry.entry === 'correction' || entry.entry === 'withdrawal' ? entry.of : null

/**
 * The site with what belongs to these visits alone: their own entries, and whatever corrects or withdraws one of those,
 * whenever that was entered. The same object back where every visit is chosen.
 */
export function siteOfVisits(site: Site, visits: readonly string[]): Site {
  const chosen = new Set(visits)
  const isChosen = (entry: Entry) =>
    entry.entry === 'visit' ? chosen.has(entry.id) : chosen.has(entry.visit)
  const kept = new Set(site.record.filter(isChosen).map(({ id }) => id))
  if (kept.size === site.record.length) return site
  for (let before = -1; before !== kept.size;) {
    before = kept.size
    for (const entry of site.record) {
      const of = aimsAt(entry)
      if (of !== null && kept.has(of)) kept.add(entry.id)
    }
  }
  return { ...site, record: site.record.filter(({ id }) => kept.has(id)) }
}
