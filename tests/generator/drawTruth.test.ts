import { describe, expect, it } from 'vitest'
import { randomStream } from '../../src/base/random.ts'
import { pairResistance } from '../../src/network/pairResistance.ts'
import { partIndexOf } from '../../src/layout/partIndex.ts'
import { parsePartAddress } from '../../src/model/address.ts'
import { prepareNetwork } from '../../src/network/prepare.ts'
import { soundJoints } from './assumedValues.ts'
import { drawnNetwork } from './drawnNetwork.ts'
import { drawAddedOhm, drawSoilFactor, drawTruth } from './drawTruth.ts'
import { fieldDrawing } from './fieldDrawing.ts'
import { drawUuid } from './identity.ts'
import { runToEnd } from './locateIn.ts'
import { roofDrawing } from './roofDrawing.ts'

const ids = { site: drawUuid(randomStream(1)), revision: drawUuid(randomStream(2)) }
const field = drawnNetwork(fieldDrawing(ids))
const roof = drawnNetwork(roofDrawing(ids))

function logMoments(values: readonly number[]): { readonly median: number; readonly spread: number } {
  const logs = values.map(Math.log).sort((a, b) => a - b)
  const mean = logs.reduce((sum, x) => sum + x, 0) / logs.length
  const variance = logs.reduce((sum, x) => sum + (x - mean) ** 2, 0) / (logs.length - 1)
  return { median: Math.exp(logs[Math.floor(logs.length / 2)]), spread: Math.sqrt(variance) }
}

describe('ohms of sound joints', () => {
  const truth = drawTruth(field, randomStream(7))
  const edgesOf = (kind: string) =>
    Array.from(truth.ohm.keys()).filter((e) => field.kinds[field.kind[e]].id === kind)

  it.each(['frameClamp', 'bracket', 'splice', 'jumper'])('scatter about the median of a %s', (kind) => {
    const contact = edgesOf(kind).map((e) => truth.ohm[e] - field.fixedOhm[e])
    const { median, spread } = logMoments(contact)
    const { medianOhm, lnSpread } = soundJoints[kind]
    // Four standard errors of a median and of a standard deviation of normal draws.
    const n = contact.length
    expect(Math.abs(Math.log(median / medianOhm))).toBeLessThan((4 * 1.2533 * lnSpread) / Math.sqrt(n))
    expect(Math.abs(spread - lnSpread)).toBeLessThan((4 * lnSpread) / Math.sqrt(2 * n))
  })

  it('keep the metal in series with a splice', () => {
    const splices = edgesOf('splice')
    expect(splices.length).toBeGreaterThan(100)
    for (const e of splices) {
      expect(field.fixedOhm[e]).toBeGreaterThan(0)
      expect(truth.ohm[e]).toBeGreaterThan(field.fixedOhm[e])
    }
  })

  it('scatter less where metal itself is the joint', () => {
    const bodies = edgesOf('memberBody').map((e) => truth.ohm[e] / field.medianOhm[e])
    expect(logMoments(bodies).spread).toBeCloseTo(0.1, 1.5)
  })

  it('share one soil', () => {
    const paths = edgesOf('earthPath').map((e) => truth.ohm[e] / field.medianOhm[e])
    const { median, spread } = logMoments(paths)
    expect(Math.abs(Math.log(median / truth.soilFactor))).toBeLessThan(
      (4 * 1.2533 * 0.5) / Math.sqrt(paths.length),
    )
    expect(Math.abs(spread - 0.5)).toBeLessThan((4 * 0.5) / Math.sqrt(2 * paths.length))
  })

  it('are the same for the same seed and others for another', () => {
    expect(drawTruth(field, randomStream(7)).ohm).toEqual(truth.ohm)
    expect(drawTruth(field, randomStream(8)).ohm).not.toEqual(truth.ohm)
  })
})

