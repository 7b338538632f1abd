import { openNameBook } from '../../text/places.ts'
import { nameItem } from '../../text/itemNames.ts'
import { setLabel } from '../../text/formText.ts'
import type { DrawnItem } from '../../model/drawnItem.ts'
import type { Edit } from '../../model/edits/edit.ts'
import type { Problem } from '../../model/problem.ts'
import type { Site } from '../../model/schema/site.ts'
import type { Session } from '../../state/session.svelte.ts'
import { changeOf, type Change } from './change.ts'

/** An edit that changes fields of one item of a list. */
interface Changing<C> {
  readonly can: (site: Site, args: { readonly id: number; readonly changes: C }) => true | Problem
  readonly edit: (args: { readonly id: number; readonly changes: C }) => Edit
}

/** Makes the steps that set fields of one drawn thing: `set({ widthM }, 'width')` is the step `width of enclosure 2`. */
export function itemSteps<C>(session: Session, item: DrawnItem, { can, edit }: Changing<C>) {
  const name = () => (session.site ? nameItem(openNameBook(session.site.drawing), item) : '')
  return {
    set: (changes: C, field: string): Change =>
      changeOf(can, edit, { id: item.id, changes }, setLabel(field, name())),
  }
}
