import { describe, expect, it } from 'vitest'
import {
  breakerActs,
  instantaneousMultiples,
  largestLoopOhm,
} from '../../src/faultcurrent/devices/circuitBreaker.ts'
import { disconnectionTimeS } from '../../src/faultcurrent/devices/disconnection.ts'
import { generalFuseActs, pvFuseActs } from '../../src/faultcurrent/devices/fuse.ts'
import { groundFaultFuseA, groundFaultFuseActs } from '../../src/faultcurrent/devices/groundFaultFuse.ts'
import { residualActs } from '../../src/faultcurrent/devices/residualCurrent.ts'
import { alarmBelowOhm } from '../../src/faultcurrent/insulation/insulationSeen.ts'
import { continuousResidualA } from '../../src/faultcurrent/insulation/inverterResidual.ts'
import type { Result } from '../../src/base/result.ts'

const value = <T>(result: Result<T, unknown>): T => {
  if (!result.ok) throw new Error('refused')
  return result.value
}

/** IEC 60269-1:2006 Table 3, gG, read in two transcriptions: rating; no melting in 10 s; operated in 5 s; none in 0.1 s; in 0.1 s. */
const gates = [
  [16, 33, 65, 85, 150],
  [20, 42, 85, 110, 200],
  [25, 52, 110, 150, 260],
  [32, 75, 150, 200, 350],
  [40, 95, 190, 260, 450],
  [50, 125, 250, 350, 610],
  [63, 160, 320, 450, 820],
  [80, 215, 425, 610, 1100],
  [100, 290, 580, 820, 1450],
  [125, 355, 715, 1100, 1910],
  [160, 460, 950, 1450, 2590],
  [200, 610, 1250, 1910, 3420],
  [250, 750, 1650, 2590, 4500],
  [315, 1050, 2200, 3420, 6000],
  [400, 1420, 2840, 4500, 8060],
  [500, 1780, 3800, 6000, 10600],
  [630, 2200, 5100, 8060, 14140],
] as const

describe('gG links', () => {
  it.each(gates)('%i A: its gates', (ratedA, holds10s, acts5s, holds100ms, acts100ms) => {
    const at = (seesA: number) => generalFuseActs(ratedA, seesA)
    expect(at(holds10s).leastS).toBe(10)
    expect(at(holds10s * 1.001).leastS).toBeLessThan(10)
    expect(at(acts5s).mostS).toBeCloseTo(5, 9)
    expect(at(acts5s * 0.999).mostS).toBeGreaterThan(5)
    expect(at(holds100ms).leastS).toBe(0.1)
    expect(at(holds100ms * 1.001).leastS).toBe(0)
    expect(at(acts100ms).mostS).toBeCloseTo(0.1, 9)
    expect(at(acts100ms * 0.999).mostS).toBeGreaterThan(0.1)
  })

  it('of 1.6 to 1 tell each other apart at 0.1 s, common practice: the smaller has acted before the larger melts', () => {
    for (let i = 2; i < gates.length; i++) {
      const at = gates[i - 2][4]
      expect(generalFuseActs(gates[i - 2][0], at).mostS).toBeCloseTo(0.1, 9)
      expect(generalFuseActs(gates[i][0], at).leastS).toBeGreaterThanOrEqual(0.1)
    }
  })

  it('carry 1.25 times and interrupt 1.6 times their rating, within the conventional time (IEC 60269-1 Table 2, from memory)', () => {
    for (const [ratedA, hours] of [
      [63, 1],
      [160, 2],
      [400, 3],
      [630, 4],
    ] as const) {
      expect(generalFuseActs(ratedA, 1.25 * ratedA).verdict).toBe('never')
      expect(generalFuseActs(ratedA, 1.4 * ratedA).verdict).toBe('mayAct')
      const acts = generalFuseActs(ratedA, 1.6 * ratedA)
      expect(acts.verdict).toBe('acts')
      expect(acts.mostS).toBeCloseTo(3600 * hours, 6)
    }
  })
})

describe('gPV links, IEC 60269-6, from memory', () => {
  it('carry 1.13 times and interrupt 1.45 times their rating within an hour', () => {
    const at = (multiple: number) => value(pvFuseActs(15, multiple * 15, 'dc'))
    expect(at(1.13).verdict).toBe('never')
    expect(at(1.3).verdict).toBe('mayAct')
    expect(at(1.45)).toMatchObject({ verdict: 'acts', mostS: 3600 })
  })

  it('sized at 1.4 to 1.56 times a string’s short-circuit current, common practice, never act on that string alone', () => {
    for (const sizing of [1.4, 1.56]) expect(value(pvFuseActs(sizing * 10, 10, 'dc')).verdict).toBe('never')
  })
})

