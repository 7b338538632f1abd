import { criterionFor } from '../../model/queries/criterionFor.ts'
import { parsePartAddress } from '../../model/address.ts'
import type { Drawing } from '../../model/schema/drawing.ts'
import type { Criterion, Plan } from '../../model/schema/planning.ts'
import { namePart } from '../../text/partNames.ts'
import { openNameBook } from '../../text/places.ts'
import { describeSheetLevel, describeSheetSource, pointWords } from '../../text/testSheetText.ts'
import { printable } from '../../text/where.ts'

export interface SheetRow {
  readonly key: string
  readonly number: string
  readonly step: string
  readonly from: string
  readonly to: string
  readonly point: string
  readonly level: string
}

/** A sheet to be filled in by hand: the pairs of a plan in their order, or empty rows. */
export interface TestSheet {
  readonly planName: string | null
  readonly planNote: string
  readonly rows: readonly SheetRow[]
  /** One line for each criterion that a row names. */
  readonly sources: readonly string[]
  readonly hasPoints: boolean
}

/** Rows of a plan, numbered as the plan numbers its pairs. O(pairs · criteria). */
export function testSheet(drawing: Drawing, plan: Plan): TestSheet {
  const book = openNameBook(drawing)
  const letters = new Map<string, { letter: string; criterion: Criterion }>()
  const letterOf = (criterion: Criterion) => {
    const known = letters.get(criterion.id)
    if (known) return known.letter
    const letter = letterAt(letters.size)
    letters.set(criterion.id, { letter, criterion })
    return letter
  }
  const rows = plan.pairs.map(({ id, from, to, step, point }): SheetRow => {
    const [a, b] = [parsePartAddress(from), parsePartAddress(to)]
    const criterion = a && b ? criterionFor(drawing, a, b) : null
    return {
      key: String(id),
      number: String(id),
      step: printable(step, 200),
      from: nameEnd(from),
      to: nameEnd(to),
      point: pointWords[point],
      level: criterion ? describeSheetLevel(letterOf(criterion), criterion) : '',
    }
  })
  return {
    planName: printable(plan.name, 200),
    planNote: printable(plan.note, 1000),
    rows,
    sources: [...letters.values()].map(({ letter, criterion }) => describeSheetSource(letter, criterion)),
    hasPoints: plan.pairs.some(({ point }) => point !== 'none'),
  }

  function nameEnd(address: string): string {
    return `${namePart(book, address)} (${printable(address)})`
  }
}

/** Numbered rows to write any pair into. */
export function emptySheet(rows: number): TestSheet {
  return {
    planName: null,
    planNote: '',
    rows: Array.from({ length: rows }, (_, k) => ({
      key: String(k + 1),
      number: String(k + 1),
      step: '',
      from: '',
      to: '',
      point: '',
      level: '',
    })),
    sources: [],
    hasPoints: false,
  }
}

/** a … z, then aa, ab … */
function letterAt(k: number): string {
  const last = String.fromCharCode(97 + (k % 26))
  return k < 26 ? last : letterAt(Math.floor(k / 26) - 1) + last
}
