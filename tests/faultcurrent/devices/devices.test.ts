import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { clearedWithinS, deviceActs } from '../../../src/faultcurrent/devices/deviceActs.ts'
import { disconnectionTimeS, iec60364Table } from '../../../src/faultcurrent/devices/disconnection.ts'
import { fuseGates } from '../../../src/faultcurrent/devices/fuseGates.ts'
import { groundFaultFuseA } from '../../../src/faultcurrent/devices/groundFaultFuse.ts'
import { parseResidualType } from '../../../src/faultcurrent/devices/residualCurrent.ts'
import { coveredDevices, device } from './anyDevice.ts'

const sight = { isSudden: true, insulation: null } as const
/** Amperes over the whole range of a rating: from a hundredth to a hundred times. */
const times = fc.double({ min: -2, max: 2, noNaN: true }).map((power) => 10 ** power)
const seeded = { seed: 51, numRuns: 1500 }
const order = ['never', 'mayAct', 'acts']

describe('every device that the rules cover', () => {
  it('acts the sooner the more it sees, never later than at most and never before at least', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...coveredDevices),
        times,
        times,
        fc.boolean(),
        ([one, kind], a, b, isSudden) => {
          const ratedA = one.ratedA ?? 0.3
          const at = (multiple: number) =>
            deviceActs(one, { ...sight, kind, isSudden, seesA: multiple * ratedA })
          const less = at(Math.min(a, b))
          const more = at(Math.max(a, b))
          expect(order.indexOf(less.verdict)).toBeLessThanOrEqual(order.indexOf(more.verdict))
          expect(more.mostS ?? Infinity).toBeLessThanOrEqual((less.mostS ?? Infinity) * (1 + 1e-12))
          if (less.verdict !== 'never') expect(more.leastS).toBeLessThanOrEqual(less.leastS ?? NaN)
          for (const { verdict, leastS, mostS, refusal } of [less, more]) {
            expect(refusal).toBeNull()
            expect([verdict === 'never', verdict === 'acts']).toEqual([leastS === null, mostS !== null])
            if (mostS !== null) expect(leastS).toBeLessThanOrEqual(mostS)
          }
        },
      ),
      seeded,
    )
  })

  it('never acts at nothing, and surely does at a hundred times its rating', () => {
    for (const [one, kind] of coveredDevices) {
      const at = (seesA: number) => deviceActs(one, { ...sight, kind, seesA })
      expect(at(0).verdict).toBe('never')
      expect(at((one.ratedA ?? 0.3) * 100).verdict).toBe('acts')
    }
  })

  it('keeps its own name and what it sees', () => {
    expect(deviceActs(device('fuse', 'gG', 16), { ...sight, kind: 'ac', seesA: 12.5 })).toMatchObject({
      device: 'd1',
      seesA: 12.5,
    })
  })
})

describe('the gates of gG links', () => {
  it('rise with the rating, and each link’s are in order', () => {
    const all = [...fuseGates].map(([ratedA, gates]) => [
      1.6 * ratedA,
      gates.holds10sA,
      gates.acts5sA,
      gates.holds100msA,
      gates.acts100msA,
    ])
    for (const row of all) expect(row).toEqual([...row].sort((a, b) => a - b))
    all.slice(1).forEach((row, i) => {
      row.forEach((ampere, column) => expect(ampere).toBeGreaterThan(all[i][column]))
    })
  })

  it('give a rating that the table does not have its conventional time alone', () => {
    const at = (ratedA: number) =>
      deviceActs(device('fuse', 'gG', ratedA), { ...sight, kind: 'ac', seesA: ratedA * 50 })
    expect(at(90)).toMatchObject({ mostS: 7200, leastS: 0, rule: 'fuseConventional' })
    expect(at(100)).toMatchObject({ mostS: 0.1, leastS: 0, rule: 'fuseGates' })
  })
})

describe('a device outside its rule', () => {
  it.each([
    ['a breaker on direct current', device('circuitBreaker', 'B', 16), 'dc', 'directCurrent'],
    ['a gPV link on alternating current', device('fuse', 'gPV', 15), 'ac', 'alternatingCurrent'],
    [
      'a ground-fault fuse on alternating current',
      device('groundFaultFuse', '', 1),
      'ac',
      'alternatingCurrent',
    ],
    ['a fuse of another class', device('fuse', 'aM', 16), 'ac', 'unknownCharacteristic'],
    ['a breaker of another type', device('circuitBreaker', 'K', 16), 'ac', 'unknownCharacteristic'],
    [
      'a residual-current device of no type',
      device('residualCurrent', 'A X', 0.03),
      'ac',
      'unknownCharacteristic',
    ],
    ['a fuse without a rating', device('fuse', 'gG', null), 'ac', 'noRating'],
    [
      'a monitor of insulation that reads nothing',
      device('insulationMonitor', '', null),
      'ac',
      'alternatingCurrent',
    ],
  ] as const)('%s is not covered, and has no time', (_, one, kind, refused) => {
    const answer = deviceActs(one, { ...sight, kind, seesA: 1e4 })
    expect(answer).toMatchObject({ verdict: 'notCovered', leastS: null, mostS: null, refusal: { refused } })
    expect(clearedWithinS([answer])).toBeNull()
  })
})

