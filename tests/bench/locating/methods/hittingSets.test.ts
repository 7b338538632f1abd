import { describe, expect, it } from 'vitest'
import { randomStream } from '../../../../src/base/random.ts'
import { smallestHittingSets } from './hittingSets.ts'

/** By going over all subsets. */
function byBruteForce(sets: readonly ReadonlySet<number>[], elements: number): number[][] {
  const hits: number[][] = []
  for (let bits = 0; bits < 1 << elements; bits++) {
    const subset = Array.from({ length: elements }, (_, e) => e).filter((e) => (bits >> e) & 1)
    if (sets.every((set) => subset.some((e) => set.has(e)))) hits.push(subset)
  }
  const least = Math.min(...hits.map(({ length }) => length))
  return hits.filter(({ length }) => length === least)
}

const sorted = (sets: readonly number[][]) => sets.map((set) => set.join(' ')).sort()

describe('smallest hitting sets', () => {
  it('are those of brute force', () => {
    const random = randomStream(3)
    for (let round = 0; round < 200; round++) {
      const sets = Array.from({ length: 1 + random.integer(6) }, () => {
        const set = new Set<number>([random.integer(9)])
        for (let k = random.integer(4); k > 0; k--) set.add(random.integer(9))
        return set
      })
      expect(sorted(smallestHittingSets(sets))).toEqual(sorted(byBruteForce(sets, 9)))
    }
  })

  it('are one empty set where there is nothing to hit, and none where it cannot be hit', () => {
    expect(smallestHittingSets([])).toEqual([[]])
    expect(smallestHittingSets([new Set([1]), new Set()])).toEqual([])
  })
})
