import type { z } from 'zod'
import type { Result } from '../base/result.ts'
import { fail, ok } from '../base/result.ts'
import type { DrawnItem } from './drawnItem.ts'
import { fragmentOf } from './fragment.ts'
import type { Problem } from './problem.ts'
import { byId } from './queries/byId.ts'
import { namedKinds } from './queries/namedKinds.ts'
import { sameContent } from './sameContent.ts'
import type { Drawing } from './schema/drawing.ts'
import { drawingSchema } from './schema/drawing.ts'
import type { Site } from './schema/site.ts'
import { checkShape } from './shape/checkShape.ts'

const copiedSchema = drawingSchema.unwrap().pick({
  rows: true,
  enclosures: true,
  earthBars: true,
  electrodes: true,
  conductors: true,
  aisles: true,
  obstacles: true,
  extraJoints: true,
  differingJoints: true,
  tableTypes: true,
  jointKinds: true,
})

/**
 * Things taken from a site to be put into it again or into another: a fragment (`fragment.ts`) with the table types
 * and joint kinds that it names. Plain data, fit for a clipboard.
 */
export type Copied = Readonly<z.infer<typeof copiedSchema>>

/** Items that the site has not are left out. */
export function takeCopy({ drawing }: Site, items: readonly DrawnItem[]): Copied {
  const fragment = fragmentOf(drawing, items)
  const typeIds = new Set(fragment.rows.flatMap(({ runs }) => runs.map(({ type }) => type)))
  const tableTypes = drawing.tableTypes.filter(({ id }) => typeIds.has(id))
  const kindIds = new Set(namedKinds({ ...fragment, tableTypes }))
  return { ...fragment, tableTypes, jointKinds: drawing.jointKinds.filter(({ id }) => kindIds.has(id)) }
}

/** What came from outside, as something copied; or the first thing that is wrong with its shape. */
export function readCopied(value: unknown): Result<Copied, Problem> {
  const wrong = checkShape(copiedSchema, value)
  return wrong.length === 0 ? ok(value as Copied) : fail(wrong[0])
}

/** The joint kinds that a drawing has too, but with other figures: pasting keeps those of the drawing. */
export function otherKinds(drawing: Drawing, copied: Copied): readonly string[] {
  const own = byId(drawing.jointKinds)
  return copied.jointKinds.flatMap((kind) => {
    const there = own.get(kind.id)
    return there && !sameContent(there, kind) ? [kind.id] : []
  })
}
