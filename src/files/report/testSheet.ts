import { criterionFor } from '../../model/queries/criterionFor.ts'
import type { CoverageAnswer } from '../../model/planning.ts'
import { setUpsOfPlan } from '../../model/queries/planSetUps.ts'
import { parsePartAddress } from '../../model/address.ts'
import type { Drawing } from '../../model/schema/drawing.ts'
import type { Criterion, Plan } from '../../model/schema/planning.ts'
import { formatRoughOhm } from '../../text/ohms.ts'
import { namePart } from '../../text/partNames.ts'
import { openNameBook } from '../../text/places.ts'
import {
  describeSheetLevel,
  describeSheetSetUp,
  describeSheetSize,
  describeSheetSource,
  pointWords,
  sheetTexts,
} from '../../text/testSheetText.ts'
import { printable } from '../../text/where.ts'

export interface SheetRow {
  readonly key: string
  readonly number: string
  readonly step: string
  readonly from: string
  readonly to: string
  readonly point: string
  /** What a sound array reads there; empty where it is not known. */
  readonly expected: string
  readonly level: string
}

/** Rows of one set-up: the first clip stays on. */
export interface SheetGroup {
  /** Null where set-ups say nothing: one pair each, or empty rows. */
  readonly heading: string | null
  readonly rows: readonly SheetRow[]
}

/** A sheet to be filled in by hand: the pairs of a plan in their order, or empty rows. */
export interface TestSheet {
  readonly planName: string | null
  readonly planNote: string
  readonly groups: readonly SheetGroup[]
  /** How much there is to do, and what it is planned to be read with. */
  readonly size: readonly string[]
  /** One line for each criterion that a row names. */
  readonly sources: readonly string[]
  readonly hasPoints: boolean
}

/**
 * Rows of a plan by set-ups, numbered as the map and the walk number them. `coverage`: what the plan is expected to read,
 * where it is known. O(pairs · criteria).
 */
export function testSheet(
  drawing: Drawing,
  plan: Plan,
  coverage: Pick<CoverageAnswer, 'pairs' | 'with'> | null = null,
): TestSheet {
  const book = openNameBook(drawing)
  const setUps = setUpsOfPlan(plan.pairs)
  const letters = new Map<string, { letter: string; criterion: Criterion }>()
  const letterOf = (criterion: Criterion) => {
    const known = letters.get(criterion.id)
    if (known) return known.letter
    const letter = letterAt(letters.size)
    letters.set(criterion.id, { letter, criterion })
    return letter
  }
  const expected = new Map((coverage?.pairs ?? []).map((pair) => [`${pair.from} ${pair.to}`, pair]))
  const rows = plan.pairs.map(({ id, from, to, step, point }, k): SheetRow => {
    const known = expected.get(`${from} ${to}`)
    const [a, b] = [parsePartAddress(from), parsePartAddress(to)]
    const criterion = a && b ? criterionFor(drawing, a, b) : null
    return {
      key: String(id),
      number: String(k + 1),
      step: printable(step, 200),
      from: nameEnd(from),
      to: nameEnd(to),
      point: pointWords[point],
      expected: known ? formatExpectedOhm(known) : '',
      level: criterion ? describeSheetLevel(letterOf(criterion), criterion) : '',
    }
  })
  return {
    planName: printable(plan.name, 200),
    planNote: printable(plan.note, 1000),
    groups: groupsOf(rows),
    size: describeSheetSize(plan.pairs.length, setUps.length, coverage?.with ?? null, drawing.facts.units),
    sources: [...letters.values()].map(({ letter, criterion }) => describeSheetSource(letter, criterion)),
    hasPoints: plan.pairs.some(({ point }) => point !== 'none'),
  }

  function groupsOf(all: readonly SheetRow[]): readonly SheetGroup[] {
    if (setUps.every(({ pairs }) => pairs === 1)) return [{ heading: null, rows: all }]
    return setUps.map(({ at, first, pairs }, k) => ({
      heading: describeSheetSetUp(k + 1, nameEnd(at), pairs),
      rows: all.slice(first, first + pairs),
    }))
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
    groups: [
      {
        heading: null,
        rows: Array.from({ length: rows }, (_, k) => ({
          key: String(k + 1),
          number: String(k + 1),
          step: '',
          from: '',
          to: '',
          point: '',
          expected: '',
          level: '',
        })),
      },
    ],
    size: [],
    sources: [],
    hasPoints: false,
  }
}

/** `3.2 mΩ`, `no path` where nothing joins the two. */
function formatExpectedOhm({ expectedOhm }: { readonly expectedOhm: number }): string {
  return Number.isFinite(expectedOhm) ? formatRoughOhm(expectedOhm) : sheetTexts.noPath
}

/** a … z, then aa, ab … */
function letterAt(k: number): string {
  const last = String.fromCharCode(97 + (k % 26))
  return k < 26 ? last : letterAt(Math.floor(k / 26) - 1) + last
}
