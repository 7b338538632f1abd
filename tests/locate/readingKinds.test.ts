import { describe, expect, it } from 'vitest'
import { present } from '../../src/base/assert.ts'
import {
  describeMeasurement,
  evidenceWorkspace,
  judge,
  prepareLevel,
  type Judgement,
} from '../../src/locate/evidence.ts'
import { soundShift } from '../../src/locate/hypothesis.ts'
import { modelLevels } from '../../src/locate/levels.ts'
import { emptyLocateCache } from '../../src/locate/locateCache.ts'
import { observe, type Observation } from '../../src/locate/observations.ts'
import type { EntryOf } from '../../src/model/schema/record.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { pairResistance } from '../../src/network/pairResistance.ts'
import type { PreparedNetwork } from '../../src/network/prepare.ts'
import { assumptions } from '../../src/reading/assumptions.ts'
import { digitsSdOhm } from '../../src/reading/kitError.ts'
import { predictPair } from '../../src/reading/pairPrediction.ts'
import { shownOhm } from '../../src/reading/shownOhm.ts'
import { finish, kitA, kitB, partOf, prepare, rowSite, withReadings, type Taken } from './rowSite.ts'

type Reading = EntryOf<'reading'>

const pair = { from: 'R1/T1/L1.3', to: 'R1/T3/L1.3' }

/** The two rows with these readings, each changed by what stands beside it. */
function siteWith(taken: readonly (Taken & { readonly as?: Partial<Reading> })[], site = rowSite()): Site {
  const read = withReadings(site, taken)
  let k = 0
  const record = read.record.map((entry) =>
    entry.entry === 'reading' ? { ...entry, ...taken[k++].as } : entry,
  )
  return { ...read, record }
}

function only(site: Site, prepared = prepare(site)): Observation {
  const { observations } = observe(site, prepared.network)
  expect(observations).toHaveLength(1)
  return observations[0]
}

/** What a sound array makes of the readings, at every soil level. */
function soundJudgements(site: Site, prepared: PreparedNetwork) {
  const observed = observe(site, prepared.network)
  const { observations } = observed
  const measurement = describeMeasurement(observations, observed.intervals)
  const { levels: models } = finish(
    modelLevels(prepared, observations, measurement.ownSdOhm, 2, emptyLocateCache()),
  )
  return models.map((model, at): { lnSoil: number; judged: Judgement } => {
    const level = prepareLevel(model, measurement)
    const shift = soundShift(models, at, observations.length)
    const work = evidenceWorkspace(level.finite.length)
    return { lnSoil: model.lnSoil, judged: judge(level, measurement, shift, work, { quick: false }) }
  })
}

function atStatedSoil(site: Site, prepared = prepare(site)): Judgement {
  const stated = soundJudgements(site, prepared).find(({ lnSoil }) => lnSoil === 0)
  return present(stated, 'one level is that of the stated soil').judged
}

