import { fail, ok } from '../../base/result.ts'
import type { Copied } from '../copied.ts'
import { shiftBy } from '../motion.ts'
import { byId } from '../queries/byId.ts'
import { sameContent } from '../sameContent.ts'
import type { PointM } from '../schema/primitives.ts'
import type { TableType } from '../schema/tableType.ts'
import { addCopies, tooManyCopies } from './addCopies.ts'
import { asEdit, commitDrawing } from './edit.ts'
import { fragmentLists } from '../fragment.ts'

export interface PasteCopy {
  readonly copied: Copied
  /** From where the things were drawn. */
  readonly byM: PointM
}

/**
 * Puts what was taken into the site, from whichever site it came, as `copyItems` does. A table type that the
 * site has too is used; any other comes along, under another short name where the site uses its own otherwise.
 * A joint kind that the site has not comes along; of one that it has, the site's figures hold (`otherKinds`
 * says which).
 */
export const { can: canPasteCopy, edit: pasteCopy } = asEdit<PasteCopy>((site, { copied, byM }) => {
  if (fragmentLists.every((name) => copied[name].length === 0)) return ok(site)
  const [tableTypes, idOf] = withTypes(site.drawing.tableTypes, copied.tableTypes)
  const rows = copied.rows.map((row) => ({
    ...row,
    runs: row.runs.map((run) => ({ ...run, type: idOf.get(run.type) ?? run.type })),
  }))
  const ownKinds = byId(site.drawing.jointKinds)
  const newKinds = copied.jointKinds.filter(({ id }) => !ownKinds.has(id))
  const jointKinds =
    newKinds.length === 0 ? site.drawing.jointKinds : [...site.drawing.jointKinds, ...newKinds]
  const drawing = { ...site.drawing, tableTypes, jointKinds }
  const fragment = { ...copied, rows }
  const tooMany = tooManyCopies(drawing, fragment, 1)
  if (tooMany) return fail(tooMany)
  return commitDrawing(site, addCopies(drawing, fragment, [shiftBy(byM)]))
})

/** The types with those that are missing, and what each of the latter is called among them. */
function withTypes(
  own: readonly TableType[],
  coming: readonly TableType[],
): readonly [readonly TableType[], ReadonlyMap<string, string>] {
  const idOf = new Map<string, string>()
  const all = [...own]
  for (const type of coming) {
    const isSame = (other: TableType) => sameContent({ ...other, id: type.id }, type)
    const found = all.find((other) => other.id === type.id && isSame(other)) ?? all.find(isSame)
    const id = found?.id ?? freeName(type.id, new Set(all.map((other) => other.id)))
    if (!found) all.push({ ...type, id })
    idOf.set(type.id, id)
  }
  return [all.length > own.length ? all : own, idOf]
}

/** As long as a short name may be (`slug`). */
const nameLength = 40

function freeName(name: string, taken: ReadonlySet<string>): string {
  for (let k = 1; ; k++) {
    const ending = k === 1 ? '' : `-${k}`
    const free = name.slice(0, nameLength - ending.length) + ending
    if (!taken.has(free)) return free
  }
}
