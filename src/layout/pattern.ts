import type { TableType } from '../model/schema/tableType.ts'
import type { TableSize } from './tableSize.ts'

/**
 * Parts and joints of one table, numbered from 0, from which every table of the type follows by adding offsets.
 *
 * Parts, in this order: frames F1.1, F1.2 … (row by row from the lowest), long member pieces L1.1, L1.2 …
 * (member by member), cross members X1 …, posts P1.1, P1.2 … (line by line).
 *
 * Joints ascend by first end, second end, parallel number; the first end is the part with the lower
 * number, and remote earth (−1) is always the second end. `jointStart[p] … jointStart[p + 1] − 1` are the
 * joints whose first end is part p.
 */
export interface TablePattern {
  readonly type: TableType
  readonly size: TableSize
  readonly high: number
  readonly across: number
  readonly members: number
  readonly longStart: number
  readonly crossStart: number
  readonly postStart: number
  readonly postsPerLine: number
  readonly partCount: number
  readonly partKind: Uint8Array
  /** Centre of each part: along the table, and up the slope as seen in plan. */
  readonly xM: Float64Array
  readonly yM: Float64Array
  readonly jointCount: number
  readonly from: Int32Array
  readonly to: Int32Array
  /** 1 for the first of parallel joints. */
  readonly parallel: Uint8Array
  /** Index into `kindNames`. */
  readonly kind: Uint8Array
  readonly kindNames: readonly string[]
  /** Length of the long member's own metal that the current crosses in this joint, else 0. */
  readonly bodyM: Float64Array
  readonly jointStart: Int32Array
}

/** What part positions and joints follow from. */
export type TableShape = Pick<
  TablePattern,
  | 'type'
  | 'size'
  | 'high'
  | 'across'
  | 'members'
  | 'longStart'
  | 'crossStart'
  | 'postStart'
  | 'postsPerLine'
  | 'partCount'
>