describe('the value that a reading is counted with', () => {
  const plain = { result: { form: 'ohm', ohm: 0.13 }, reverseOhm: null, unsteady: null } as const

  it('is what was shown, where nothing else was noted', () => {
    expect(shownOhm(plain, kitA)).toEqual({ ohm: 0.13, digitsSdOhm: digitsSdOhm(kitA), extraSdOhm: 0 })
  })

  it('is the mean of both directions, with half their difference as its own spread', () => {
    const { ohm, digitsSdOhm: digits, extraSdOhm } = shownOhm({ ...plain, reverseOhm: 0.19 }, kitA)
    expect(ohm).toBeCloseTo(0.16, 12)
    expect(digits ** 2).toBeCloseTo(digitsSdOhm(kitA) ** 2 / 2, 15)
    expect(extraSdOhm).toBeCloseTo(0.03, 12)
    expect(shownOhm({ ...plain, reverseOhm: 0.13 }, kitA).extraSdOhm).toBe(0)
  })

  it('is the less certain the more the display wandered', () => {
    const unsteady = { leastOhm: 0.1, mostOhm: 0.22 }
    expect(shownOhm({ ...plain, unsteady }, kitA).extraSdOhm).toBeCloseTo(0.12 / Math.sqrt(12), 12)
    const both = shownOhm({ ...plain, unsteady, reverseOhm: 0.23 }, kitA).extraSdOhm
    expect(both).toBeCloseTo(Math.hypot(0.12 / Math.sqrt(12), 0.05), 12)
  })

  it('stays over range, whatever the other direction showed', () => {
    const over = { ...plain, result: { form: 'over', atLeastOhm: 2000 }, reverseOhm: 0.5 } as const
    expect(shownOhm(over, kitA).ohm).toBeNull()
  })

  it('goes into the own spread of the observation, and so into the chance of what it read', () => {
    const site = siteWith([{ ...pair, ohm: 0.09, as: { reverseOhm: 0.03 } }])
    const observation = only(site)
    expect(observation.ohm).toBeCloseTo(0.06, 12)
    const [own] = describeMeasurement([observation], observe(site, prepare(site).network).intervals).ownSdOhm
    expect(own).toBeGreaterThan(0.03)
    const steady = only(siteWith([{ ...pair, ohm: 0.06 }]))
    const contact = Math.sqrt(own ** 2 - observation.digitsSdOhm ** 2 - 0.03 ** 2)
    const intervals = observe(site, prepare(site).network).intervals
    const [ownSteady] = describeMeasurement([steady], intervals).ownSdOhm
    expect(ownSteady).toBeCloseTo(Math.hypot(contact, digitsSdOhm(kitA)), 12)
  })

  it('says less against a sound array when it did not hold still', () => {
    const far = 0.6
    const wandering = { unsteady: { leastOhm: 0.1, mostOhm: 1.1 } }
    const logOf = (as: Partial<Reading>) => {
      const site = siteWith([
        { ...pair, ohm: 0.05 },
        { ...pair, ohm: far, as },
      ])
      return atStatedSoil(site)
    }
    expect(logOf(wandering).spoiledProbability[1]).toBeLessThan(logOf({}).spoiledProbability[1])
  })
})

describe('where and how a reading was taken', () => {
  const onBoltHead = { part: pair.to, spot: 'boltHead', surface: 'bare' } as const

  it('on a bolt head makes it likelier to be too low', () => {
    expect(only(siteWith([{ ...pair, ohm: 0.05 }])).falseLowRate).toBe(assumptions.falseLow)
    expect(only(siteWith([{ ...pair, ohm: 0.05, as: { to: onBoltHead } }])).falseLowRate).toBe(0.1)
    expect(
      only(siteWith([{ ...pair, ohm: 0.05, as: { from: { ...onBoltHead, part: pair.from } } }])).falseLowRate,
    ).toBe(0.1)
    const low = (as: Partial<Reading>) => {
      const far = { from: 'R1/T1/L1.3', to: 'R1/T6/L1.3' }
      const site = siteWith([{ ...far, ohm: 0.0001, kit: 'b', as }])
      return atStatedSoil(site)
    }
    expect(low({ to: { ...onBoltHead, part: 'R1/T6/L1.3' } }).spoiledProbability[0]).toBeGreaterThan(
      low({}).spoiledProbability[0],
    )
  })

  it('with less current than asked for makes a poor contact likelier, up to a limit', () => {
    const rateOf = (as: Partial<Reading>, kit: 'a' | 'b' = 'a', surface: 'bare' | 'coated' = 'bare') =>
      only(siteWith([{ ...pair, ohm: 0.05, kit, surface, as }]))
    expect(kitA.testCurrentA).toBe(0.2)
    expect(kitB.testCurrentA).toBe(10)
    expect(rateOf({ testCurrentA: 0.2 })).toMatchObject({ lowCurrent: false, poorRate: 0.03 })
    expect(rateOf({ testCurrentA: null })).toMatchObject({ lowCurrent: false, poorRate: 0.03 })
    expect(rateOf({ testCurrentA: 0.09 })).toMatchObject({ lowCurrent: true, poorRate: 0.06 })
    expect(rateOf({ testCurrentA: 0.09 }, 'a', 'coated')).toMatchObject({ lowCurrent: true, poorRate: 0.4 })
    expect(rateOf({ testCurrentA: 4.9 }, 'b')).toMatchObject({ lowCurrent: true, poorRate: 0.02 })
    expect(rateOf({ testCurrentA: 5 }, 'b')).toMatchObject({ lowCurrent: false, poorRate: 0.01 })
  })

  it('with an instrument of little current counts as low once the reading says so', () => {
    const weak = { ...kitA, testCurrentA: 0.1 }
    const withWeakKit = (testCurrentA: number | null) => {
      const site = siteWith([{ ...pair, ohm: 0.05, as: { testCurrentA } }])
      const record = site.record.map((entry) =>
        entry.entry === 'visit' ? { ...entry, kits: [weak] } : entry,
      )
      return only({ ...site, record }).lowCurrent
    }
    expect(withWeakKit(null)).toBe(false)
    expect(withWeakKit(0.1)).toBe(true)
  })
})

