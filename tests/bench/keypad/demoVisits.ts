/** A demo site with pairs that are measured in it, all from one set-up. */
export interface DemoVisit {
  readonly key: string
  readonly name: string
  readonly from: string
  readonly to: readonly string[]
}

const frames = (rows: readonly number[], tables: readonly number[], columns: readonly number[]) =>
  tables.flatMap((table) => rows.flatMap((row) => columns.map((column) => `R${row}/T${table}/F1.${column}`)))
const upTo = (most: number) => Array.from({ length: most }, (_, k) => k + 1)

export const demoVisits: readonly DemoVisit[] = [
  {
    key: 'field',
    name: 'Larkmoor Field',
    from: 'R1/T4/L1.6',
    to: frames([1, 2, 3, 4, 5, 6], upTo(8), [1, 5]),
  },
  {
    key: 'tracker',
    name: 'Ostermoor Plain',
    from: 'R47/T25/L1.5',
    to: frames([47, 48], upTo(50), [3]),
  },
]

/** What the meter shows for the n-th pair, in ohms: a bond as a rule, and every eighth one far too high. */
export function shownOhm(n: number): number {
  return n % 8 === 7 ? 1.4 + n / 100 : 0.02 + (n % 6) / 100
}
