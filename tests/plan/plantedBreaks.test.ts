import { beforeAll, describe, expect, it } from 'vitest'
import type { PlanAnswer } from '../../src/model/planning.ts'
import { longLead, twoWireKit } from '../generator/testKits.ts'
import { largeDrawing } from '../bench/locate/largeField.ts'
import { benchSite } from '../bench/plan/benchSites.ts'
import { readOrder, showableJoints } from '../bench/plan/hitRates.ts'
import { openSite, proposed, type Measured } from '../bench/plan/measurePlan.ts'
import { rankAfterReading, type ReadOrder } from '../bench/plan/readAndRank.ts'

/*
 * What a plan is for: whichever joint that can be seen is open, the readings of the plan put its group first. Every break of
 * two rows of two tables of the demo field is planted in turn; on the field itself some. All of the field: npm run bench:plan.
 */
interface Planned {
  readonly measured: Measured
  readonly answer: PlanAnswer
  readonly joints: readonly string[]
  readonly order: ReadOrder
}

function planned(measured: Measured): Planned {
  const { answer } = proposed(measured, 'telling')
  return {
    measured,
    answer,
    joints: showableJoints(measured, answer.coverage),
    order: readOrder(measured, answer.pairs),
  }
}

describe('on two rows of two tables', () => {
  let small: Planned

  beforeAll(() => {
    const { site } = benchSite('field, A')
    const drawing = largeDrawing(2, 2)
    small = planned(openSite({ name: 'small', site: { ...site, drawing }, kit: twoWireKit, lead: longLead }))
  }, 120_000)

  it('the plan shows all that can be seen, and tells it apart', () => {
    const { counts, toldApart } = small.answer.coverage
    // a bracket at each of 32 posts, a jumper in either row, lugs and clamps of the one conductor
    expect(small.joints.length).toBeGreaterThanOrEqual(34)
    expect(counts.addPair).toBe(0)
    expect(toldApart).toBe(small.joints.length)
  })

  it('without noise every break is ranked first', () => {
    const missed = small.joints.filter(
      (joint) => rankAfterReading(small.order, joint, 1, { noise: 'none' }) !== 1,
    )
    expect(missed).toEqual([])
  }, 120_000)

  it('with noise and a poor contact in one reading of twenty nine in ten are', () => {
    const trials = [100, 500].flatMap((seed) =>
      small.joints.map((joint, k) =>
        rankAfterReading(small.order, joint, seed + k, { noise: 'share', poor: 0.05 }),
      ),
    )
    const first = trials.filter((rank) => rank === 1).length
    expect(first / trials.length).toBeGreaterThanOrEqual(0.9)
  }, 120_000)
})

describe('on the demo field', () => {
  let field: Planned

  beforeAll(() => {
    field = planned(openSite(benchSite('field, A')))
  }, 120_000)

  it('a jumper far out on a row is ranked first, without noise and with poor contacts', () => {
    const joint = 'R4/T6+T7~1'
    expect(field.joints).toContain(joint)
    expect(rankAfterReading(field.order, joint, 1, { noise: 'none' })).toBe(1)
    expect(rankAfterReading(field.order, joint, 11, { noise: 'share', poor: 0.05 })).toBe(1)
  }, 300_000)
})
