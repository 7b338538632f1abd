import { describe, expect, it } from 'vitest'
import { beliefFrom, type Belief } from '../belief.ts'
import { leastProbability, scoreOf } from './score.ts'

const belief: Belief = {
  nothing: 0.2,
  joint: Float64Array.of(0.5, 0.1, 0.15, 0.05, 0),
  groups: [
    { edges: [0, 1], probability: 0.6 },
    { edges: [2], probability: 0.15 },
    { edges: [3], probability: 0.05 },
  ],
  callsHealthy: false,
}
const open = (edge: number) => ({ edge, addedOhm: Infinity })

describe('score of a belief', () => {
  it('charges −ln of the chance of what is wrong', () => {
    expect(scoreOf(belief, { faults: [open(2)], visible: [2] }).logScore).toBeCloseTo(-Math.log(0.15), 12)
    expect(scoreOf(belief, { faults: [], visible: [] }).logScore).toBeCloseTo(-Math.log(0.2), 12)
  })

  it('takes one of several bad joints by lot', () => {
    const { logScore, brier } = scoreOf(belief, { faults: [open(0), open(2)], visible: [0, 2] })
    expect(logScore).toBeCloseTo(-(Math.log(0.5) + Math.log(0.15)) / 2, 12)
    expect(brier).toBeCloseTo(0.2 ** 2 + 0 + 0.1 ** 2 + 0.35 ** 2 + 0.05 ** 2, 12)
  })

  it('is clipped', () => {
    expect(scoreOf(belief, { faults: [open(4)], visible: [4] }).logScore).toBe(-Math.log(leastProbability))
  })

  it('counts what cannot be seen as nothing, but as bad where it is asked for', () => {
    const score = scoreOf(belief, { faults: [open(1)], visible: [] })
    expect(score.logScore).toBeCloseTo(-Math.log(0.2), 12)
    expect([score.first, score.firstSeen]).toEqual([true, false])
  })

  it('hits by group, by the first three, and by the first joint', () => {
    const of = (edge: number) => scoreOf(belief, { faults: [open(edge)], visible: [edge] })
    expect([of(1).firstSeen, of(1).firstThreeSeen, of(1).firstLook]).toEqual([true, true, 0])
    expect([of(3).firstSeen, of(3).firstThreeSeen]).toEqual([false, true])
    expect(of(0).firstLook).toBe(1)
    expect(of(4).firstThreeSeen).toBe(false)
  })

  it('covers with the smallest set of states', () => {
    const score = scoreOf(belief, { faults: [open(3)], visible: [3] })
    // 0.6 + 0.2 + 0.15 reach 90 %, the last group is left out
    expect(score.setMass).toBeCloseTo(0.95, 12)
    expect(score.setCovers).toBe(0)
    expect(scoreOf(belief, { faults: [], visible: [] }).setCovers).toBe(1)
  })

  it('takes a group to be right when any joint of it is bad, and covers the one drawn by lot', () => {
    const { states, setCovers } = scoreOf(belief, { faults: [open(1), open(3)], visible: [1, 3] })
    expect(states).toEqual([
      [0.6, 1],
      [0.2, 0],
      [0.15, 0],
      [0.05, 1],
    ])
    expect(setCovers).toBe(0.5)
  })

  it('covers with joints that are in no group where groups do not come to 90 %', () => {
    const fewer: Belief = { ...belief, groups: belief.groups.slice(0, 1) }
    const score = scoreOf(fewer, { faults: [open(2)], visible: [2] })
    expect([score.setMass, score.setCovers]).toEqual([expect.closeTo(0.95, 12), 1])
  })

  it('charges least on average when the belief is true', () => {
    // the log score is proper: any other belief costs more under these chances
    const truth = [0.2, 0.5, 0.1, 0.15, 0.05]
    const cost = (b: Belief) =>
      truth.reduce((sum, p, k) => {
        const visible = k === 0 ? [] : [k - 1]
        return sum + p * scoreOf(b, { faults: visible.map(open), visible }).logScore
      }, 0)
    for (const shift of [-0.1, -0.04, 0.04, 0.1]) {
      expect(
        cost({ ...belief, joint: Float64Array.of(0.5 - shift, 0.1 + shift, 0.15, 0.05, 0) }),
      ).toBeGreaterThan(cost(belief))
    }
  })
})

describe('belief from weights', () => {
  it('adds up to 1 and gathers equals', () => {
    const made = beliefFrom(1, Float64Array.of(2, 0, 4, 2, 1))
    expect(made.nothing + made.joint.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 12)
    expect(made.groups.map(({ edges }) => edges)).toEqual([[2], [0, 3], [4]])
    expect(made.callsHealthy).toBe(false)
    expect(beliefFrom(5, Float64Array.of(2, 2)).callsHealthy).toBe(true)
  })

  it('keeps apart who is bad by lot and who is bad at all', () => {
    // nothing 1, the first alone 1, both together 2
    const made = beliefFrom(1, Float64Array.of(2, 1), Float64Array.of(3, 2))
    expect([...made.joint]).toEqual([0.5, 0.25])
    expect(made.groups.map(({ probability }) => probability)).toEqual([0.75, 0.5])
  })
})
