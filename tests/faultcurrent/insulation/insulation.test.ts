import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { alarmBelowOhm, insulationSeen } from '../../../src/faultcurrent/insulation/insulationSeen.ts'
import {
  continuousResidualA,
  inverterResidualActs,
} from '../../../src/faultcurrent/insulation/inverterResidual.ts'

const sound = { mostV: 1000, poleOhm: 2e6, faultPathOhm: null, isMetalPath: true } as const

describe('insulation monitoring', () => {
  it('reads both poles of a sound array', () => {
    expect(insulationSeen(sound)).toEqual({
      readsOhm: 1e6,
      alarmBelowOhm: alarmBelowOhm(1000),
      alarms: false,
      isHidden: false,
    })
    expect(insulationSeen({ ...sound, poleOhm: Infinity }).readsOhm).toBe(Infinity)
  })

  it('alarms at a fault onto bonded metal, and at worn insulation without one', () => {
    expect(insulationSeen({ ...sound, faultPathOhm: 0.02 })).toMatchObject({ alarms: true, isHidden: false })
    expect(insulationSeen({ ...sound, faultPathOhm: 0 }).readsOhm).toBe(0)
    expect(insulationSeen({ ...sound, poleOhm: 1e4 })).toMatchObject({ alarms: true, isHidden: false })
  })

  it('sees nothing of a fault onto metal that nothing bonds', () => {
    const hidden = insulationSeen({ ...sound, faultPathOhm: Infinity, isMetalPath: false })
    expect(hidden).toEqual({ ...insulationSeen(sound), isHidden: true })
  })

  it('alarms although there is no metal path where soil leads well enough', () => {
    const bySoil = insulationSeen({ ...sound, faultPathOhm: 300, isMetalPath: false })
    expect(bySoil).toMatchObject({ alarms: true, isHidden: false })
  })

  it('never reads more with a fault than without, nor with a better path of it', () => {
    const ohm = fc.double({ min: 0, max: 1e9, noNaN: true })
    fc.assert(
      fc.property(
        ohm,
        ohm,
        fc.double({ min: 1, max: 1e9, noNaN: true }),
        fc.boolean(),
        (a, b, poleOhm, isMetalPath) => {
          const at = (faultPathOhm: number | null) =>
            insulationSeen({ mostV: 800, poleOhm, faultPathOhm, isMetalPath })
          expect(at(Math.min(a, b)).readsOhm).toBeLessThanOrEqual(at(Math.max(a, b)).readsOhm * (1 + 1e-12))
          expect(at(a).readsOhm).toBeLessThanOrEqual(at(null).readsOhm)
          expect(at(a).alarms && at(a).isHidden).toBe(false)
        },
      ),
      { seed: 61, numRuns: 300 },
    )
  })

  it('asks for an array and a fault that can be', () => {
    expect(() => insulationSeen({ ...sound, mostV: 0 })).toThrow('without volts')
    expect(() => insulationSeen({ ...sound, faultPathOhm: -1 })).toThrow('from a fault')
  })
})

describe('residual current of a running inverter', () => {
  it('has a continuous level that rises with size from 30 kVA on', () => {
    expect([continuousResidualA(5e3), continuousResidualA(30e3)]).toEqual([0.3, 0.3])
    expect(continuousResidualA(100e3)).toBeCloseTo(1, 12)
  })

  it('heeds what comes suddenly at a tenth of what creeps up', () => {
    const at = (seesA: number, isSudden: boolean) =>
      inverterResidualActs({ continuousA: 0.3, isSudden }, seesA)
    expect(at(0.03, true)).toMatchObject({ verdict: 'acts', mostS: 0.3 })
    expect(at(0.06, true)).toMatchObject({ verdict: 'acts', mostS: 0.15 })
    expect(at(0.15, true)).toMatchObject({ verdict: 'acts', mostS: 0.04 })
    expect(at(0.029, true).verdict).toBe('never')
    expect(at(0.299, false).verdict).toBe('never')
    expect(at(0.3, false)).toMatchObject({ verdict: 'acts', mostS: 0.3 })
    expect(at(10, false).mostS).toBe(0.3)
  })
})