describe('soil', () => {
  it('is at most twice as dry or as wet as stated, either way as often', () => {
    const random = randomStream(3)
    const factors = Array.from({ length: 2000 }, () => drawSoilFactor(random))
    expect(Math.min(...factors)).toBeGreaterThanOrEqual(0.5)
    expect(Math.max(...factors)).toBeLessThanOrEqual(2)
    expect(factors.filter((factor) => factor > 1).length / 2000).toBeCloseTo(0.5, 1)
  })
})

describe('a raised joint', () => {
  it.each([
    ['a small median', 0.0003, 0.001],
    ['a large median', 0.01, 0.01],
  ])('gains ohms log-uniform from 1 mΩ or its median: %s', (_, medianOhm, leastOhm) => {
    const random = randomStream(5)
    const n = 4000
    const places = Array.from(
      { length: n },
      () => Math.log(drawAddedOhm(random, medianOhm) / leastOhm) / Math.log(1000 / leastOhm),
    )
    expect(Math.min(...places)).toBeGreaterThanOrEqual(0)
    expect(Math.max(...places)).toBeLessThanOrEqual(1)
    const mean = places.reduce((sum, x) => sum + x, 0) / n
    expect(Math.abs(mean - 0.5)).toBeLessThan(4 / Math.sqrt(12 * n))
  })

  it('raises what is read through it by just that', () => {
    const sound = drawTruth(roof, randomStream(4))
    const bad = drawTruth(roof, randomStream(4), { raised: [{ joint: 'C1.4~lug', addedOhm: 0.5 }] })
    const ends = ['B1', 'R2/T1/L1.1'] as const
    expect(bad.trueResistance(...ends) - sound.trueResistance(...ends)).toBeCloseTo(0.5, 9)
    expect(bad.trueResistance('B1', 'R3/T1/L1.1')).toBeCloseTo(sound.trueResistance('B1', 'R3/T1/L1.1'), 12)
  })
})

describe('true resistance', () => {
  it('is that of the drawn network when every joint is at its median', () => {
    const prepared = runToEnd(prepareNetwork(roof))
    const truths = Array.from({ length: 400 }, (_, k) => drawTruth(roof, randomStream(k)))
    const part = (address: string) => partIndexOf(roof.index, parsePartAddress(address)!)
    const [from, to] = ['B1', 'R1/T1/L1.1']
    const medianOhm = pairResistance(prepared.solver.factor, part(from), part(to))
    const drawn = truths.map((truth) => truth.trueResistance(from, to)).sort((a, b) => a - b)
    expect(drawn[200] / medianOhm).toBeGreaterThan(0.97)
    expect(drawn[200] / medianOhm).toBeLessThan(1.05)
  })

  it('goes through soil past an open jumper, and is infinite where there is no soil either', () => {
    const ends = ['R4/T4/L1.6', 'R4/T8/L1.1'] as const
    const sound = drawTruth(field, randomStream(6)).trueResistance(...ends)
    const open = drawTruth(field, randomStream(6), { opened: ['R4/T6+T7~1'] }).trueResistance(...ends)
    expect(sound).toBeLessThan(0.03)
    expect(open).toBeGreaterThan(0.5)
    expect(open).toBeLessThan(20)
    const roofOpen = drawTruth(roof, randomStream(6), { opened: ['R2/T1+T2~1'] })
    expect(roofOpen.trueResistance('B1', 'R2/T2/L1.1')).toBe(Infinity)
    expect(roofOpen.trueResistance('B1', 'R2/T1/L1.1')).toBeLessThan(0.05)
  })

  it('refuses joints and parts that are not there', () => {
    expect(() => drawTruth(roof, randomStream(1), { opened: ['R9/T1+T2~1'] })).toThrow(
      'no joint of the network',
    )
    expect(() => drawTruth(roof, randomStream(1)).trueResistance('B1', 'R9/T1/L1.1')).toThrow('no part')
  })
})
