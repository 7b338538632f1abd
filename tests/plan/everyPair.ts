import type { Candidates } from '../../src/plan/candidates.ts'
import { isInReach, type PartPair } from '../../src/plan/ownPairs.ts'
import { viewIn, type SightBook } from '../../src/plan/sightBook.ts'
import type { CoverageTerms } from '../../src/plan/coverage.ts'
import { wholly } from '../../src/base/portion.ts'

/** Of these pairs all that can be taken and show something, each solved by itself. */
export function everyPair({ book, reachable }: CoverageTerms, pairs: readonly PartPair[]): Candidates {
  const rows = pairs
    .filter((pair) => isInReach(book.sighting.prepared.network, reachable, pair))
    .map((pair) => rowOf(book, pair))
    .filter(({ edge }) => edge.length > 0)
  const start = [0]
  for (const { edge } of rows) start.push(start[start.length - 1] + edge.length)
  return {
    count: rows.length,
    a: Int32Array.from(rows, ({ view }) => view.a),
    b: Int32Array.from(rows, ({ view }) => view.b),
    start: Int32Array.from(start),
    edge: Int32Array.from(rows.flatMap(({ edge }) => [...edge])),
    squared: Float32Array.from(rows.flatMap(({ squared }) => [...squared])),
    leastRiseOhm: Float32Array.from(rows, ({ view }) => view.leastRiseOhm),
    sdOhm: Float32Array.from(rows, ({ view }) => view.sdOhm),
    template: Int32Array.from(rows.keys()),
    templateCount: rows.length,
    isComplete: true,
  }
}

function rowOf(book: SightBook, pair: PartPair) {
  const view = wholly(viewIn(book, pair))
  const isShown = (_: number, k: number) => view.riseOhm[k] >= view.leastRiseOhm
  return { view, edge: view.edge.filter(isShown), squared: view.squared.filter(isShown) }
}
