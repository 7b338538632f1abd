import { tableSize } from '../../layout/tableSize.ts'
import { limits } from '../../model/limits.ts'
import type { PointM } from '../../model/schema/primitives.ts'
import type { TableType } from '../../model/schema/tableType.ts'
import { directionOf, leftOf } from './bearing.ts'
import { alongM } from './places.ts'

/** More tables than this are shown as one strip. */
const mostOutlines = 200

/**
 * A length may be this much short of its tables: drawn places are rounded to a tenth of a millimetre, and a row that
 * ends in line with the one beside it has as many tables.
 */
export const fitSlackM = 1e-3

/** As many tables as stand in a length, at least one. */
export function tablesThatFit(type: TableType, gapM: number, lengthM: number): number {
  const stepM = tableSize(type).alongM + gapM
  const fitting = Math.floor((lengthM + gapM + fitSlackM) / stepM)
  return Math.min(Math.max(fitting, 1), limits.tablesPerRow)
}

export function rowLengthM(type: TableType, gapM: number, tables: number): number {
  return tables * tableSize(type).alongM + (tables - 1) * gapM
}

/** Outlines of the tables of a row that would be, lower outer corner first; one strip where they are very many. */
export function tableOutlines(
  type: TableType,
  row: {
    readonly originM: PointM
    readonly bearingDeg: number
    readonly gapM: number
    readonly tables: number
  },
): readonly (readonly PointM[])[] {
  const { originM, bearingDeg, gapM, tables } = row
  const along = directionOf(bearingDeg)
  const up = leftOf(along)
  const { alongM: wideM, upM } = tableSize(type)
  const outline = (fromM: number, lengthM: number) => {
    const corner = alongM(originM, along, fromM)
    const other = alongM(corner, along, lengthM)
    return [corner, other, alongM(other, up, upM), alongM(corner, up, upM)]
  }
  if (tables > mostOutlines) return [outline(0, rowLengthM(type, gapM, tables))]
  return Array.from({ length: tables }, (_, k) => outline(k * (wideM + gapM), wideM))
}
