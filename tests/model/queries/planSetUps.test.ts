import fc from 'fast-check'
import { expect, it } from 'vitest'
import { setUpsOfPlan } from '../../../src/model/queries/planSetUps.ts'

it('set-ups hold every pair once and in order, and the first clip moves from each to the next', () => {
  const pairs = fc.array(fc.constantFrom('B1', 'E1', 'R1/T1/F1.1').map((from) => ({ from })))
  fc.assert(
    fc.property(pairs, (all) => {
      const setUps = setUpsOfPlan(all)
      expect(setUps.flatMap(({ at, pairs: count }) => Array<string>(count).fill(at))).toEqual(
        all.map(({ from }) => from),
      )
      setUps.forEach(({ at, first }, k) => {
        expect(all[first].from).toBe(at)
        if (k > 0) expect(setUps[k - 1].at).not.toBe(at)
      })
    }),
    { seed: 5 },
  )
})
