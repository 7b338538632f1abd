import { describe, expect, it } from 'vitest'
import type { FaultDrive, FaultInput } from '../../src/model/faultAnswers.ts'
import { finish } from '../../src/engine/progress.ts'
import { run } from '../../src/engine/run.ts'
import { emptySiteCache } from '../../src/engine/siteCache.ts'
import { string } from '../faultcurrent/circuitOf.ts'
import { ac, ask, asked, jointNumber, partNumber, problemsOf, site } from './askFault.ts'

describe('faultCurrent', () => {
  it('an a.c. fault between two enclosures returns in metal: two joints in parallel, one in series', () => {
    const answer = ask({})
    const amp = 230 / (0.4 + 0.25 + 0.2 + 0.05)
    expect(answer.faultA).toBeCloseTo(amp, 9)
    expect(answer.networkOhm).toBeCloseTo(0.25, 12)
    expect(answer.currentA[jointNumber('J1')]).toBeCloseTo(-amp / 2, 4)
    expect(answer.currentA[jointNumber('J3')]).toBeCloseTo(-amp, 4)
    expect(answer.throughEarthA).toBeLessThan(1e-6)
    expect(answer.limitedBy).toBe('resistance')
    expect(answer.capacitance).toBeNull()
    expect(answer.partV[partNumber('E4')]).toBe(0)
  })

  it('without a return in metal it goes through soil', () => {
    const answer = ask({ drive: { ...ac, source: { ...ac.source, returnPart: 'B1' } } })
    expect(answer.voltsTo).toBe('remoteEarth')
    expect(answer.throughEarthA).toBeCloseTo(answer.faultA, 6)
    // 10 Ω and 20 Ω far apart: what they have in common is 100 Ω·m/(2π · 100 m), twice
    const ohm = 0.4 + 0.25 + 0.1 + 0.05 + 30 - (2 * 100) / (2 * Math.PI * 100)
    expect(answer.faultA).toBeCloseTo(230 / ohm, 2)
  })

  it('a joint is opened or raised in the question alone', () => {
    const cache = emptySiteCache()
    const sound = ask({}, cache)
    const open = ask({ altered: [{ joint: 'J1', ohm: null }] }, cache)
    expect(open.networkOhm).toBeCloseTo(0.3, 12)
    expect(open.currentA[jointNumber('J1')]).toBe(0)
    expect(open.currentA[jointNumber('J2')]).toBeCloseTo(-230 / 0.95, 4)
    expect(open.currentA).toHaveLength(sound.currentA.length)
    const raised = ask({ altered: [{ joint: 'J3', ohm: 10 }] }, cache)
    expect(raised.networkOhm).toBeCloseTo(10.05, 10)
    expect(ask({}, cache)).toEqual(sound)
  })

  it('losing the only way leaves the part at the volts of the source', () => {
    const answer = ask({
      altered: [{ joint: 'J3', ohm: null }],
      drive: { ...ac, source: { ...ac.source, returnPart: 'E1' } },
    })
    expect(answer.limitedBy).toBe('noPath')
    expect(answer.faultA).toBeLessThan(1e-9)
    expect(answer.networkOhm).toBe(Infinity)
    expect(answer.faultV - answer.partV[partNumber('E1')]).toBeCloseTo(230, 4)
  })

  it('tells volts to the reference where no soil joins it to remote earth', () => {
    const altered = [{ joint: 'J5', ohm: null }]
    expect(ask({ altered }).voltsTo).toBe('reference')
  })

  it('a string drives its current through what bonds the part', () => {
    const answer = ask({ drive: { ...string, earthedAt: 'E1', capacitanceF: 1e-6 } })
    expect(answer.faultA).toBeCloseTo(10, 2)
    expect(answer.limitedBy).toBe('sourceCurrent')
    expect(answer.openV).toBeCloseTo(400, 6)
    expect(answer.capacitance!.joule).toBeCloseTo(0.08, 6)
    expect(answer.ports.map(({ role, part }) => `${role} ${part}`)).toEqual(['fault E3', 'earthing E1'])
    expect(answer.ports[0].currentA + answer.ports[1].currentA).toBeCloseTo(0, 12)
  })

  it('says everything that is wrong with a question', () => {
    expect(problemsOf({ at: 'E9' }).map(({ code }) => code)).toEqual(['reference.noSuchPart'])
    const drive = {
      ...string,
      moduleFromNegative: 11,
      earthingOhm: -1,
      light: 0,
      second: { part: 'nowhere', moduleFromNegative: 2, sameString: false },
    }
    expect(problemsOf({ drive }).map(({ code }) => code)).toEqual([
      'value.outOfRange',
      'value.outOfRange',
      'value.outOfRange',
      'value.outOfRange',
      'reference.badAddress',
    ])
    const altered = [
      { joint: 'J9', ohm: null },
      { joint: 'J1', ohm: -1 },
    ]
    expect(problemsOf({ altered }).map(({ code }) => code)).toEqual([
      'reference.noSuchJoint',
      'value.outOfRange',
    ])
  })
})

