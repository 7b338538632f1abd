import type { StoredAddress } from '../queries/storedAddresses.ts'
import { addressExists, storedAddresses } from '../queries/storedAddresses.ts'
import type { TableType } from '../schema/tableType.ts'
import type { Site } from '../schema/site.ts'
import type { Edit } from './edit.ts'
import { changeTableType } from './tableTypes.ts'

/**
 * The stored addresses that name something in the drawing now and would name nothing after an edit. Those of
 * plans, record, differing joints and as-built differences are kept and shown as such; conductors are let go
 * there and extra joints removed. For a question before the edit is made. Cost O(stored addresses).
 */
export function orphansOf(site: Site, edit: Edit): readonly StoredAddress[] {
  const after = edit(site).drawing
  if (after === site.drawing) return []
  const orphans: StoredAddress[] = []
  for (const stored of storedAddresses(site)) {
    if (addressExists(after, stored.text)) continue
    if (addressExists(site.drawing, stored.text)) orphans.push(stored)
  }
  return orphans
}

/** What a table type's new form would leave without a part or joint. */
export function orphansOfTypeEdit(site: Site, type: TableType): readonly StoredAddress[] {
  return orphansOf(site, changeTableType(type))
}
