import { firstPartOf, partAddressAt, patternOfRun } from '../layout/partIndex.ts'
import { tableAt } from '../model/queries/tablePosition.ts'
import { tableById } from '../layout/rowIndex.ts'
import type { SiteIndex } from '../layout/siteIndex.ts'
import { writePartAddress } from '../model/address.ts'
import type { Row } from '../model/schema/row.ts'
import { namePart } from '../text/partNames.ts'
import type { NameBook } from '../text/places.ts'

export interface PartSuggestion {
  readonly address: string
  readonly name: string
}

/** Rows whose tables are looked through for a painted label. */
const mostRows = 400

/**
 * Parts that what was typed may mean: equipment by address or label, then parts of the table that an address
 * or a painted label leads to. At most `most`; nothing is listed of a site as a whole.
 */
export function suggestParts(index: SiteIndex, book: NameBook, typed: string, most = 12): PartSuggestion[] {
  const wanted = typed.trim().toLowerCase()
  const found: PartSuggestion[] = []
  const isFull = () => found.length >= most
  const offer = (address: string) => {
    if (!isFull()) found.push({ address, name: namePart(book, address) })
  }
  const { drawing } = index
  const items = [
    ...drawing.earthBars.map(({ id }) => writePartAddress({ at: 'earthBar', id })),
    ...drawing.enclosures.map(({ id }) => writePartAddress({ at: 'enclosure', id })),
    ...drawing.electrodes.map(({ id }) => writePartAddress({ at: 'electrode', id })),
  ]
  for (const address of items) {
    if (isFull()) return found
    if (address.toLowerCase().startsWith(wanted) || namePart(book, address).toLowerCase().includes(wanted))
      offer(address)
  }
  if (wanted === '') return found
  for (const { row, table } of tablesMeant(index, wanted)) {
    const spot = tableById(index.rows, row, table)
    if (!spot) continue
    const first = firstPartOf(index, spot)
    const { partCount } = patternOfRun(index, spot.run)
    for (let part = first; part < first + partCount && !isFull(); part++) {
      const address = writePartAddress(partAddressAt(index, part))
      if (!wanted.startsWith('r') || address.toLowerCase().startsWith(wanted) || !isAddressLike(wanted))
        offer(address)
    }
    if (isFull()) break
  }
  return found
}

const isAddressLike = (text: string) => /^r\d/.test(text)

interface MeantTable {
  /** Number of the row in the drawing, from 0. */
  readonly row: number
  readonly table: number
}

function* tablesMeant({ drawing }: SiteIndex, wanted: string): Generator<MeantTable> {
  const typed = /^r(\d+)(?:\/t(\d*))?/.exec(wanted)
  for (const [row, drawn] of drawing.rows.entries()) {
    if (row >= mostRows && !typed) return
    if (typed) {
      if (typed[2] ? drawn.id !== Number(typed[1]) : !String(drawn.id).startsWith(typed[1])) continue
      const table = typed[2] ? Number(typed[2]) : firstTable(drawn)
      if (table !== null) yield { row, table }
      continue
    }
    for (const [table, label] of Object.entries(drawn.tableLabels)) {
      if (label.toLowerCase().includes(wanted)) yield { row, table: Number(table) }
    }
  }
}

function firstTable(row: Row): number | null {
  return tableAt(row, 0)?.table ?? null
}