describe('faultSweep', () => {
  const sweep = (drive: FaultDrive) => {
    const input = { ...asked, drive, watched: [{ from: 'E3', to: 'E1' }] }
    const result = finish(run('faultSweep', input, site, emptySiteCache()))
    if (!result.ok) throw new Error(JSON.stringify(result.error))
    return result.value
  }

  it('a pair of joints in parallel stands in for each other; the one in series is all there is', () => {
    const answer = sweep(ac)
    const amp = 230 / 0.9
    expect(answer.soundA).toBeCloseTo(amp, 9)
    expect(answer.stops).toBe(1)
    expect(answer.leftA[jointNumber('J1')]).toBeCloseTo(230 / 0.95, 3)
    // the joint that is left carries all of it
    expect(answer.acrossV[jointNumber('J1')]).toBeCloseTo((0.1 * 230) / 0.95, 3)
    expect(answer.leftA[jointNumber('J3')]).toBe(0)
    expect(answer.worst[0]).toMatchObject({ joint: 'J3', leftA: 0 })
    expect(answer.worst[0].acrossV).toBeCloseTo(230, 6)
    expect(answer.watched[0]).toMatchObject({ from: 'E3', to: 'E1', joint: 'J3' })
    expect(answer.watched[0].soundV).toBeCloseTo(0.25 * amp, 8)
    expect(answer.watched[0].mostV).toBeCloseTo(230, 6)
  })

  it('a joint off the way changes nothing', () => {
    const answer = sweep({ ...string, earthedAt: 'E1' })
    expect(answer.acrossV[jointNumber('J4')]).toBe(0)
    expect(answer.leftA[jointNumber('J4')]).toBeCloseTo(10, 2)
    expect(answer.acrossV[jointNumber('J3')]).toBeCloseTo(400, 3)
  })

  it('pauses in every stage of the work', () => {
    const cache = emptySiteCache()
    const job = run('faultSweep', { ...asked, watched: [] }, site, cache)
    const stages = new Set<string>()
    for (let step = job.next(); !step.done; step = job.next()) stages.add(step.value.stage)
    expect([...stages]).toEqual(['index', 'compile', 'prepare', 'currents', 'losses'])
  })
})

