import type { CoverageAnswer } from '../model/planning.ts'
import { setUpsOfPlan } from '../model/queries/planSetUps.ts'
import type { Drawing } from '../model/schema/drawing.ts'
import type { Plan } from '../model/schema/planning.ts'
import { namePart } from '../text/partNames.ts'
import { openNameBook } from '../text/places.ts'
import { csvLine } from './csvLine.ts'

const head = [
  'number',
  'set_up',
  'step',
  'from',
  'from_name',
  'to',
  'to_name',
  'required',
  'point',
  'expected_ohm',
  'level_ohm',
]

/**
 * The pairs of a plan as a table after RFC 4180, in their order, numbered as the map and the sheet number them. Ohms are
 * empty where `coverage` does not know the pair. O(pairs).
 */
export function planCsv(
  drawing: Drawing,
  plan: Plan,
  coverage: Pick<CoverageAnswer, 'pairs'> | null,
): string {
  const book = openNameBook(drawing)
  const known = new Map((coverage?.pairs ?? []).map((pair) => [`${pair.from} ${pair.to}`, pair]))
  const setUps = setUpsOfPlan(plan.pairs).flatMap(({ pairs }, k) => Array<number>(pairs).fill(k + 1))
  const lines = plan.pairs.map(({ from, to, required, step, point }, k) => {
    const found = known.get(`${from} ${to}`)
    return csvLine([
      k + 1,
      setUps[k],
      step,
      from,
      namePart(book, from),
      to,
      namePart(book, to),
      required,
      point,
      found?.expectedOhm ?? null,
      found?.levelOhm ?? null,
    ])
  })
  return csvLine(head) + lines.join('')
}
