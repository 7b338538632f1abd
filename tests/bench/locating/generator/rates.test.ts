import { describe, expect, it } from 'vitest'
import { randomStream } from '../../../../src/base/random.ts'
import type { Entry } from '../../../../src/model/schema/record.ts'
import { wilsonInterval } from '../../wilson.ts'
import { assumed } from './assumed.ts'
import { drawScenario } from './drawScenario.ts'
import { drawBreak, drawLeadState, drawOverNulledOhm } from './drawSetUp.ts'
import { drawFaultCount, drawFaults, drawSoundOhms, leastAdded } from './drawOhms.ts'
import { families } from './families.ts'
import { swapLabels } from './takeReadings.ts'

const draws = 2000

/** Whether a rate lies in Wilson's interval of what was drawn. */
function expectRate(hits: number, tries: number, rate: number) {
  const { low, high } = wilsonInterval(hits, tries)
  expect(rate, `${hits} of ${tries}`).toBeGreaterThanOrEqual(low)
  expect(rate, `${hits} of ${tries}`).toBeLessThanOrEqual(high)
}

const scenario = drawScenario(families[0], 11)
const { network, undrawn } = scenario.possible
const { shares } = scenario

describe('what is bad', () => {
  it('is nothing in three of ten, else one to three joints alike', () => {
    const random = randomStream(21)
    const counts = [0, 0, 0, 0]
    for (let k = 0; k < draws; k++) counts[drawFaultCount(random)]++
    expectRate(counts[0], draws, 0.3)
    for (const count of counts.slice(1)) expectRate(count, draws, 0.7 / 3)
  })

  it('is open in one half and else raised log-uniformly from the least to 1000 ohm', () => {
    const random = randomStream(32)
    let open = 0
    let lower = 0
    for (let k = 0; k < draws; k++) {
      const [{ edge, addedOhm }] = drawFaults(network, shares, 1, random)
      const least = leastAdded(network, edge)
      expect(addedOhm).toBeGreaterThanOrEqual(least)
      if (addedOhm === Infinity) open++
      else {
        expect(addedOhm).toBeLessThanOrEqual(assumed.mostAddedOhm)
        if (addedOhm < Math.sqrt(least * assumed.mostAddedOhm)) lower++
      }
    }
    expectRate(open, draws, 0.5)
    expectRate(lower, draws - open, 0.5)
  })

  it('falls on a kind as often as its joints and their rates say, never twice on one joint', () => {
    const random = randomStream(23)
    const isJumper = Array.from(network.kind, (k) => network.kinds[k].id === 'jumper')
    const share = shares.reduce((sum, s, e) => sum + (isJumper[e] ? s : 0), 0)
    let jumpers = 0
    for (let k = 0; k < draws; k++) if (isJumper[drawFaults(network, shares, 1, random)[0].edge]) jumpers++
    expectRate(jumpers, draws, share)
    for (let k = 0; k < 100; k++) {
      const faults = drawFaults(network, shares, 3, random)
      expect(new Set(faults.map(({ edge }) => edge)).size).toBe(3)
    }
  })

  it('is never soil, solid metal or what nobody drew', () => {
    for (const [e, share] of shares.entries()) {
      const kind = network.kinds[network.kind[e]].id
      if (network.isEarthPath[e] === 1 || kind === 'memberBody' || undrawn.includes(e)) expect(share).toBe(0)
    }
  })
})

describe('sound ohms', () => {
  it('lie about a level per kind that is off the catalogue by 0.3 in the ln', () => {
    const random = randomStream(24)
    const clamps = Array.from(network.kind.keys()).filter(
      (e) => network.kinds[network.kind[e]].id === 'frameClamp',
    )
    const levels = Array.from({ length: 400 }, () => {
      const ohm = drawSoundOhms(scenario.possible, random)
      return clamps.reduce((sum, e) => sum + Math.log(ohm[e] / 0.001), 0) / clamps.length
    })
    const mean = levels.reduce((a, b) => a + b, 0) / levels.length
    const sd = Math.sqrt(levels.reduce((sum, x) => sum + (x - mean) ** 2, 0) / levels.length)
    const expected = Math.sqrt(assumed.kindLevelLnSd ** 2 + 0.8 ** 2 / clamps.length)
    expect(Math.abs(mean)).toBeLessThan(4 * (expected / Math.sqrt(levels.length)))
    expect(sd / expected).toBeGreaterThan(0.87)
    expect(sd / expected).toBeLessThan(1.13)
  })

  it('hold bonds that nobody drew at half of the largest rate', () => {
    const random = randomStream(25)
    let built = 0
    for (let k = 0; k < draws; k++) {
      const ohm = drawSoundOhms(scenario.possible, random)
      if (ohm[undrawn[0]] < Infinity) built++
    }
    expectRate(built, draws, assumed.mostAsBuiltRate / 2)
  })
})

describe('crews', () => {
  it('forget to null and null over bad shorts at their rates', () => {
    const random = randomStream(26)
    const states = Array.from({ length: draws }, () => drawLeadState(random))
    expectRate(states.filter((s) => s === 'notNulled').length, draws, assumed.notNulledRate)
    expectRate(states.filter((s) => s === 'overNulled').length, draws, assumed.overNulledRate)
    const middle = Math.sqrt(assumed.overNulledFromOhm * assumed.overNulledToOhm)
    const lacks = Array.from({ length: draws }, () => drawOverNulledOhm(random))
    expectRate(lacks.filter((ohm) => ohm < middle).length, draws, 0.5)
  })

  it('break leads at one set-up in a hundred', () => {
    const random = randomStream(27)
    const breaks = Array.from({ length: draws }, () => drawBreak(8, random))
    expectRate(breaks.filter((at) => at < Infinity).length, draws, assumed.brokenLeadRate)
    for (const at of breaks) if (at < Infinity) expect(at).toBeLessThan(8)
  })

  it('exchange neighbouring results at their rate, and nothing else', () => {
    const random = randomStream(28)
    const numbered: Entry[] = []
    for (const entry of scenario.site.record) {
      if (entry.entry === 'reading' && entry.repeats === null) {
        numbered.push({ ...entry, result: { form: 'ohm', ohm: numbered.length } })
      } else numbered.push(entry)
    }
    let exchanged = 0
    let tries = 0
    while (tries < 2000) {
      const after = swapLabels(numbered, random)
      const shown = (entries: readonly Entry[]) =>
        entries.flatMap((e) => (e.entry === 'reading' && e.result.form === 'ohm' ? [e.result.ohm] : []))
      expect(shown(after).toSorted((a, b) => a - b)).toEqual(shown(numbered).toSorted((a, b) => a - b))
      for (const [k, entry] of after.entries()) {
        if (entry.entry !== 'reading') continue
        if (entry !== numbered[k]) exchanged++
        tries++
      }
    }
    // every exchange touches two readings; some neighbours are divided by other entries
    expect(exchanged / 2 / tries).toBeGreaterThan(0.4 * assumed.swappedRate)
    expect(exchanged / 2 / tries).toBeLessThan(1.6 * assumed.swappedRate)
  })
})