describe('who notices, and who touches', () => {
  const device = { name: '', ratedA: null, note: '', characteristic: '' }
  const drawn = {
    ...site,
    drawing: {
      ...site.drawing,
      sources: [string.source, ac.source],
      devices: [
        {
          ...device,
          id: 'stringFuse',
          form: 'fuse' as const,
          characteristic: 'gPV',
          ratedA: 20,
          protects: 'string',
        },
        { ...device, id: 'earthFuse', form: 'groundFaultFuse' as const, ratedA: 3, protects: 'string' },
        { ...device, id: 'monitor', form: 'insulationMonitor' as const, protects: 'string' },
        {
          ...device,
          id: 'breaker',
          form: 'circuitBreaker' as const,
          characteristic: 'B',
          ratedA: 16,
          protects: 'mains',
        },
      ],
    },
  }
  const person = {
    hand: 'E3',
    other: 'E1',
    surface: null,
    shoeOhm: 0,
    isWet: false,
    armReachM: 1,
  }
  const askDrawn = (input: Partial<FaultInput>) => {
    const result = finish(run('faultCurrent', { ...asked, ...input }, drawn, emptySiteCache()))
    if (!result.ok) throw new Error(JSON.stringify(result.error))
    return result.value
  }
  const many = { ...string, earthedAt: 'E1', source: { ...string.source, stringsInParallel: 8 } }

  it('only the devices of this source are asked, each for the amperes before it', () => {
    const { devices, insulation, ports } = askDrawn({ drive: { ...many, moduleFromNegative: 6 } })
    expect(devices.map((d) => d.device)).toEqual(['stringFuse', 'earthFuse', 'monitor'])
    // pushed back through four modules by seven strings
    expect(devices[0].seesA).toBeGreaterThan(60)
    expect(devices[1].seesA).toBeCloseTo(Math.abs(ports[1].currentA), 9)
    expect(devices[1].verdict).toBe('acts')
    expect(insulation).toBeNull()
    expect(askDrawn({}).devices.map(({ device: id, verdict }) => `${id} ${verdict}`)).toEqual([
      'breaker acts',
    ])
  })

  it('a raised bond on alternating current delays the breaker, and leaves the volts to touch', () => {
    const sound = askDrawn({ person })
    const raised = askDrawn({ person, altered: [{ joint: 'J3', ohm: 6 }] })
    expect(raised.faultA).toBeLessThan(sound.faultA / 4)
    expect(raised.devices[0].mostS!).toBeGreaterThan(sound.devices[0].mostS!)
    expect(raised.person!.prospectiveV).toBeGreaterThan(3 * sound.person!.prospectiveV)
    expect(raised.person!.durationS).toBe(raised.devices[0].mostS)
  })

  it('a missing bond on a string leaves the part at the volts of the fault point, behind hardly an ohm', () => {
    const altered = [{ joint: 'J3', ohm: null }]
    const answer = askDrawn({ drive: { ...many, moduleFromNegative: 10 }, altered, person })
    expect(answer.limitedBy).toBe('noPath')
    expect(answer.person).toMatchObject({ path: 'handToHand', durationS: null })
    expect(answer.person!.prospectiveV).toBeCloseTo(400, 3)
    expect(answer.person!.currents[1].currentA).toBeGreaterThan(0.3)
    expect(askDrawn({ drive: many, person }).person!.prospectiveV).toBeLessThan(30)
  })

  it('insulation monitoring sees a bonded fault, and not one on metal that nothing bonds', () => {
    const source = { ...string.source, referencing: 'floating' as const }
    const drive = { ...string, source, earthedAt: 'E1', insulationOhm: 2e6 }
    const bonded = askDrawn({ drive })
    expect(bonded.insulation).toMatchObject({ alarms: true, isHidden: false })
    expect(bonded.devices[2]).toMatchObject({ device: 'monitor', verdict: 'acts' })
    const hidden = askDrawn({
      drive,
      altered: [
        { joint: 'J3', ohm: null },
        { joint: 'J5', ohm: null },
      ],
    })
    expect(hidden.insulation).toMatchObject({ alarms: false, isHidden: true, readsOhm: 1e6 })
    expect(hidden.devices[2].verdict).toBe('never')
  })

  it('hand to feet stands on the soil of the site, and every wrong number is told', () => {
    const feet = askDrawn({
      person: { ...person, other: null },
      drive: { ...ac, source: { ...ac.source, returnPart: 'B1' } },
    })
    expect(feet.person!.path).toBe('handToFeet')
    expect(feet.person!.seriesOhm).toBeGreaterThan(feet.person!.ohmBetween + 100)
    const wrong = { ...person, hand: 'E9', shoeOhm: -1, armReachM: 0, surface: { ohmM: 0, thicknessM: -1 } }
    expect(problemsOf({ person: wrong })).toHaveLength(5)
    expect(problemsOf({ person: { ...person, other: 'E3' } }).map(({ code }) => code)).toEqual([
      'reference.samePart',
    ])
  })
})
