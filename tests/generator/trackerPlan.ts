import type { Plan } from '../../src/model/schema/planning.ts'
import { planOf } from './planOf.ts'

/** The two rows of block 3 that are walked from end to end and over their northern half. */
export const walkedRow = 47
const besideRow = 48

const tubeOf = (row: number, table: number) => `R${row}/T${table}/L1.5`
const railOf = (row: number, table: number) => `R${row}/T${table}/L5.4`
const frameOf = (row: number, table: number) => `R${row}/T${table}/F1.3`

/** From table 5, 15, 25 … to the fifth table either way: every jumper is crossed by one reading. */
const alongRow = (row: number, fromTable: number, more: ReadonlyMap<number, readonly string[]>) => {
  const references = Array.from({ length: 10 }, (_, k) => 10 * k + 5).filter((table) => table >= fromTable)
  return references.map((table) => ({
    from: tubeOf(row, table),
    to: [tubeOf(row, Math.max(1, table - 5)), railOf(row, table + 5), ...(more.get(table) ?? [])],
  }))
}

/** From the pad of block 3 to what the lead reaches, then north along row 3-07, and half of row 3-08. */
export const trackerPlan: Plan = planOf(
  'block3',
  'Block 3, spring round',
  'The lead of 50 m reaches eight row ends from the pad, and five tables either way in a row.',
  [
    {
      from: 'B3',
      to: ['E5', 'E6', ...Array.from({ length: 8 }, (_, k) => `R${walkedRow + k}/T1/L1.2`)],
    },
    ...alongRow(
      walkedRow,
      5,
      new Map([
        [75, [frameOf(walkedRow, 79), frameOf(walkedRow, 78)]],
        [85, [tubeOf(besideRow, 85)]],
      ]),
    ),
    {
      from: tubeOf(walkedRow, 50),
      to: [-2, -1, 1, 2].map((step) => tubeOf(walkedRow + step, 50)),
    },
    ...alongRow(besideRow, 55, new Map([[75, [frameOf(besideRow, 73), frameOf(besideRow, 77)]]])),
  ],
)