describe('an electrode test', () => {
  const toEarth = (part: string, ohm: number): Taken & { readonly as: Partial<Reading> } => ({
    from: part,
    to: 'earth',
    ohm,
    kit: 'b',
    as: { method: 'earthElectrode' },
  })

  it('is an observation between the part and remote earth, without contact or lead', () => {
    const site = siteWith([toEarth('G1', 12)])
    const prepared = prepare(site)
    const { network } = prepared
    expect(only(site, prepared)).toMatchObject({
      method: 'earthElectrode',
      a: partOf(prepared, 'G1'),
      b: network.remoteEarth,
      hasContact: false,
      interval: -1,
      poorRate: assumptions.contact.poorFourWire,
    })
    const { expectedOhm } = finish(predictPair(prepared, partOf(prepared, 'G1'), network.remoteEarth))
    expect(atStatedSoil(site, prepared).predictedOhm[0]).toBeCloseTo(expectedOhm, 6)
    expect(expectedOhm).toBeGreaterThan(1)
  })

  it('tells which soil level the site is at', () => {
    const prepared = prepare(rowSite())
    const { solver, network } = prepared
    const computed = pairResistance(solver.factor, partOf(prepared, 'G1'), network.remoteEarth)
    for (const lnSoil of [-0.8, 0, 0.8, 1.6]) {
      const site = siteWith([toEarth('G1', 1.03 * computed * Math.exp(lnSoil))])
      const levels = soundJudgements(site, prepared)
      const best = levels.reduce((a, b) => (b.judged.logEvidence > a.judged.logEvidence ? b : a))
      expect(best.lnSoil).toBeCloseTo(lnSoil, 12)
    }
  })

  it('needs no test current that gets through films', () => {
    const site = siteWith([toEarth('G1', 12)])
    const record = site.record.map((entry) =>
      entry.entry === 'visit' ? { ...entry, kits: [{ ...kitB, testCurrentA: 0.001 }] } : entry,
    )
    expect(only({ ...site, record }).lowCurrent).toBe(false)
  })

  it('is set aside where the drawing has no earth path, or no such part', () => {
    const bare = rowSite((drawing) => ({
      ...drawing,
      electrodes: [],
      conductors: drawing.conductors.map((c) => ({ ...c, points: c.points.slice(1) })),
      tableTypes: drawing.tableTypes.map((type) =>
        type.posts ? { ...type, posts: { ...type.posts, soil: null } } : type,
      ),
    }))
    const reasonOf = (site: Site) => observe(site, prepare(site).network).readings.map((r) => r.setAside)
    expect(reasonOf(siteWith([toEarth('R1/T1/L1.3', 12)], bare))).toEqual(['electrodeTest'])
    expect(reasonOf(siteWith([toEarth('R7/T1/L1.3', 12)]))).toEqual(['noSuchPart'])
    expect(reasonOf(siteWith([toEarth('R1/T1/L1.3', 12)]))).toEqual([null])
  })
})
