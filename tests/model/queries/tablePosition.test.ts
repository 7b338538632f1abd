import { describe, expect, it } from 'vitest'
import { randomStream } from '../../../src/base/random.ts'
import { findTable, tableAt, tableCount } from '../../../src/model/queries/tablePosition.ts'
import type { Row } from '../../../src/model/schema/row.ts'
import { exampleSite } from '../exampleSite.ts'

const row = exampleSite().drawing.rows[0]

/** Runs with gaps between their ids, in an order of their own. */
function anyRow(seed: number): Row {
  const random = randomStream(seed)
  let next = 1
  const runs = Array.from({ length: 1 + random.integer(8) }, () => {
    const firstTable = next + random.integer(3)
    const count = 1 + random.integer(5)
    next = firstTable + count
    return { firstTable, count, type: `type${random.integer(3)}` }
  })
  runs.sort(() => random.uniform() - 0.5)
  return { ...row, runs, nextTable: next }
}

describe('tables of a row', () => {
  it('are found by id and by position as in a list of them all', () => {
    for (let seed = 1; seed <= 200; seed++) {
      const { runs, nextTable } = anyRow(seed)
      const list = runs.flatMap(({ firstTable, count, type }) =>
        Array.from({ length: count }, (_, k) => ({ table: firstTable + k, type })),
      )
      const built = { ...row, runs }
      expect(tableCount(built)).toBe(list.length)
      for (let table = 0; table <= nextTable; table++) {
        const position = list.findIndex((item) => item.table === table)
        const found = findTable(built, table)
        expect(found && [found.position, found.type]).toEqual(
          position < 0 ? null : [position, list[position].type],
        )
      }
      list.forEach(({ table, type }, position) => {
        expect(tableAt(built, position)).toMatchObject({ table, type, position })
      })
      expect([tableAt(built, -1), tableAt(built, list.length), tableAt(built, 0.5)]).toEqual([
        null,
        null,
        null,
      ])
    }
  })
})