describe('circuit breakers, IEC 60898-1, read in secondary copies', () => {
  const at = (type: 'B' | 'C' | 'D', ratedA: number, multiple: number) =>
    value(breakerActs(type, ratedA, multiple * ratedA, 'ac'))

  it.each([
    ['B', 3, 5],
    ['C', 5, 10],
    ['D', 10, 20],
  ] as const)('type %s acts at once between %i and %i times its rating', (type, holds, acts) => {
    expect(instantaneousMultiples[type]).toEqual({ holds, acts })
    expect(at(type, 16, holds)).toMatchObject({ leastS: 0.1 })
    expect(at(type, 16, holds * 1.01)).toMatchObject({ leastS: 0 })
    expect(at(type, 16, acts)).toMatchObject({ verdict: 'acts', mostS: 0.1 })
    expect(at(type, 16, acts * 0.99).mostS).toBeGreaterThan(0.1)
  })

  it('carries 1.13 times for an hour and trips at 1.45 times within it, two hours above 63 A', () => {
    expect(at('C', 16, 1.13).verdict).toBe('never')
    expect(at('C', 16, 1.3).verdict).toBe('mayAct')
    expect(at('C', 16, 1.45).mostS).toBeCloseTo(3600, 6)
    expect(at('C', 80, 1.45).mostS).toBeCloseTo(7200, 6)
  })

  it('trips at 2.55 times in 1 to 60 s up to 32 A, in 1 to 120 s above', () => {
    for (const [ratedA, mostS] of [
      [32, 60],
      [40, 120],
    ] as const) {
      expect(at('B', ratedA, 2.55).leastS).toBe(1)
      expect(at('B', ratedA, 2.55).mostS).toBeCloseTo(mostS, 9)
    }
  })

  it('worked limit of a loop: 32 A type B at 230 V, 0.95·230/160 = 1.37 Ω', () => {
    const actsA = instantaneousMultiples.B.acts * 32
    const loopOhm = largestLoopOhm(230, actsA, 0.95)
    expect(loopOhm.toFixed(2)).toBe('1.37')
    // A loop within the limit makes it act at once, one a tenth above does not.
    const onLoop = (ohm: number) => value(breakerActs('B', 32, (0.95 * 230) / ohm, 'ac'))
    expect(onLoop(loopOhm * (1 - 1e-9)).mostS).toBe(0.1)
    expect(onLoop(loopOhm * 1.1).mostS).toBeGreaterThan(1)
  })
})

describe('residual-current devices, IEC 61008-1, from memory', () => {
  const general = { sees: 'A', isSelective: false } as const
  const selective = { sees: 'A', isSelective: true } as const

  it('general type: not at half, 0.3 s at once, 0.15 s at twice, 0.04 s at five times the rating', () => {
    const at = (seesA: number) => residualActs(general, 0.3, seesA, 'ac')
    expect(at(0.15).verdict).toBe('never')
    expect(at(0.2).verdict).toBe('mayAct')
    expect([at(0.3).mostS, at(0.6).mostS, at(1.5).mostS]).toEqual([0.3, 0.15, 0.04])
  })

  it('30 mA has its 40 ms proved at 0.25 A', () => {
    expect(residualActs(general, 0.03, 0.25, 'ac').mostS).toBe(0.04)
    expect(residualActs(general, 0.03, 0.2, 'ac').mostS).toBe(0.15)
  })

  it('selective type waits 0.13, 0.06 and 0.05 s, and has acted after 0.5, 0.2 and 0.15 s', () => {
    const bands = [0.3, 0.6, 1.5].map((seesA) => {
      const { leastS, mostS } = residualActs(selective, 0.3, seesA, 'ac')
      return [leastS, mostS]
    })
    expect(bands).toEqual([
      [0.13, 0.5],
      [0.06, 0.2],
      [0.05, 0.15],
    ])
  })
})

describe('the fuse in the functional earth of an array', () => {
  it('UL 1741, from memory: 1, 2, 3, 4, 5 A up to 25, 50, 100, 250 kW and above', () => {
    expect([25e3, 50e3, 100e3, 250e3, 251e3].map(groundFaultFuseA)).toEqual([1, 2, 3, 4, 5])
  })

  it('published example, read: 1 A, five strings of 5 A, 25 A at worst, cleared in less than 0.01 s: within the band', () => {
    const acts = value(groundFaultFuseActs(1, 5 * 5, 'dc'))
    expect(acts.verdict).toBe('acts')
    expect(acts.leastS).toBeLessThan(0.01)
    expect(acts.mostS).toBeGreaterThan(0.01)
  })

  it('published blind spot, read: a fault on the earthed conductor that drives less than the rating is never cleared', () => {
    const blind = value(groundFaultFuseActs(1, 0.9, 'dc'))
    expect(blind).toMatchObject({ verdict: 'never', rule: 'groundFaultBlindSpot' })
  })
})

describe('IEC 60364-4-41:2005 Table 41.1, final circuits of at most 32 A, read in a national edition', () => {
  it.each([
    [120, 0.8, 0.3],
    [121, 0.4, 0.2],
    [230, 0.4, 0.2],
    [400, 0.2, 0.07],
    [690, 0.1, 0.04],
  ])('%i V to earth: TN %f s, TT %f s', (phaseV, tn, tt) => {
    const at = (system: 'TN' | 'TT', more = {}) =>
      value(disconnectionTimeS({ kind: 'ac', system, phaseV, ratedA: 32, isFinal: true, ...more }))
    expect([at('TN'), at('TT')]).toEqual([tn, tt])
    expect([at('TN', { isFinal: false }), at('TT', { ratedA: 63 })]).toEqual([5, 1])
  })
})

describe('IEC 62109-2:2011, from memory', () => {
  it('insulation below greatest volts / 30 mA is not started: 33.3 kΩ at 1000 V', () => {
    expect(alarmBelowOhm(1000).toFixed(0)).toBe('33333')
  })

  it('continuous residual current: 300 mA to 30 kVA, 10 mA per kVA above', () => {
    expect(continuousResidualA(30e3)).toBe(0.3)
    expect(continuousResidualA(60e3)).toBeCloseTo(0.6, 12)
  })
})
