import { describe, expect, it } from 'vitest'
import { randomStream } from '../../../../../src/base/random.ts'
import type { Fault } from '../../generator/drawOhms.ts'
import { addSetMasses, type SetProblem } from './setSampler.ts'

/*
 * A toy: five joints, each open or raised to one of two levels, up to three bad ones, and readings whose chance
 * depends on the set in a way that no product over joints has.
 */
const levels = [
  { addedOhm: 1, prior: 0.3 },
  { addedOhm: 10, prior: 0.2 },
  { addedOhm: Infinity, prior: 0.5 },
]
const shares = Float64Array.of(0.1, 0.3, 0.25, 0.2, 0.15)
const countPrior = [0.3, 0.7 / 3, 0.7 / 3, 0.7 / 3]

function likelihood(faults: readonly Fault[]): number {
  const size = (fault: Fault) => (fault.addedOhm === Infinity ? 3 : Math.log(fault.addedOhm))
  const sum = faults.reduce((total, fault) => total + size(fault) * (1 + fault.edge), 0)
  const pair = faults.some(({ edge }) => edge === 1) && faults.some(({ edge }) => edge === 3)
  return Math.exp(-0.5 * ((sum - 8) / 3) ** 2) + (pair ? 4 : 0) + 0.01
}

/** Mass of nothing and of each joint, shared among the bad ones, by going over all ordered sets and levels. */
function exact(): { nothing: number; joint: number[] } {
  const joint = [0, 0, 0, 0, 0]
  const nothing = countPrior[0] * likelihood([])
  const extend = (faults: readonly Fault[], prior: number, left: number) => {
    for (const [edge, share] of shares.entries()) {
      if (faults.some((fault) => fault.edge === edge)) continue
      for (const level of levels) {
        const set = [...faults, { edge, addedOhm: level.addedOhm }]
        const mass = (prior * share * level.prior) / left
        for (const fault of set)
          joint[fault.edge] += (countPrior[set.length] * mass * likelihood(set)) / set.length
        if (set.length < 3) extend(set, mass, left - share)
      }
    }
  }
  extend([], 1, 1)
  return { nothing, joint }
}

function sampled(draws: number, seed: number) {
  let nothing = 0
  const joint = [0, 0, 0, 0, 0]
  const problem: SetProblem = {
    countPrior,
    shares,
    severitiesOf: () => levels.map(({ addedOhm, prior }) => ({ addedOhm, weight: prior * levels.length })),
    likelihood,
    count(faults, mass) {
      if (faults.length === 0) nothing += mass
      for (const { edge } of faults) joint[edge] += mass / faults.length
    },
  }
  addSetMasses(problem, { setDraws: draws, followed: 2 }, randomStream(seed))
  return { nothing, joint }
}

describe('masses of sets of bad joints', () => {
  const truth = exact()

  it('are those of going over all sets', () => {
    const { nothing, joint } = sampled(60_000, 1)
    expect(nothing).toBeCloseTo(truth.nothing, 12)
    joint.forEach((mass, e) => {
      expect(mass / truth.joint[e]).toBeGreaterThan(0.97)
      expect(mass / truth.joint[e]).toBeLessThan(1.03)
    })
  })

  it('have no bias with few draws', () => {
    const runs = Array.from({ length: 300 }, (_, k) => sampled(60, 10 + k).joint)
    for (const [e, mass] of truth.joint.entries()) {
      const values = runs.map((run) => run[e])
      const mean = values.reduce((a, b) => a + b, 0) / values.length
      const sd = Math.sqrt(values.reduce((sum, x) => sum + (x - mean) ** 2, 0) / (values.length - 1))
      expect(Math.abs(mean - mass)).toBeLessThan(3.3 * (sd / Math.sqrt(values.length)))
    }
  })
})
