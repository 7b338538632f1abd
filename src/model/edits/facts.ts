import { fail, ok } from '../../base/result.ts'
import { sameContent } from '../sameContent.ts'
import type { SiteFacts } from '../schema/drawing.ts'
import { nameText } from '../schema/primitives.ts'
import { checkShape } from '../shape/checkShape.ts'
import { asEdit, commitDrawing } from './edit.ts'

export const { can: canChangeFacts, edit: changeFacts } = asEdit<Partial<SiteFacts>>((site, changes) => {
  const facts = { ...site.drawing.facts, ...changes }
  return sameContent(facts, site.drawing.facts) ? ok(site) : commitDrawing(site, { facts })
})

/** Renames the site. Its name stands outside the drawing, so this is no new revision. */
export const { can: canRenameSite, edit: renameSite } = asEdit<{ readonly name: string }>(
  (site, { name }) => {
    const misshapen = checkShape(nameText, name)
    if (misshapen.length > 0) return fail(misshapen[0])
    return ok(name === site.name ? site : { ...site, name })
  },
)
