import { describe, expect, it } from 'vitest'
import { grownSite } from './grownSite.ts'
import { stages, workThrough } from './stages.ts'

describe('the work that is timed', () => {
  it('goes through all stages in order, on a site that grows with its rows and tables', () => {
    const done: string[] = []
    let clock = 0
    const small = workThrough(
      grownSite(2, 2),
      { now: () => (clock += 1000), processor: () => clock / 4 },
      (stage) => done.push(stage),
    )
    // potentials and sweep take turns and end together
    expect(done).toEqual(stages.filter((stage) => stage !== 'solves'))
    expect(small.fosterDefect).toBeLessThan(1e-12)
    expect(small.readings).toBe(50)
    expect(small.largestRiseOhm).toBeGreaterThan(0)
    // a clock that goes on by a second each time it is asked (twice a stage), of which a quarter is computed
    expect(small.seconds.factor).toEqual([1])
    expect(small.seconds.pair).toEqual(Array.from({ length: 10 }, () => 0.01))
    expect(small.processorSeconds.factor).toEqual([0.5])
    const large = workThrough(grownSite(4, 4), { now: () => 0 })
    expect(large.joints).toBeGreaterThan(3.9 * small.joints)
  })
})
