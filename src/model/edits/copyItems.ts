import { fail, ok } from '../../base/result.ts'
import type { DrawnItem } from '../drawnItem.ts'
import { allDrawn } from '../drawnItem.ts'
import { fragmentOf } from '../fragment.ts'
import { shiftBy } from '../motion.ts'
import type { Drawing } from '../schema/drawing.ts'
import type { PointM } from '../schema/primitives.ts'
import { addCopies, tooManyCopies } from './addCopies.ts'
import { asEdit, commitDrawing } from './edit.ts'
import { firstMissing } from './placeItems.ts'

export interface CopyItems {
  readonly items: readonly DrawnItem[]
  /** From each copy to the next. */
  readonly byM: PointM
  /** 1 for one copy beside what is there. */
  readonly times: number
}

/**
 * Puts copies of things beside them: a row again and again makes a block. Landings, extra joints and joints that
 * differ come with them where both ends are copied; a landing on anything else is let go. Labels count up
 * (`labelCounter`). More than the program handles is refused before any copy is made.
 */
export const { can: canCopyItems, edit: copyItems } = asEdit<CopyItems>((site, { items, byM, times }) => {
  const missing = firstMissing(site.drawing, items)
  if (missing) return missing
  if (items.length === 0) return ok(site)
  const fragment = fragmentOf(site.drawing, items)
  const tooMany = tooManyCopies(site.drawing, fragment, times)
  if (tooMany) return fail(tooMany)
  const motions = Array.from({ length: times }, (_, k) => shiftBy({ x: (k + 1) * byM.x, y: (k + 1) * byM.y }))
  return commitDrawing(site, addCopies(site.drawing, fragment, motions))
})

/** The drawn things that an edit has added: those with ids that were not given before it. */
export function addedItems(before: Drawing, after: Drawing): readonly DrawnItem[] {
  return allDrawn(after).filter(({ sort, id }) => id >= before.nextIds[sort])
}
