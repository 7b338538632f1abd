import { describe, expect, it } from 'vitest'
import { drawScenario, type Scenario } from '../generator/drawScenario.ts'
import { families } from '../generator/families.ts'
import { follow, mostMinutes, mostReadings } from './follow.ts'
import { halfSplitting, nearestHighest, priorOrder } from './policies.ts'
import type { Action, Policy } from './policy.ts'

/** An array with exactly one bad joint, open and on the way of the first test. */
function withOneOpen(): Scenario {
  for (let k = 0; k < 200; k++) {
    const scenario = drawScenario(families[0], 0x10000000 + 100_000 + k)
    const [fault] = scenario.faults
    if (scenario.faults.length === 1 && fault.addedOhm === Infinity) return scenario
  }
  throw new Error('no such array among the first 200')
}

describe('following a way', () => {
  const scenario = withOneOpen()

  it('by the rates alone takes one reading, and looks until the joint is met or time is over', () => {
    const { found, readings, looks, vainLooks, minutes } = follow(scenario, priorOrder())
    expect(readings).toBe(1)
    expect(vainLooks).toBe(found ? looks - 1 : looks)
    if (found) expect(minutes).toBeLessThanOrEqual(mostMinutes)
    else expect(minutes).toBeGreaterThanOrEqual(mostMinutes)
  })

  it('is the same each time', () => {
    const make = () => halfSplitting(scenario.pairs)
    expect(follow(scenario, make())).toEqual(follow(scenario, make()))
  })

  it('ends in time and counts what was in vain', () => {
    for (const policy of [halfSplitting(scenario.pairs), nearestHighest(scenario.pairs)]) {
      const run = follow(scenario, policy)
      expect(run.readings).toBeLessThanOrEqual(mostReadings)
      expect(run.vainMinutes).toBeGreaterThanOrEqual(run.vainLooks)
      expect(run.vainMinutes).toBeLessThan(run.minutes)
      // both follow the plan until something is high, and look nowhere before
      expect(run.high?.readings ?? mostReadings).toBeLessThanOrEqual(run.readings)
      if (run.looks > 0) expect(run.high).not.toBeNull()
    }
  })

  it('misses some bad joints by a look, and fewer with a wrench', () => {
    const [bad] = scenario.faults
    const joint = scenario.possible.address[bad.edge]
    const tries = Array.from({ length: 200 }, (_, k) => k)
    const share = (withTorque: boolean) => {
      const lookOnce = (): Policy => {
        const actions: Action[] = [{ do: 'look', joints: [joint], withTorque }]
        return { name: 'one look', next: () => actions.pop() ?? { do: 'leaveOff' } }
      }
      return tries.filter((k) => follow({ ...scenario, seed: k }, lookOnce()).found).length / tries.length
    }
    expect(Math.abs(share(false) - 0.8)).toBeLessThan(0.09)
    expect(Math.abs(share(true) - 0.95)).toBeLessThan(0.05)
  })

  it('knows that a look at a sound joint finds nothing', () => {
    const sound: Scenario = { ...scenario, faults: [] }
    const { found, looks, vainLooks } = follow(sound, priorOrder())
    expect(found).toBe(false)
    expect(looks).toBe(vainLooks)
  })
})
