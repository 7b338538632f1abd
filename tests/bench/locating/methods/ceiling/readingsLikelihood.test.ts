import { describe, expect, it } from 'vitest'
import { randomStream } from '../../../../../src/base/random.ts'
import { drawContact } from '../../../../generator/drawContact.ts'
import { drawInstrument } from '../../../../generator/instrument.ts'
import { twoWireKit } from '../../../../generator/testKits.ts'
import { drawSoundOhms } from '../../generator/drawOhms.ts'
import { drawScenario } from '../../generator/drawScenario.ts'
import { families } from '../../generator/families.ts'
import { nodeOf, solveOhms } from '../../generator/solveOhms.ts'
import { readingsLikelihood, recordedReadings } from './readingsLikelihood.ts'
import { networkOf } from './sampledNetwork.ts'
import { shownChance } from './shownChance.ts'

describe('chances of what a display shows', () => {
  const networkOhm = 0.23
  const spots = [
    { part: 'B1', spot: 'stud', surface: 'bare' },
    { part: 'R1/T1/F1.1', spot: 'face', surface: 'coated' },
  ] as const
  const random = randomStream(4)
  // a gain of 1 exactly: the chances know the gain from outside
  const kit = { ...twoWireKit, gainError: 0 }
  const shown = Array.from({ length: 60_000 }, () =>
    drawInstrument(kit, random).read(networkOhm + drawContact('twoWire', spots, false, random)),
  )
  const chance = shownChance({ ...kit, id: 'exact' }, 0.2)
  const rate = (isHit: (ohm: number) => boolean) =>
    shown.filter((each) => isHit(each.form === 'over' ? Infinity : each.ohm)).length / shown.length

  it('are those of the generator, cell by cell', () => {
    for (const ohm of [0.2, 0.22, 0.24, 0.26, 0.28, 0.3, 0.4]) {
      const frequency = rate((each) => Math.abs(each - ohm) < 0.001)
      const error = Math.sqrt(frequency / shown.length)
      expect(Math.abs(chance.cell(ohm - networkOhm) - frequency)).toBeLessThan(4 * error + 2e-4)
    }
  })

  it('add up to the generator’s over stretches, and over range', () => {
    let between = 0
    for (let cell = 1; cell <= 10; cell += 0.01) between += chance.cell(cell - networkOhm)
    expect(between).toBeCloseTo(
      rate((each) => each > 0.996 && each < 10.005),
      2,
    )
    expect(chance.over(kit.mostOhm - networkOhm)).toBeCloseTo(
      rate((each) => each === Infinity),
      2,
    )
    expect(chance.zero(-1)).toBe(0)
    expect(chance.zero(0.3)).toBeGreaterThan(0.85)
  })
})

describe('bad joints in an array', () => {
  const scenario = drawScenario(families[1], 5)
  const { possible, pairs } = scenario
  const { network } = possible
  const ohm = drawSoundOhms(possible, randomStream(6))
  const nodes = pairs.map(({ from, to }) => [nodeOf(network, from), nodeOf(network, to)] as const)
  const sampled = networkOf(possible, ohm, nodes)
  const candidates = [...scenario.shares.keys()].filter((e) => scenario.shares[e] > 0)

  it('move the pairs as solving anew says, one, two or three at a time', () => {
    const random = randomStream(8)
    for (let round = 0; round < 40; round++) {
      const count = 1 + (round % 3)
      const edges = new Set<number>()
      while (edges.size < count) edges.add(candidates[random.integer(candidates.length)])
      const faults = [...edges].map((edge) => ({ edge, addedOhm: 0.01 * 1000 ** random.uniform() }))
      const changed = ohm.slice()
      for (const { edge, addedOhm } of faults) changed[edge] += addedOhm
      const solved = solveOhms(network, changed)
      const expected = pairs.map(({ from, to }) => solved.between(from, to))
      sampled.withFaults(faults).forEach((value, p) => {
        expect(value / expected[p]).toBeCloseTo(1, 6)
      })
    }
  })

  it('that are open stay below all ranges only where a way round is left', () => {
    for (const edge of candidates) {
      const changed = ohm.slice()
      changed[edge] = Infinity
      const solved = solveOhms(network, changed)
      const moved = sampled.withFaults([{ edge, addedOhm: Infinity }])
      pairs.forEach(({ from, to }, p) => {
        const expected = solved.between(from, to)
        if (expected === Infinity) expect(moved[p]).toBeGreaterThan(1e4)
        else expect(moved[p] / expected).toBeCloseTo(1, 4)
      })
    }
  })

  it('change the chance of the readings as weighing anew says', () => {
    const recorded = recordedReadings(scenario.site)
    const again = networkOf(
      possible,
      ohm,
      recorded.readings.map(({ from, to }) => [nodeOf(network, from), nodeOf(network, to)] as const),
    )
    const sound = readingsLikelihood(recorded, again.soundOhm, 1.01)
    for (const edge of candidates.slice(0, 40)) {
      const moved = again.withFaults([{ edge, addedOhm: 0.2 }])
      const anew = readingsLikelihood(recorded, moved, 1.01)
      expect(Math.abs(Math.log(sound.ratio(moved)) - (anew.soundLog - sound.soundLog))).toBeLessThan(0.25)
    }
  })
})
