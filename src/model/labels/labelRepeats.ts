import type { Row } from '../schema/row.ts'

/** Labels that more than one table carries. They are told, not refused: a label is no id. */
export interface LabelRepeats {
  /** How many different labels stand on more than one table. */
  readonly labels: number
  /** Those of them where also the labels of the rows are the same, so that nobody on site can tell the tables apart. */
  readonly ambiguous: number
  /** The first few of them, ambiguous ones first. */
  readonly examples: readonly string[]
}

const mostExamples = 5

/** Repeats among all tables of a site that concern at least one of these rows; all without them. O(labels). */
export function labelRepeats(rows: readonly Row[], concerning?: ReadonlySet<number>): LabelRepeats {
  const once = new Set<string>()
  const onceByRowLabel = new Map<string, Set<string>>()
  const repeated = new Set<string>()
  const ambiguous = new Set<string>()
  const concerned = new Set<string>()
  for (const { id, label: rowLabel, tableLabels } of rows) {
    const isConcerned = !concerning || concerning.has(id)
    const inRow = onceByRowLabel.get(rowLabel.trim()) ?? new Set<string>()
    onceByRowLabel.set(rowLabel.trim(), inRow)
    for (const label of Object.values(tableLabels)) {
      if (label.trim() === '') continue
      if (once.has(label)) repeated.add(label)
      if (inRow.has(label)) ambiguous.add(label)
      once.add(label)
      inRow.add(label)
      if (isConcerned) concerned.add(label)
    }
  }
  const repeats = [...repeated].filter((label) => concerned.has(label))
  const worst = repeats.filter((label) => ambiguous.has(label))
  const others = repeats.filter((label) => !ambiguous.has(label))
  return {
    labels: repeats.length,
    ambiguous: worst.length,
    examples: [...worst, ...others].slice(0, mostExamples),
  }
}
