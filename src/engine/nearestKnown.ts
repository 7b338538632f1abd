import { writePartAddress, type PartAddress } from '../model/address.ts'
import { nearestPart, partExists } from '../model/presence.ts'
import type { Drawing } from '../model/schema/drawing.ts'
import type { Row } from '../model/schema/row.ts'

/**
 * An address that exists and is close to one that does not: the nearest row and table where those are
 * missing, the nearest item of its sort, then the nearest part there. Null where nothing of that sort is drawn.
 */
export function nearestKnown(drawing: Drawing, address: PartAddress): string | null {
  switch (address.at) {
    case 'table': {
      const row = nearestOf(drawing.rows, address.row)
      return (
        row && asFoundOrNear(drawing, { ...address, row: row.id, table: nearestTable(row, address.table) })
      )
    }
    case 'conductor': {
      const conductor = nearestOf(drawing.conductors, address.id)
      return conductor && asFoundOrNear(drawing, { ...address, id: conductor.id })
    }
    case 'enclosure':
      return itemAddress('enclosure', nearestOf(drawing.enclosures, address.id))
    case 'earthBar':
      return itemAddress('earthBar', nearestOf(drawing.earthBars, address.id))
    case 'electrode':
      return itemAddress('electrode', nearestOf(drawing.electrodes, address.id))
    case 'remoteEarth':
      return 'earth'
  }
}

function asFoundOrNear(drawing: Drawing, address: PartAddress): string | null {
  return partExists(drawing, address) ? writePartAddress(address) : nearestPart(drawing, address)
}

function itemAddress(
  at: 'enclosure' | 'earthBar' | 'electrode',
  item: { readonly id: number } | null,
): string | null {
  return item && writePartAddress({ at, id: item.id })
}

function nearestOf<T extends { readonly id: number }>(items: readonly T[], id: number): T | null {
  let best: T | null = null
  for (const item of items) if (!best || Math.abs(item.id - id) < Math.abs(best.id - id)) best = item
  return best
}

function nearestTable({ runs }: Row, table: number): number {
  let best = runs[0].firstTable
  for (const { firstTable, count } of runs) {
    const near = Math.max(firstTable, Math.min(table, firstTable + count - 1))
    if (Math.abs(near - table) < Math.abs(best - table)) best = near
  }
  return best
}
