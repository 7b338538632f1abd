import { computedKinds } from '../../model/jointCatalogue.ts'
import type { Drawing } from '../../model/schema/drawing.ts'
import { printable } from '../../text/where.ts'

/** The joint kinds that a joint which is made can be of: those with ohms of their own, what is relied on first. */
export function kindOptions({
  jointKinds,
}: Drawing): readonly { readonly id: string; readonly label: string }[] {
  const isMade = (id: string) => !(computedKinds as readonly string[]).includes(id)
  return [...jointKinds]
    .filter(({ id }) => isMade(id))
    .sort((a, b) => Number(a.purpose === 'incidental') - Number(b.purpose === 'incidental'))
    .map(({ id, name }) => ({ id, label: printable(name).trim() || id }))
}
