import type { Result } from '../../base/result.ts'
import { fail, ok } from '../../base/result.ts'
import { checkSize } from '../checkSite.ts'
import type { Findings } from '../checks/findings.ts'
import { addWrong } from '../checks/findings.ts'
import type { SectionName } from '../checks/sections.ts'
import { checkSectionIds, checkSectionItems, sectionNames } from '../checks/sections.ts'
import type { Problem } from '../problem.ts'
import { problem } from '../problem.ts'
import { sameContent } from '../sameContent.ts'
import type { Drawing } from '../schema/drawing.ts'
import { drawingSchema } from '../schema/drawing.ts'
import type { Site } from '../schema/site.ts'
import { checkShape } from '../shape/checkShape.ts'
import { schemaNode } from '../shape/schemaNodes.ts'

/** A pure change of a site. It gives the same object back when nothing changes, also when it cannot be done. */
export type Edit = (site: Site) => Site

/** A site with the change made, or why it cannot be. */
export type Attempt = Result<Site, Problem>

/**
 * From one attempt both halves of an edit: `can` for buttons and tests, which says why not, and `edit`. They
 * ask the same code and so cannot disagree.
 */
export function asEdit<A>(attempt: (site: Site, args: A) => Attempt): {
  readonly can: (site: Site, args: A) => true | Problem
  readonly edit: (args: A) => Edit
} {
  return {
    can: (site, args) => {
      const attempted = attempt(site, args)
      return attempted.ok || attempted.error
    },
    edit: (args) => (site) => {
      const attempted = attempt(site, args)
      return attempted.ok ? attempted.value : site
    },
  }
}

export function notThere(what: string, id: string | number): Attempt {
  return fail(problem('edit.notThere', { what, id: String(id) }))
}

const shape = (() => {
  const node = schemaNode(drawingSchema)
  return node.is === 'object' ? node.shape : {}
})()

/** Shape, ids and meaning of what is new in one list; items that were there before are not looked at again. */
function checkSection(findings: Findings, before: Drawing, name: SectionName): void {
  const old = before[name] as readonly object[]
  const items = findings.drawing[name] as readonly object[]
  const node = schemaNode(shape[name])
  if (node.is !== 'list') return
  if (items.length > node.most) {
    const facts = { what: `items in ${name}`, found: items.length, most: node.most }
    return addWrong(findings, problem('size.tooMany', facts, { path: ['drawing', name] }))
  }
  const kept = new Set(old)
  items.forEach((item, k) => {
    if (kept.has(item)) return
    for (const found of checkShape(node.item, item)) {
      const path = ['drawing', name, k, ...(found.where.path ?? [])]
      addWrong(findings, { ...found, where: { ...found.where, path } })
    }
  })
  if (findings.wrong.length > 0) return
  checkSectionIds(findings, name)
  checkSectionItems(findings, name, (item) => !kept.has(item))
}

/**
 * The site with these parts of its drawing replaced, after checking what is new in them: nothing that a
 * file with it could not be opened again gets through. Cost O(changed lists), not O(site).
 */
export function commitDrawing(site: Site, changes: Partial<Drawing>): Attempt {
  const before = site.drawing
  const changed = (Object.keys(changes) as (keyof Drawing)[]).filter((key) => changes[key] !== before[key])
  if (changed.length === 0) return ok(site)
  const drawing: Drawing = { ...before, ...changes }
  const findings: Findings = { drawing, wrong: [], told: [] }
  for (const key of changed) {
    const name = sectionNames.find((section) => section === key)
    if (name) checkSection(findings, before, name)
    else checkShape(shape[key], drawing[key]).forEach((found) => addWrong(findings, found))
  }
  const wrong = findings.wrong[0] ?? checkSize(drawing)
  return wrong ? fail(wrong) : ok({ ...site, drawing })
}

/** The list with one item changed; the same list when the item stays as it was. */
export function replaceItem<T extends object>(
  items: readonly T[],
  old: NoInfer<T>,
  changes: NoInfer<Partial<T>>,
): readonly T[] {
  const keys = Object.keys(changes) as (keyof T)[]
  if (keys.every((key) => sameContent(old[key], changes[key]))) return items
  return items.map((item) => (item === old ? { ...old, ...changes } : item))
}

/** The next id of a sort, and the counters after it is given. */
export function takeId(drawing: Drawing, sort: keyof Drawing['nextIds']): [number, Pick<Drawing, 'nextIds'>] {
  const id = drawing.nextIds[sort]
  return [id, { nextIds: { ...drawing.nextIds, [sort]: id + 1 } }]
}
