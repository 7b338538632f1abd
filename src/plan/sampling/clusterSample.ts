import { betaBinomialAtMost, type TablesOf } from './betaBinomial.ts'
import { hypergeometricAtMost } from './hypergeometric.ts'

/** Factor by which a clustered sample must be larger than one drawn one by one: 1 + (m − 1) ρ (Kish 1965, from memory). */
export function designEffect(perTable: number, correlation: number): number {
  return 1 + (perTable - 1) * correlation
}

/** Items drawn in each of some tables, and the lot that these were drawn from. */
export interface TableSample {
  readonly lotSizes: readonly number[]
  readonly drawnSizes: readonly number[]
  /** Correlation between two items of a table in being bad: 0 none, 1 all or none of a table. */
  readonly correlation: number
}

/**
 * Chance that a sample by tables has at most `most` bad items where the share `share` of the lot is bad. Without
 * correlation the items are as good as drawn one by one. With it the lot is taken as endless (`betaBinomialAtMost`),
 * which errs towards accepting: the confidence stated is not too high. With correlation 1 the worst is taken.
 */
export function clusteredAcceptance(sample: TableSample, most: number, share: number): number {
  const { lotSizes, drawnSizes, correlation } = sample
  if (correlation === 1) return wholeTablesAcceptance(sample, most, share)
  const items = sumOf(lotSizes)
  const drawn = sumOf(drawnSizes)
  if (correlation > 0 && drawn < items) {
    return betaBinomialAtMost(most, grouped(drawnSizes), share, correlation)
  }
  return hypergeometricAtMost(most, { items, bad: badOf(share, items), drawn })
}

/**
 * The same where the bad items fill as few tables as can hold them, the worst that may be: some tables wholly bad, one
 * with what is left over. Each wholly bad one that is drawn shows at least as many as the smallest drawn table has.
 */
export function wholeTablesAcceptance(
  { lotSizes, drawnSizes }: TableSample,
  most: number,
  share: number,
): number {
  const descending = lotSizes.toSorted((a, b) => b - a)
  const tables = lotSizes.length
  const drawn = drawnSizes.length
  const shown = Math.min(...drawnSizes)
  let left = badOf(share, sumOf(lotSizes))
  let full = 0
  for (; full < tables && left >= descending[full]; full++) left -= descending[full]
  const atMost = (count: number) => hypergeometricAtMost(count, { items: tables, bad: full, drawn })
  let accepted = 0
  for (let bad = 0; bad <= Math.min(full, drawn, Math.floor(most / shown)); bad++) {
    const isPartDrawn = left > 0 ? (drawn - bad) / (tables - full) : 0
    const isPartPassed = hypergeometricAtMost(most - bad * shown, {
      items: descending[full] ?? 0,
      bad: left,
      drawn: Math.min(shown, descending[full] ?? 0),
    })
    accepted += (atMost(bad) - atMost(bad - 1)) * (1 - isPartDrawn * (1 - isPartPassed))
  }
  return Math.min(1, accepted)
}

/** Bad items of a lot of which at least this share is bad; a millionth more is rounding. */
export function badOf(share: number, items: number): number {
  return Math.min(items, Math.max(0, Math.ceil(share * items - 1e-6)))
}

export function sumOf(sizes: readonly number[]): number {
  return sizes.reduce((sum, size) => sum + size, 0)
}

function grouped(sizes: readonly number[]): readonly TablesOf[] {
  const groups = new Map<number, number>()
  for (const each of sizes) groups.set(each, (groups.get(each) ?? 0) + 1)
  return [...groups].map(([each, tables]) => ({ each, tables }))
}
