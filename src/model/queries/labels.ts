import type { PartAddress } from '../address.ts'
import type { Drawing } from '../schema/drawing.ts'
import { byId } from './byId.ts'

/** What is painted on site at a part: the labels of its row and table, or the label of the item itself. */
export interface PaintedLabel {
  readonly row: string | null
  readonly table: string | null
  readonly item: string | null
}

const painted = (label: string | undefined) => (label === undefined || label.trim() === '' ? null : label)

/**
 * The labels a person reads on site when standing at a part, null where nothing is painted. They are no ids:
 * two rows may carry one label, and none need carry any.
 */
export function paintedLabel(drawing: Drawing, address: PartAddress): PaintedLabel {
  switch (address.at) {
    case 'table': {
      const row = byId(drawing.rows).get(address.row)
      const table = painted(row?.tableLabels[String(address.table)])
      return { row: painted(row?.label), table, item: null }
    }
    case 'enclosure':
      return { row: null, table: null, item: painted(byId(drawing.enclosures).get(address.id)?.label) }
    case 'earthBar':
      return { row: null, table: null, item: painted(byId(drawing.earthBars).get(address.id)?.label) }
    case 'electrode':
      return { row: null, table: null, item: painted(byId(drawing.electrodes).get(address.id)?.label) }
    case 'conductor':
      return { row: null, table: null, item: painted(byId(drawing.conductors).get(address.id)?.label) }
    case 'remoteEarth':
      return { row: null, table: null, item: null }
  }
}
