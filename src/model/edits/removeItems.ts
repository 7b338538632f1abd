import { ok } from '../../base/result.ts'
import type { DrawnItem } from '../drawnItem.ts'
import { drawnSorts, listOfSort } from '../drawnItem.ts'
import type { Drawing } from '../schema/drawing.ts'
import { asEdit, commitDrawing } from './edit.ts'
import { firstMissing } from './placeItems.ts'
import { releaseLost } from './releaseLost.ts'

export interface RemoveItems {
  readonly items: readonly DrawnItem[]
}

/**
 * Removes things of any sort together and lets go what was fastened to them (see `releaseLost`). What was
 * measured on them stays in the record (see `orphansOf`). Their ids do not come back.
 */
export const { can: canRemoveItems, edit: removeItems } = asEdit<RemoveItems>((site, { items }) => {
  const missing = firstMissing(site.drawing, items)
  if (missing) return missing
  if (items.length === 0) return ok(site)
  const left: Partial<Record<keyof Drawing, unknown>> = {}
  for (const sort of drawnSorts) {
    const gone = new Set(items.filter((item) => item.sort === sort).map(({ id }) => id))
    if (gone.size === 0) continue
    const name = listOfSort[sort]
    left[name] = (site.drawing[name] as readonly { readonly id: number }[]).filter(({ id }) => !gone.has(id))
  }
  return commitDrawing(site, releaseLost({ ...site.drawing, ...(left as Partial<Drawing>) }))
})
