import { describe, expect, it } from 'vitest'
import { halvingTest } from './halving.ts'

/** Readings from one end of a chain: each shows the joints before its point. */
const chain = (joints: number) =>
  Array.from({ length: joints - 1 }, (_, k) => ({
    shows: new Set(Array.from({ length: k + 1 }, (_, e) => e)),
  }))

describe('half-splitting', () => {
  it('finds any joint of a chain without noise in ⌈log₂ n⌉ tests', () => {
    for (const joints of [2, 3, 5, 8, 13, 64, 100]) {
      let most = 0
      for (let bad = 0; bad < joints; bad++) {
        let candidates = Array.from({ length: joints }, (_, e) => e)
        let tests = 0
        for (;;) {
          const test = halvingTest(candidates, chain(joints))
          if (!test) break
          tests++
          candidates = candidates.filter((e) => test.shows.has(e) === test.shows.has(bad))
        }
        expect(candidates).toEqual([bad])
        most = Math.max(most, tests)
      }
      expect(most).toBe(Math.ceil(Math.log2(joints)))
    }
  })

  it('gives up where no test parts the candidates', () => {
    expect(halvingTest([0, 1], [{ shows: new Set([0, 1]) }, { shows: new Set<number>() }])).toBeNull()
  })
})
