/** A test that could be made, by the candidates that it would show. */
export interface Test {
  readonly shows: ReadonlySet<number>
}

/**
 * The test that comes closest to showing one half of the candidates; none where every test shows all of them or
 * none. The first of equals.
 */
export function halvingTest<T extends Test>(candidates: readonly number[], tests: Iterable<T>): T | null {
  let best: T | null = null
  let least = candidates.length
  for (const test of tests) {
    const shown = candidates.filter((candidate) => test.shows.has(candidate)).length
    if (shown === 0 || shown === candidates.length) continue
    const larger = Math.max(shown, candidates.length - shown)
    if (larger < least) {
      least = larger
      best = test
    }
  }
  return best
}