describe('what never acts', () => {
  it('says by which rule', () => {
    const rule = (one: Parameters<typeof deviceActs>[0], kind: 'ac' | 'dc', seesA: number) => {
      const answer = deviceActs(one, { ...sight, kind, seesA })
      expect(answer.verdict).toBe('never')
      return answer.rule
    }
    for (const type of ['AC', 'A', 'F', 'A S'])
      expect(rule(device('residualCurrent', type, 0.03), 'dc', 10)).toBe('residualBlindToDirect')
    expect(rule(device('groundFaultFuse', '', 1), 'dc', 0.8)).toBe('groundFaultBlindSpot')
    expect(rule(device('fuse', 'gPV', 15), 'dc', 11)).toBe('fusePv')
    const insulation = { readsOhm: 1e6, alarmBelowOhm: 3e4, alarms: false, isHidden: true }
    const monitor = device('insulationMonitor', '', null)
    expect(deviceActs(monitor, { kind: 'dc', seesA: 0, isSudden: true, insulation })).toMatchObject({
      verdict: 'never',
      rule: 'insulationHidden',
    })
  })

  it('a monitor that alarms has no time by which it interrupts', () => {
    const insulation = { readsOhm: 10, alarmBelowOhm: 3e4, alarms: true, isHidden: false }
    const answer = deviceActs(device('insulationMonitor', '', null), {
      kind: 'dc',
      seesA: 0,
      isSudden: true,
      insulation,
    })
    expect(answer).toMatchObject({ verdict: 'acts', mostS: null, rule: 'insulationAtStart' })
    expect(clearedWithinS([answer])).toBeNull()
  })
})

describe('the first device that surely acts', () => {
  it('ends the fault; one that only may does not', () => {
    const at = (one: Parameters<typeof deviceActs>[0], seesA: number) =>
      deviceActs(one, { ...sight, kind: 'ac', seesA })
    const slow = at(device('fuse', 'gG', 100), 300)
    const fast = at(device('residualCurrent', 'A', 0.03), 300)
    const may = at(device('circuitBreaker', 'C', 63), 80)
    expect(may.verdict).toBe('mayAct')
    expect(clearedWithinS([slow, may])).toBe(slow.mostS)
    expect(clearedWithinS([may, slow, fast])).toBe(0.04)
    expect(clearedWithinS([may])).toBeNull()
  })
})

describe('types of residual-current devices', () => {
  it('are read as they are written on them', () => {
    expect(parseResidualType(' a ')).toEqual({ sees: 'A', isSelective: false })
    expect(parseResidualType('b  s')).toEqual({ sees: 'B', isSelective: true })
    expect([parseResidualType(''), parseResidualType('AS'), parseResidualType('A S S')]).toEqual([
      null,
      null,
      null,
    ])
  })
})

describe('sizes of ground-fault fuses', () => {
  it('rise with the inverter', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 1e6, noNaN: true }),
        fc.double({ min: 0, max: 1e6, noNaN: true }),
        (a, b) => {
          expect(groundFaultFuseA(Math.min(a, b))).toBeLessThanOrEqual(groundFaultFuseA(Math.max(a, b)))
        },
      ),
      seeded,
    )
  })
})

describe('disconnection times', () => {
  const ask = { kind: 'ac', system: 'TN', phaseV: 230, ratedA: 16, isFinal: true } as const

  it('never rise with the volts, and are shorter without a metal return', () => {
    const phaseV = fc.double({ min: 50.001, max: 2000, noNaN: true })
    fc.assert(
      fc.property(phaseV, phaseV, fc.boolean(), (a, b, isFinal) => {
        const at = (v: number, system: 'TN' | 'TT') => {
          const answer = disconnectionTimeS({ ...ask, phaseV: v, system, isFinal })
          if (!answer.ok) throw new Error('refused')
          return answer.value
        }
        expect(at(Math.max(a, b), 'TN')).toBeLessThanOrEqual(at(Math.min(a, b), 'TN'))
        expect(at(a, 'TT')).toBeLessThan(at(a, 'TN'))
      }),
      seeded,
    )
  })

  it('are refused for direct current and for 50 V', () => {
    expect(disconnectionTimeS({ ...ask, kind: 'dc' })).toEqual({
      ok: false,
      error: { refused: 'directCurrent' },
    })
    expect(disconnectionTimeS({ ...ask, phaseV: 50 })).toEqual({
      ok: false,
      error: { refused: 'tooFewVolts', aboveV: 50 },
    })
  })

  it('come from another table where a site has its own', () => {
    const own = { ...iec60364Table, name: 'own', finalUpToA: 63, rows: [{ upToV: 300, TN: 0.3, TT: 0.1 }] }
    expect(disconnectionTimeS({ ...ask, ratedA: 63 }, own)).toEqual({ ok: true, value: 0.3 })
    expect(disconnectionTimeS({ ...ask, ratedA: 63 })).toEqual({ ok: true, value: 5 })
    expect(disconnectionTimeS({ ...ask, phaseV: 400 }, own)).toEqual({
      ok: false,
      error: { refused: 'tooManyVolts', mostV: 300 },
    })
  })
})
