import type { Edit } from '../../model/edits/edit.ts'
import { orphansOf } from '../../model/edits/orphans.ts'
import { byId } from '../../model/queries/byId.ts'
import type { StoredAddress } from '../../model/queries/storedAddresses.ts'
import type { Site } from '../../model/schema/site.ts'
import type { Session } from '../../state/session.svelte.ts'
import { orphanSorts, type OrphanedThing, type OrphanSort } from '../../text/orphansText.ts'

/** What would keep an address of nothing after an edit, each once, readings first. O(stored addresses). */
export function orphanedThings(site: Site, edit: Edit): readonly OrphanedThing[] {
  const things = new Map<string, OrphanedThing>()
  for (const stored of orphansOf(site, edit)) {
    const found = thingOf(site, stored)
    if (found && !things.has(found.key)) things.set(found.key, found.thing)
  }
  return [...things.values()].sort((a, b) => orphanSorts.indexOf(a.sort) - orphanSorts.indexOf(b.sort))
}

/** Sorts that somebody wrote down on site or planned; of the rest undo is enough. */
const asked: readonly OrphanSort[] = ['reading', 'volts', 'look', 'repair', 'note', 'planPair', 'finding']

/** What has to be asked about before an edit is made; null where nothing that was measured, seen or planned is concerned. */
export function askOrphans(session: Session, edit: Edit): readonly OrphanedThing[] | null {
  if (session.site === null) return null
  const things = orphanedThings(session.site, edit)
  return things.some(({ sort }) => asked.includes(sort)) ? things : null
}

interface Found {
  readonly key: string
  readonly thing: OrphanedThing
}

/** Conductors and extra joints are let go by the edit itself: nothing of them stays behind. */
function thingOf(site: Site, { text, path, entry }: StoredAddress): Found | null {
  if (entry !== undefined) return entryThing(site, entry, text)
  const { drawing } = site
  const [, list, k, , inner] = path as readonly [string, string, number, string, number]
  const key = `${list} ${k} ${inner}`
  switch (list) {
    case 'plans': {
      const { from, to } = drawing.plans[k].pairs[inner]
      return { key, thing: { sort: 'planPair', about: [from, to], entry: null } }
    }
    case 'asBuilt': {
      const { found } = drawing.asBuilt[k]
      const about = found.form === 'jointAdded' ? [found.from, found.to] : [text]
      return { key: `${list} ${k}`, thing: { sort: 'finding', about, entry: null } }
    }
    case 'differingJoints':
      return { key, thing: { sort: 'differing', about: [text], entry: null } }
    case 'lessons':
      return { key, thing: { sort: 'lesson', about: [text], entry: null } }
    default:
      return null
  }
}

/** A correction stands for the reading that it corrects. */
function entryThing(site: Site, id: string, text: string): Found | null {
  const entry = byId(site.record).get(id)
  switch (entry?.entry) {
    case 'correction': {
      const of = byId(site.record).get(entry.of)
      return of?.entry === 'reading' ? entryThing(site, of.id, of.from.part) : null
    }
    case 'reading':
      return { key: id, thing: { sort: 'reading', about: [entry.from.part, entry.to.part], entry: id } }
    case 'volts':
      return { key: id, thing: { sort: 'volts', about: [entry.from, entry.to], entry: id } }
    case 'look':
    case 'repair':
    case 'note':
      return { key: id, thing: { sort: entry.entry, about: [text], entry: id } }
    default:
      return null
  }
}
