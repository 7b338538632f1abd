import { describe, expect, it } from 'vitest'
import { finish } from '../../src/engine/progress.ts'
import { run } from '../../src/engine/run.ts'
import { emptySiteCache } from '../../src/engine/siteCache.ts'
import { ac, ask, asked, partNumber, site } from './askFault.ts'

describe('groundVolts', () => {
  const grid = { fromM: { x: -10, y: -10 }, stepM: 5, across: 25, high: 5 }
  const ground = (more: object) =>
    finish(run('groundVolts', { ...asked, ...grid, ...more }, site, emptySiteCache()))

  it('rise round the rod that gives off current, and fall round the one that takes it', () => {
    const drive = { ...ac, source: { ...ac.source, returnPart: 'B1' } }
    const result = ground({ drive })
    if (!result.ok) throw new Error(JSON.stringify(result.error))
    const { volt, throughEarthA } = result.value
    expect(volt).toHaveLength(125)
    const at = (x: number, y: number) => volt[((y + 10) / 5) * 25 + (x + 10) / 5]
    const perMetre = (100 * throughEarthA) / (2 * Math.PI * 3)
    const from = (x: number) => perMetre * (Math.asinh(3 / Math.abs(x)) - Math.asinh(3 / Math.abs(100 - x)))
    expect(at(5, 0)).toBeCloseTo(from(5), 3)
    expect(at(50, 0)).toBeCloseTo(0, 4)
    expect(at(95, 0)).toBeCloseTo(from(95), 3)
  })

  it('are none where the current stays in metal', () => {
    const result = ground({})
    expect(result.ok && Math.max(...result.value.volt.map(Math.abs))).toBeLessThan(1e-5)
  })

  it('refuses a grid that is none or too large', () => {
    const codes = (more: object) => {
      const result = ground(more)
      return result.ok ? [] : result.error.map(({ code }) => code)
    }
    expect(codes({ across: 0, stepM: 0 })).toEqual(['value.outOfRange', 'value.outOfRange'])
    expect(codes({ across: 1000, high: 1000 })).toEqual(['size.tooMany'])
  })
})

describe('groundStand', () => {
  const drive = { ...ac, source: { ...ac.source, returnPart: 'B1' } }
  const person = { surface: null, shoeOhm: 0, isWet: false, armReachM: 1 }
  const stand = (more: object, cache = emptySiteCache()) =>
    finish(run('groundStand', { ...asked, drive, ...person, place: null, ...more }, site, cache))
  const standing = (more: object, cache = emptySiteCache()) => {
    const result = stand(more, cache)
    if (!result.ok) throw new Error(JSON.stringify(result.error))
    return result.value
  }

  it('tells volts, the steepest metre, and what stands between the ground and the metal in reach', () => {
    const { stand: there, throughEarthA } = standing({ place: { atM: { x: 1.2, y: 0 } } })
    const fault = ask({ drive })
    expect(throughEarthA).toBeCloseTo(fault.throughEarthA, 9)
    const perMetre = (100 * throughEarthA) / (2 * Math.PI * 3)
    const at = (x: number) => perMetre * (Math.asinh(3 / Math.abs(x)) - Math.asinh(3 / Math.abs(100 - x)))
    expect(there!.volt).toBeCloseTo(at(1.2), 6)
    const { step, touch } = standing({ place: { atM: { x: 4, y: 0 } } }).stand!
    expect(step.volt).toBeCloseTo(at(3) - at(4), 6)
    expect(step.toM).toEqual({ x: 4, y: 0 })
    expect(touch).toEqual([])
    const [nearest, worst] = there!.touch
    expect(nearest.distanceM).toBeCloseTo(0.7, 9)
    expect(nearest.person.prospectiveV).toBeCloseTo(Math.abs(nearest.partV - at(1.2)), 4)
    expect(nearest.partV).toBeCloseTo(fault.partV[partNumber(nearest.part)], 3)
    // the bar stands at the same place as the housings, and goes down where they go up
    expect(worst.part).toBe('B1')
    expect(worst.person.prospectiveV).toBeGreaterThan(nearest.person.prospectiveV)
    expect(worst.person.path).toBe('handToFeet')
  })

  it('beside a part is one metre from it, where the ground has fewest of its volts', () => {
    for (const besidePart of ['G1', 'G2']) {
      const { stand: there, mostStep, mostStepBeside } = standing({ place: { besidePart } })
      const rod = besidePart === 'G1' ? 0 : 100
      expect(Math.hypot(there!.atM.x - rod, there!.atM.y)).toBeCloseTo(1, 9)
      expect(there!.touch.map(({ part }) => part).includes('B1')).toBe(besidePart === 'G1')
      expect(mostStep!.volt).toBeGreaterThanOrEqual(there!.step.volt)
      expect(['G1', 'G2']).toContain(mostStepBeside)
    }
  })

  it('has no largest step where the current stays in metal, and says what rules permit for as long as it lasts', () => {
    const device = {
      id: 'mcb',
      name: '',
      form: 'circuitBreaker' as const,
      ratedA: 16,
      characteristic: 'B',
      note: '',
    }
    const drawing = { ...site.drawing, devices: [{ ...device, protects: null }] }
    const answer = finish(
      run('groundStand', { ...asked, ...person, place: null }, { ...site, drawing }, emptySiteCache()),
    )
    if (!answer.ok) throw new Error(JSON.stringify(answer.error))
    const { mostStep, stand: there, durationS, permittedSteps } = answer.value
    expect(mostStep?.volt ?? 0).toBeLessThan(1e-5)
    expect(there).toBeNull()
    expect(durationS).toBe(0.1)
    const [kg50, kg70, en] = permittedSteps
    // (1000 + 6·100)·0.116/√0.1 and with 0.157
    expect(kg50.volt).toBeCloseTo((1600 * 0.116) / Math.sqrt(0.1), 9)
    expect(kg70.volt).toBeCloseTo((1600 * 0.157) / Math.sqrt(0.1), 9)
    expect(en).toMatchObject({ volt: null, refusal: { refused: 'onlyTouch' } })
    expect(standing({}).permittedSteps[0].refusal).toEqual({ refused: 'tooLong', mostS: 3 })
  })

  it('solves a fault once for all that is asked of its ground', () => {
    const cache = emptySiteCache()
    const apart = standing({ place: { atM: { x: 3, y: 4 } } })
    ask({ drive }, cache)
    const kept = standing({ place: { atM: { x: 3, y: 4 } } }, cache)
    expect(kept).toEqual(apart)
    // another fault is not answered with the one that is kept
    const other = standing({ drive: ac, place: { atM: { x: 3, y: 4 } } }, cache)
    expect(other.throughEarthA).not.toBeCloseTo(kept.throughEarthA, 3)
    expect(ask({}, cache)).toEqual(ask({}))
  })

  it('refuses a place that is none, a part that is none, a reach of nothing', () => {
    const codes = (more: object) => {
      const result = stand(more)
      return result.ok ? [] : result.error.map(({ code }) => code)
    }
    expect(codes({ place: { atM: { x: NaN, y: 0 } }, armReachM: 0 })).toEqual([
      'value.outOfRange',
      'value.outOfRange',
    ])
    expect(codes({ place: { besidePart: 'G9' } })).toEqual(['reference.noSuchPart'])
  })
})
