/** What a sample is drawn from: a pair that is read, and where it is. */
export interface LotItem {
  readonly from: string
  readonly to: string
  /** The joint whose two ends they are; null for a pair of a plan. */
  readonly joint: string | null
  /** What hangs together on site and tends to be good or bad together: a table, a conductor. */
  readonly table: string
  /** The row of that table; null for what is in none. */
  readonly row: string | null
}

/** Places in the lot of the items of each table, in the order in which tables first come. */
export function tablesOf(items: readonly LotItem[]): readonly (readonly number[])[] {
  const tables = new Map<string, number[]>()
  items.forEach(({ table }, k) => {
    const known = tables.get(table)
    if (known) known.push(k)
    else tables.set(table, [k])
  })
  return [...tables.values()]
}
