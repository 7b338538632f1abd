import { writePartAddress, type PartAddress } from '../model/address.ts'
import type { PairClass, PairRelation } from '../model/comparison.ts'
import { byId } from '../model/queries/byId.ts'
import { findTable, type PlacedTable } from '../model/queries/tablePosition.ts'
import type { Drawing } from '../model/schema/drawing.ts'
import type { PartKind } from '../model/schema/planning.ts'
import type { EntryOf } from '../model/schema/record.ts'
import { partKindNames } from '../layout/partKinds.ts'
import { earthBarAt } from '../model/queries/earthBarAt.ts'

interface End {
  readonly kind: PartKind
  readonly bar: PartAddress | null
  readonly row: number
  readonly table: PlacedTable | null
}

const kindOfItem = {
  enclosure: 'enclosure',
  earthBar: 'earthBar',
  electrode: 'electrode',
  conductor: 'conductorEnd',
} as const

function endOf(drawing: Drawing, address: PartAddress): End | null {
  if (address.at === 'remoteEarth') return null
  if (address.at === 'table') {
    const row = byId(drawing.rows).get(address.row)
    const table = row ? findTable(row, address.table) : null
    return { kind: address.part.of, bar: null, row: address.row, table }
  }
  const bar = earthBarAt(drawing, address)
  return { kind: bar ? 'earthBar' : kindOfItem[address.at], bar, row: 0, table: null }
}

function relationOf(a: End, b: End): PairRelation {
  if (a.bar || b.bar) return 'toEarthBar'
  if (!a.table || !b.table) return 'other'
  if (a.row !== b.row) return 'betweenRows'
  const apart = Math.abs(a.table.position - b.table.position)
  return apart === 0 ? 'sameTable' : apart === 1 ? 'neighbours' : 'sameRow'
}

/**
 * The class of a pair: how its ends lie to each other, what they are, of which table types, and to which bar a path
 * leads. The order of the ends does not matter. Null for a pair with remote earth.
 */
export function pairClassOf(
  drawing: Drawing,
  method: EntryOf<'reading'>['method'],
  from: PartAddress,
  to: PartAddress,
): PairClass | null {
  const a = endOf(drawing, from)
  const b = endOf(drawing, to)
  if (!a || !b) return null
  const kinds = [a.kind, b.kind].sort((x, y) => partKindNames.indexOf(x) - partKindNames.indexOf(y))
  const bar = a.bar ?? b.bar
  return {
    method,
    relation: relationOf(a, b),
    ends: [kinds[0], kinds[1]],
    tableTypes: [...new Set([a.table?.type, b.table?.type].filter((type) => type !== undefined))].sort(),
    earthBar: bar ? writePartAddress(bar) : null,
  }
}

/** A text that two classes share when they are the same. */
export function classKey({ method, relation, ends, tableTypes, earthBar }: PairClass): string {
  return [method, relation, ...ends, earthBar ?? '', ...tableTypes].join(' ')
}
