import type { DrawnItem } from '../../model/drawnItem.ts'
import { canRemoveItems, removeItems } from '../../model/edits/removeItems.ts'
import { removalLabel } from '../../text/formText.ts'
import type { NameBook } from '../../text/places.ts'
import { changeOf, type Change } from './change.ts'

/** Takes things out of the drawing, as one step: `delete row 3`. It goes through `OrphanQuestion`. */
export function removalOf(book: NameBook, items: readonly DrawnItem[]): Change {
  return changeOf(canRemoveItems, removeItems, { items }, removalLabel(book, items))
}
