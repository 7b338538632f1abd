/*
 * Where the rows of the tracker plant stand. All of it in metres, x to the east and y to the north.
 */
export const rowCount = 100
export const rowsPerBlock = 20

/** Eight modules of 1.13 m with 20 mm between them, and the gap from table to table in a row. */
const alongM = 8 * 1.13 + 7 * 0.02
export const rowGapM = 0.32
/** Two modules of 2.28 m side by side over the tube, which lies under the middle. */
const tableWidthM = 2 * 2.28 + 0.04
const tubeInM = tableWidthM / 2

const rowPitchM = 11
const roadM = 8
const fullRow = 100

/** Rows cut short where the boundary runs askew: row and tables. */
export const shortRows = [
  { row: 1, tables: 94 },
  { row: 2, tables: 97 },
  { row: 100, tables: 90 },
] as const

/** Blocks follow a road that bends: each starts a little further north or south than the one before. */
const blockSouthM = [0, 5, 12, 12, 4]

export interface Block {
  readonly number: number
  readonly firstRow: number
  readonly southM: number
}

export const blocks: readonly Block[] = blockSouthM.map((southM, b) => ({
  number: b + 1,
  firstRow: b * rowsPerBlock + 1,
  southM,
}))

const blockOf = (row: number) => Math.ceil(row / rowsPerBlock)
const round = (m: number) => Number(m.toFixed(2))

export function rowX(row: number): {
  readonly westM: number
  readonly tubeM: number
  readonly eastM: number
} {
  const westM = (row - 1) * rowPitchM + (blockOf(row) - 1) * roadM
  return { westM: round(westM), tubeM: round(westM + tubeInM), eastM: round(westM + tableWidthM) }
}

export const southM = (row: number): number => blockSouthM[blockOf(row) - 1]

export const tablesInRow = (row: number): number =>
  shortRows.find((short) => short.row === row)?.tables ?? fullRow

/** South end of a table. */
export const tableSouthM = (row: number, table: number): number =>
  round(southM(row) + (table - 1) * (alongM + rowGapM))

/** North end of the rows that reach furthest. */
export const northM = round(Math.max(...blockSouthM) + fullRow * (alongM + rowGapM))
