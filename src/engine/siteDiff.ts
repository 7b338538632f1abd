import { assert } from '../base/assert.ts'
import type { Drawing } from '../model/schema/drawing.ts'
import type { Entry } from '../model/schema/record.ts'
import type { Site } from '../model/schema/site.ts'
import { changedList, listChange, type ListChange } from './listChange.ts'

type Section = keyof Drawing
type SectionChange = { readonly list: ListChange<unknown> } | { readonly value: unknown }

/** What must be told to one who holds an earlier state of a site, so that he holds the later one. */
export type SiteChange =
  | { readonly form: 'whole'; readonly site: Site }
  | { readonly form: 'closed' }
  | {
      readonly form: 'parts'
      readonly name: string
      /** Null: the drawing is the one that it was. */
      readonly drawing: Readonly<Record<string, SectionChange>> | null
      readonly record: ListChange<Entry> | null
    }

/**
 * The change from one state of a site to another, by identity: of the drawing only the sections that were
 * replaced, of a list only the items, of the record what was appended. Another site is told whole. O(items of the
 * lists that were replaced).
 */
export function siteChange(previous: Site | null, next: Site | null): SiteChange {
  if (next === null) return { form: 'closed' }
  if (previous === null || previous.id !== next.id) return { form: 'whole', site: next }
  return {
    form: 'parts',
    name: next.name,
    drawing: previous.drawing === next.drawing ? null : drawingChange(previous.drawing, next.drawing),
    record: previous.record === next.record ? null : listChange(previous.record, next.record),
  }
}

function drawingChange(previous: Drawing, next: Drawing): Record<string, SectionChange> {
  const changes: Record<string, SectionChange> = {}
  for (const section of Object.keys(next) as Section[]) {
    const before: unknown = previous[section]
    const after: unknown = next[section]
    if (before === after) continue
    changes[section] =
      Array.isArray(before) && Array.isArray(after) ? { list: listChange(before, after) } : { value: after }
  }
  return changes
}

/**
 * The later state from the earlier one. What did not change keeps its identity, the drawing as a whole where only
 * the record grew, so that whatever was worked out from it is found again.
 */
export function changedSite(previous: Site | null, change: SiteChange): Site | null {
  if (change.form === 'closed') return null
  if (change.form === 'whole') return change.site
  assert(previous !== null, 'a change of a site needs the site that it changes')
  const { name, drawing, record } = change
  return {
    ...previous,
    name,
    drawing: drawing === null ? previous.drawing : changedDrawing(previous.drawing, drawing),
    record: record === null ? previous.record : changedList(previous.record, record),
  }
}

function changedDrawing(previous: Drawing, changes: Readonly<Record<string, SectionChange>>): Drawing {
  const sections: Record<string, unknown> = { ...previous }
  for (const [section, change] of Object.entries(changes))
    sections[section] =
      'list' in change ? changedList(sections[section] as readonly unknown[], change.list) : change.value
  return sections as unknown as Drawing
}
