import { randomStream } from '../../base/random.ts'
import { badOf, clusteredAcceptance, designEffect, sumOf, wholeTablesAcceptance } from './clusterSample.ts'
import { drawByLot } from './drawByLot.ts'
import { hypergeometricAtMost } from './hypergeometric.ts'
import { tablesOf, type LotItem } from './lot.ts'
import type { Acceptance } from './operatingCharacteristic.ts'
import { fewestTables, smallestSample, type Demand } from './sampleSize.ts'

/** Drawn by the table; null: one by one over the whole lot. */
export interface Clusters {
  readonly perTable: number
  readonly correlation: number
}

export interface Sample {
  /** Places in the lot, ascending. */
  readonly drawn: readonly number[]
  readonly tables: number
  readonly designEffect: number
  /** The whole lot is drawn, as nothing less gives what is asked. */
  readonly isWhole: boolean
  /** Chance that so many failures or fewer are found among the drawn, by the share of the lot that is bad. */
  readonly acceptance: (most: number) => Acceptance
  /** The same where the bad ones fill whole tables; null where the draw went by the item. */
  readonly byTable: ((most: number) => Acceptance) | null
}

/**
 * Draws from a lot what a demand asks for. The same lot, demand and seed give the same sample. Null where not even the
 * whole lot can show it.
 */
export function takeSample(
  items: readonly LotItem[],
  demand: Demand,
  clusters: Clusters | null,
  seed: number,
): Sample | null {
  const size = smallestSample(items.length, demand)
  if (size === null) return null
  const tables = tablesOf(items)
  const random = randomStream(seed)
  if (!clusters) return oneByOne(items, drawByLot(items.length, size, random))
  const lotSizes = tables.map((places) => places.length)
  const { perTable, correlation } = clusters
  const count = fewestTables(lotSizes, perTable, correlation, demand)
  if (count === null) return oneByOne(items, [...items.keys()])
  const parts = drawByLot(tables.length, count, random).map((t) =>
    drawByLot(lotSizes[t], Math.min(lotSizes[t], perTable), random).map((k) => tables[t][k]),
  )
  const sample = { lotSizes, drawnSizes: parts.map((places) => places.length), correlation }
  const drawn = parts.flat().toSorted((a, b) => a - b)
  return {
    drawn,
    tables: count,
    designEffect: designEffect(sumOf(sample.drawnSizes) / count, correlation),
    isWhole: drawn.length === items.length,
    acceptance: (most) => (share) => clusteredAcceptance(sample, most, share),
    byTable: (most) => (share) => wholeTablesAcceptance(sample, most, share),
  }
}

function oneByOne(items: readonly LotItem[], drawn: readonly number[]): Sample {
  const lot = items.length
  return {
    drawn,
    tables: new Set(drawn.map((k) => items[k].table)).size,
    designEffect: 1,
    isWhole: drawn.length === lot,
    acceptance: (most) => (share) =>
      hypergeometricAtMost(most, { items: lot, bad: badOf(share, lot), drawn: drawn.length }),
    byTable: null,
  }
}
