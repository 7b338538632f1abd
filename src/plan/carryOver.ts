import { lastAtMost } from '../layout/idLookup.ts'
import type { Network } from '../network/compile.ts'
import { jointAtPlace, type LikeTables } from './likeTables.ts'

/** Joints by tables counted from one of them and by places in these, so that they can be read off elsewhere in a like row. */
export interface CarriedJoints {
  readonly table: Int32Array
  readonly place: Int32Array
}

/** Null where one of the joints belongs to no table of the row of table `at`. O(joints · log tables). */
export function carriedJoints(
  network: Network,
  tables: LikeTables,
  at: number,
  edges: Int32Array,
): CarriedJoints | null {
  const table = new Int32Array(edges.length)
  const place = new Int32Array(edges.length)
  for (let k = 0; k < edges.length; k++) {
    const found = placeOf(network, tables, network.jointOfEdge[edges[k]])
    if (!found || tables.row[found.table] !== tables.row[at]) return null
    table[k] = found.table - at
    place[k] = found.place
  }
  return { table, place }
}

/**
 * The same joints at the like place that begins with another table, ascending, and where each stood before if that changes
 * their order; null where they are not there.
 */
export function carriedEdges(
  network: Network,
  tables: LikeTables,
  { table, place }: CarriedJoints,
  at: number,
): { readonly edge: Int32Array; readonly order: Int32Array | null } | null {
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
  if (isAscending) return { edge, order: null }
  const order = Int32Array.from(edge.keys()).sort((x, y) => edge[x] - edge[y])
  return { edge: order.map((k) => edge[k]), order }
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
