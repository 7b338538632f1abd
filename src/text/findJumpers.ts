import { fits } from '../layout/findTokens.ts'
import type { Fit, Wanted } from '../layout/findTokens.ts'
import { selectTables, spotOfTable, tableIds } from '../layout/findTables.ts'
import type { TableBook } from '../layout/findTables.ts'
import { writeJointAddress } from '../model/address.ts'
import { better, byFit, nothing, type Catch, type FoundPlace } from './findCatch.ts'
import { jumperMeant, type WantedJumper, type WantedPlace } from './findQuery.ts'

/**
 * Jumpers between neighbouring tables: beside the one table that was named, or between the two. Gap g of a row
 * lies after its table number g. O(tables of the rows that fit).
 */
export function findJumpers(book: TableBook, wanted: Wanted, raw: string, most: number): Catch {
  const meant = jumperMeant(wanted, raw)
  if (!meant) return nothing
  const places: readonly (WantedPlace | null)[] = meant.places.length === 0 ? [null] : meant.places
  return places.reduce((best, place) => better(best, jumpersAt(book, meant, place, most)), nothing)
}

function jumpersAt(book: TableBook, meant: WantedJumper, place: WantedPlace | null, most: number): Catch {
  const { rows, drawing } = book.index
  const { after } = meant
  const selection = selectTables(book, place?.row ?? null, place?.table ?? null)
  const fitAfter = after === null ? null : fitByTable(selectTables(book, place?.row ?? null, after))
  const found: { fit: Fit; place: FoundPlace }[] = []
  let count = 0
  const taken = new Set<number>()
  const take = (r: number, before: number, fit: Fit) => {
    if (taken.has(before)) return
    taken.add(before)
    for (let jumper = 1; jumper <= drawing.rows[r].links.count; jumper++) {
      if (meant.jumper !== null && jumper !== meant.jumper) continue
      count++
      // of two tables named, the second may fit worse: all are weighed
      if (fitAfter === null && found.length >= most) continue
      const { row, table } = tableIds(book, before)
      const tableAfter = tableIds(book, before + 1).table
      const address = writeJointAddress({ at: 'row', row, tableBefore: table, tableAfter, jumper })
      found.push({ fit: place === null ? fits.begins : fit, place: { kind: 'joint', address } })
    }
  }
  selection.tables.forEach((table, k) => {
    const r = rows.runs.row[spotOfTable(book, table).run]
    const hasNext = table + 1 < book.rowTables[r + 1]
    const fit = selection.fit[k]
    if (fitAfter) {
      const fitOfNext = fitAfter.get(table + 1) ?? fits.none
      if (hasNext && fitOfNext !== fits.none) take(r, table, Math.max(fit, fitOfNext) as Fit)
      return
    }
    if (hasNext) take(r, table, fit)
    if (place?.table && table > book.rowTables[r]) take(r, table - 1, fit)
  })
  return { count, best: byFit(found).slice(0, most) }
}

function fitByTable({ tables, fit }: ReturnType<typeof selectTables>): ReadonlyMap<number, Fit> {
  return new Map(tables.map((table, k) => [table, fit[k]]))
}
