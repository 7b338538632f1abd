import { parsePartAddress } from '../model/address.ts'
import type { Evidence, LocateAnswer, ReadingAnswer, SuspectGroup } from '../model/answers.ts'
import { formatRead, isReadBetween, readingNumber, speaksStronglyAgainst } from './evidenceText.ts'
import { namePair } from './partNames.ts'
import { nameRow, nameTable, type NameBook } from './places.ts'

/** A reading crosses a joint when most of its current does, and passes it by when next to none does. */
const crossing = 0.5
const passing = 0.05

/**
 * What rules out the neighbours of the first suspect: the reading that speaks most strongly against another
 * group, crosses that one and not the first. Null for other groups, and where no reading does.
 */
export function describePin(answer: LocateAnswer, group: SuspectGroup, book: NameBook): string | null {
  if (answer.groups[0] !== group) return null
  const pin = strongestPin(answer, group)
  if (!pin) return null
  const { reading, number } = pin
  const beyond = continuesPast(answer, group, reading) ? 'beyond' : 'elsewhere'
  return (
    `Reading ${number} is low (${formatRead(answer, reading)}) from ${nameWay(reading, book)}: ` +
    `joints that its current crosses look sound, so the fault lies ${beyond}.`
  )
}

/** From where to where, by tables where both ends are in one row: near enough to say which joints lie between. */
function nameWay({ from, to }: ReadingAnswer, book: NameBook): string {
  const [a, b] = [parsePartAddress(from), parsePartAddress(to)]
  const isAlongRow = a?.at === 'table' && b?.at === 'table' && a.row === b.row && a.table !== b.table
  if (!isAlongRow) return namePair(book, from, to)
  return `${nameTable(book, a.row, a.table)} to ${nameTable(book, b.row, b.table)}, ${nameRow(book, a.row)}`
}

interface Pin {
  readonly evidence: Evidence
  readonly reading: ReadingAnswer
  readonly number: number
}

function strongestPin(answer: LocateAnswer, first: SuspectGroup): Pin | null {
  const shareOfFirst = new Map(first.evidence.map(({ entry, share }) => [entry, Math.abs(share)]))
  const pins = answer.groups.slice(1).flatMap(({ evidence }) =>
    evidence.flatMap((one): Pin[] => {
      const passesFirst = (shareOfFirst.get(one.entry) ?? 0) < passing
      if (!speaksStronglyAgainst(one) || Math.abs(one.share) < crossing || !passesFirst) return []
      const number = readingNumber(answer, one.entry)
      if (number === null || !isReadBetween(answer, one.entry)) return []
      return [{ evidence: one, reading: answer.readings[number - 1], number }]
    }),
  )
  return pins.toSorted((a, b) => a.evidence.bits - b.evidence.bits)[0] ?? null
}

/** Whether a reading that speaks for the group starts where the pin does: then the fault lies past the pin's end. */
function continuesPast(answer: LocateAnswer, { evidence }: SuspectGroup, pin: ReadingAnswer): boolean {
  return evidence.some(({ entry, bits, share }) => {
    if (bits <= 0 || Math.abs(share) < crossing) return false
    const reading = answer.readings.find((one) => one.entry === entry)
    return reading?.from === pin.from
  })
}
