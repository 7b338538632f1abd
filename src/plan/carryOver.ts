import { lastAtMost } from '../layout/idLookup.ts'
import type { Network } from '../network/compile.ts'
import type { ShownByPair } from './candidateList.ts'
import { jointAtPlace, type LikeTables } from './likeTables.ts'

/**
 * What a pair shows, by tables counted from that of its first end and by places in them, so that it can be read off for the
 * same pair elsewhere. Null where it shows a joint that belongs to no table of its row.
 */
export interface CarriedView {
  readonly table: Int32Array
  readonly place: Int32Array
  readonly shown: ShownByPair
}

/** O(joints shown · log tables). */
export function carriedView(
  network: Network,
  tables: LikeTables,
  at: number,
  shown: ShownByPair,
): CarriedView | null {
  const table = new Int32Array(shown.edge.length)
  const place = new Int32Array(shown.edge.length)
  for (let k = 0; k < shown.edge.length; k++) {
    const found = placeOf(network, tables, network.jointOfEdge[shown.edge[k]])
    if (!found || tables.row[found.table] !== tables.row[at]) return null
    table[k] = found.table - at
    place[k] = found.place
  }
  return { table, place, shown }
}

/** The same for the tables that begin at another one; null where they are not there. Edges ascending. */
export function carriedTo(
  network: Network,
  tables: LikeTables,
  { table, place, shown }: CarriedView,
  at: number,
): ShownByPair | null {
  const row = tables.row[at]
  const edge = new Int32Array(table.length)
  let isAscending = true
  for (let k = 0; k < table.length; k++) {
    const t = at + table[k]
    if (t < tables.rowStart[row] || t >= tables.rowStart[row + 1]) return null
    const joint = jointAtPlace(network.index, tables, t, place[k])
    edge[k] = joint < 0 ? -1 : network.edgeOfJoint[joint]
    if (edge[k] < 0) return null
    if (k > 0 && edge[k] < edge[k - 1]) isAscending = false
  }
  if (isAscending) return { ...shown, edge }
  const order = Array.from(edge.keys()).sort((x, y) => edge[x] - edge[y])
  return {
    ...shown,
    edge: Int32Array.from(order, (k) => edge[k]),
    squared: Float32Array.from(order, (k) => shown.squared[k]),
  }
}

/** The table that a joint belongs to, and its place there; null for a joint of equipment. */
export function placeOf(
  { index }: Network,
  tables: LikeTables,
  joint: number,
): { readonly table: number; readonly place: number } | null {
  if (joint >= index.rows.jointEnd) return null
  const last = lastAtMost(tables.firstJoint, joint, 0, tables.tableCount)
  const within = joint - tables.firstJoint[last]
  if (within < tables.jointCount[last]) return { table: last, place: within }
  const row = tables.row[last]
  const links = index.drawing.rows[row].links.count
  const jumper = joint - index.rows.jumperStart[row]
  const table = tables.rowStart[row] + Math.floor(jumper / links)
  return { table, place: tables.jointCount[table] + (jumper % links) }
}
