import { describe, expect, it } from 'vitest'
import { randomStream } from '../../src/base/random.ts'
import { largestStep, steepestMetre } from '../../src/faultcurrent/groundSteps.ts'
import { surfaceOf } from '../../src/faultcurrent/surfaceVolts.ts'
import { runToEnd } from '../outside/barSite.ts'
import { leaksOf, type Rod } from './rods.ts'

const random = randomStream(311)
const field: Rod[] = Array.from({ length: 60 }, () => [
  40 * random.uniform(),
  25 * random.uniform(),
  1 + 2 * random.uniform(),
  random.uniform() - 0.4,
])

describe('the steepest metre from a point', () => {
  it('is steeper than any other metre from there, and tells the end with more volts first', () => {
    const surface = surfaceOf(leaksOf(field))
    for (let k = 0; k < 40; k++) {
      const at = { x: 50 * random.uniform() - 5, y: 35 * random.uniform() - 5 }
      const { volt, fromM, toM } = steepestMetre(surface, at)
      expect(Math.hypot(fromM.x - toM.x, fromM.y - toM.y)).toBeCloseTo(1, 9)
      expect([fromM, toM]).toContainEqual(at)
      expect(surface(fromM.x, fromM.y) - surface(toM.x, toM.y)).toBeCloseTo(volt, 9)
      const here = surface(at.x, at.y)
      for (let n = 0; n < 720; n++) {
        const turn = (n * Math.PI) / 360
        const there = surface(at.x + Math.cos(turn), at.y + Math.sin(turn))
        expect(Math.abs(here - there)).toBeLessThanOrEqual(volt * 1.001 + 1e-12)
      }
    }
  })
})

describe('the largest step of a site', () => {
  it('is not beaten by any step that is looked for at random', () => {
    const leaks = leaksOf(field)
    const surface = surfaceOf(leaks)
    const most = runToEnd(largestStep(leaks, surface))!
    expect(surface(most.fromM.x, most.fromM.y) - surface(most.toM.x, most.toM.y)).toBeCloseTo(most.volt, 9)
    for (let k = 0; k < 4000; k++) {
      const at = field[k % field.length]
      const near = k % 3 === 0 ? 0.008 : 3 * random.uniform()
      const [turn, other] = [6.3 * random.uniform(), 6.3 * random.uniform()]
      const [x, y] = [at[0] + near * Math.cos(turn), at[1] + near * Math.sin(turn)]
      const step = surface(x, y) - surface(x + Math.cos(other), y + Math.sin(other))
      expect(Math.abs(step)).toBeLessThanOrEqual(most.volt * 1.001)
    }
  })

  it('of some leaks begins at the edge of one of them', () => {
    const leaks = leaksOf(field)
    const surface = surfaceOf(leaks)
    const asked = [3, 7, 20]
    const most = runToEnd(largestStep(leaks, surface, (p) => asked.includes(p)))!
    const all = runToEnd(largestStep(leaks, surface))!
    const ends = [most.fromM, most.toM]
    expect(most.volt).toBeLessThanOrEqual(all.volt)
    const nearest = asked.map((p) =>
      Math.min(...ends.map(({ x, y }) => Math.hypot(x - leaks.xM[p], y - leaks.yM[p]))),
    )
    expect(Math.min(...nearest)).toBeCloseTo(leaks.radiusM[0], 9)
  })

  it('is none where nothing leaks', () => {
    const leaks = leaksOf([])
    expect(runToEnd(largestStep(leaks, surfaceOf(leaks)))).toBeNull()
  })
})
