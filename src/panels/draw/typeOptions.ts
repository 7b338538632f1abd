import type { Drawing } from '../../model/schema/drawing.ts'
import { printable } from '../../text/where.ts'

/** The table types of a drawing by name, for a list. */
export function typeOptions({
  tableTypes,
}: Drawing): readonly { readonly id: string; readonly label: string }[] {
  return tableTypes.map(({ id, name }) => ({ id, label: printable(name).trim() || id }))
}
