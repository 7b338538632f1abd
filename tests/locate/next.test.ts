import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { randomStream } from '../../src/base/random.ts'
import { choleskyInPlace, inverseFromCholesky } from '../../src/base/symmetric.ts'
import { emptyLocateCache } from '../../src/locate/locateCache.ts'
import { locate } from '../../src/locate/locate.ts'
import { given, withState, type Conditioned } from '../../src/locate/next/conditioned.ts'
import { heaviestHypotheses } from '../../src/locate/next/hypotheses.ts'
import { lastSetUp } from '../../src/locate/next/lastSetUp.ts'
import { leastBitsPerMinute, nextActions } from '../../src/locate/next/next.ts'
import {
  foresight,
  openNewPairs,
  predictPairs,
  predictRepeat,
  predictShortLeads,
} from '../../src/locate/next/predict.ts'
import { posteriorOf } from '../../src/locate/posterior.ts'
import type { NextAnswer } from '../../src/model/answers.ts'
import type { EntryOf } from '../../src/model/schema/record.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { effort } from '../../src/walk/effort.ts'
import { slackM, straightM } from '../../src/walk/reach.ts'
import { finish, partOf, prepare, rowSite, starOfRows, uuid, withReadings, type Taken } from './rowSite.ts'

const bare = rowSite()
const prepared = prepare(bare)
const nextFor = (site: Site): NextAnswer => finish(nextActions(site, prepared))

/** As read where nothing is wrong: sound ohms and the contact of two clips, a little more the further out. */
const sound = (row: number, table: number) => 0.012 + 0.001 * table + (row === 1 ? 0 : 0.01)
const allSound = starOfRows(sound)
/** One high reading at the end of a row: a bad last jumper, or a poor contact. */
const oneHigh = starOfRows((row, table) => (row === 1 && table === 6 ? 1.9 : sound(row, table)))
/** Only the end of the row was read, twice, and is high: which of five jumpers? */
const endHigh: readonly Taken[] = [
  ...allSound.filter(({ from }) => from.startsWith('R2')),
  { from: 'R1/T1/L1.3', to: 'R1/T6/L1.3', ohm: 1.9 },
  { from: 'R1/T1/L1.3', to: 'R1/T6/L2.3', ohm: 1.9 },
]
/** Every table beyond the third jumper is high. */
const farHigh = starOfRows((row, table) => (row === 1 && table > 3 ? 1.9 : sound(row, table)))

/** The same with a second reading on the near side of that jumper. */
const bracketed: readonly Taken[] = [
  ...farHigh,
  { from: 'R1/T1/L1.3', to: 'R1/T3/L2.3', ohm: sound(1, 3) },
  { from: 'R1/T1/L1.3', to: 'R1/T4/L2.3', ohm: 1.9 },
]

describe('next actions', () => {
  it('without readings there is nothing to go on from', () => {
    expect(nextFor(bare)).toMatchObject({ stop: 'noReadings', actions: [], entropyBits: 0, considered: 0 })
  })

  it('with all readings as they should be nothing is worth its time', () => {
    const answer = nextFor(withReadings(bare, allSound))
    expect(answer).toMatchObject({ stop: 'nothingWorthIt', actions: [] })
    expect(answer.entropyBits).toBeLessThan(0.3)
  })

  it('one high reading is repeated, or read next to where it ended', () => {
    const { stop, actions } = nextFor(withReadings(bare, oneHigh))
    expect(stop).toBe('goOn')
    const repeat = actions.find(({ kind }) => kind === 'repeat')
    // reading 5 is the high one
    expect(repeat).toMatchObject({ entry: uuid(104), from: 'R1/T1/L1.3', to: 'R1/T6/L1.3' })
    const [low, high] = repeat!.outcomes
    expect(low).toMatchObject({ when: 'below', leader: 'nothing' })
    expect(low.leaderProbability).toBeGreaterThan(0.9)
    expect(high).toMatchObject({ leader: 'group', joints: ['R1/T5+T6~1'] })
    expect(low.toOhm).toBeGreaterThan(0.05)
    expect(low.toOhm).toBeLessThan(1.9)
  })

  it('a high row end is narrowed down from the middle', () => {
    const { stop, actions } = nextFor(withReadings(bare, endHigh))
    expect(stop).toBe('goOn')
    const [first] = actions
    expect(first.kind).toBe('pair')
    // a reading that halves five jumpers ends at table 3 or 4
    expect(`${first.from} ${first.to}`).toMatch(/R1\/T[34]\//)
    expect(first.bits).toBeGreaterThan(0.7)
    // beyond what two joints and a poor contact would read, nothing is told apart
    const sets = first.outcomes.filter(({ probability }) => probability > 0.1).map(({ joints }) => joints)
    expect(sets).toHaveLength(2)
    expect(sets.flat().length).toBe(new Set(sets.flat()).size)
  })

  it('stops where no single reading holds it up, and asks for a look', () => {
    // without the reading to table 3 it might as well be the jumper before that table
    expect(nextFor(withReadings(bare, farHigh)).stop).not.toBe('foundIt')
    const { stop, actions } = nextFor(withReadings(bare, bracketed))
    expect(stop).toBe('foundIt')
    expect(actions.map(({ kind, joint }) => [kind, joint])).toEqual([
      ['look', 'R1/T3+T4~1'],
      ['retorque', 'R1/T3+T4~1'],
    ])
    expect(actions[1].minutes).toBeCloseTo(actions[0].minutes + effort.retorqueMin, 9)
  })

  it('does not ask for a look that was taken, nor for torque that was checked', () => {
    const looked = (torqueFoundNm: number | null): EntryOf<'look'> => ({
      id: uuid(900),
      device: uuid(3),
      counter: 900,
      at: '2031-05-04T09:30:00.000Z',
      visit: uuid(10),
      entry: 'look',
      joint: 'R1/T3+T4~1',
      findings: ['sound'],
      torqueAskedNm: null,
      torqueFoundNm,
      torqueSetNm: null,
      photos: [],
      note: '',
    })
    const after = (torqueNm: number | null) => nextFor(withReadings(bare, bracketed, [looked(torqueNm)]))
    expect(after(null).actions.map(({ kind }) => kind)).toEqual(['retorque'])
    expect(after(12)).toMatchObject({ stop: 'foundIt', actions: [] })
  })

  const sites: readonly (readonly [string, Site])[] = [
    ['all sound', withReadings(bare, allSound)],
    ['one high', withReadings(bare, oneHigh)],
    ['end high', withReadings(bare, endHigh)],
    ['far high', withReadings(bare, farHigh)],
    ['bracketed', withReadings(bare, bracketed)],
    [
      'over range',
      withReadings(
        bare,
        starOfRows((r, t) => (r === 1 && t === 6 ? null : sound(r, t))),
      ),
    ],
    [
      'four-wire',
      withReadings(
        bare,
        oneHigh.map((taken) => ({ ...taken, kit: 'b' as const })),
      ),
    ],
    [
      'not nulled',
      withReadings(
        bare,
        endHigh.map((t) => ({ ...t, ohm: t.ohm! + 0.57 })),
        [],
        false,
      ),
    ],
  ]

  it.each(sites)('adds up: %s', (_, site) => {
    const { actions, entropyBits } = nextFor(site)
    expect(actions.length).toBeLessThanOrEqual(8)
    for (const { bits, minutes, outcomes, expectedOhm } of actions) {
      expect(outcomes.reduce((sum, { probability }) => sum + probability, 0)).toBeCloseTo(1, 9)
      for (const { probability, leaderProbability } of outcomes) {
        expect(probability).toBeGreaterThan(0)
        expect(leaderProbability).toBeGreaterThan(0)
        expect(leaderProbability).toBeLessThanOrEqual(1)
      }
      expect(bits).toBeGreaterThanOrEqual(0)
      expect(bits).toBeLessThanOrEqual(entropyBits + 1e-12)
      expect(minutes).toBeGreaterThanOrEqual(1)
      if (expectedOhm) {
        expect(expectedOhm.low).toBeLessThanOrEqual(expectedOhm.middle)
        expect(expectedOhm.middle).toBeLessThanOrEqual(expectedOhm.high)
      }
    }
  })

  it.each(sites)('best first, each worth its time: %s', (_, site) => {
    const { actions, stop } = nextFor(site)
    if (stop !== 'goOn') return expect(actions.every(({ joint }) => joint !== undefined)).toBe(true)
    const perMinute = actions.map(({ bits, minutes }) => bits / minutes)
    expect(perMinute).toEqual(perMinute.toSorted((a, b) => b - a))
    expect(Math.min(...perMinute)).toBeGreaterThan(leastBitsPerMinute)
  })

  it.each(sites)('is the same again, with and without what was worked out before: %s', (_, site) => {
    const cache = emptyLocateCache()
    const first = nextFor(site)
    finish(locate(site, prepared, cache))
    expect(finish(nextActions(site, prepared, cache))).toEqual(first)
    expect(finish(nextActions(site, prepared, cache))).toEqual(first)
  })

  it('leaves no trace in the books of a ranking', () => {
    const site = withReadings(bare, endHigh)
    const cache = emptyLocateCache()
    finish(locate(site, prepared, cache))
    const pairs = () => [...cache.networks.get(prepared)!.books.values()].map(({ rows }) => rows.size)
    const before = pairs()
    finish(nextActions(site, prepared, cache))
    expect(pairs()).toEqual(before)
  })

  it('pauses between its steps', () => {
    const job = nextActions(withReadings(bare, endHigh), prepared)
    let pauses = 0
    while (!job.next().done) pauses++
    expect(pauses).toBeGreaterThan(100)
  })

  it('proposes pairs that the lead spans, that were not read, at parts that a clip reaches', () => {
    const onlyRails = rowSite((drawing) => ({
      ...drawing,
      access: drawing.access.map((access) => ({ ...access, reachable: access.part === 'longMember' })),
    }))
    const site = withReadings(onlyRails, endHigh)
    const { actions, leftOutPairs } = nextFor(site)
    const pairs = actions.filter(({ kind }) => kind === 'pair')
    expect(pairs.length).toBeGreaterThan(0)
    const read = new Set(endHigh.map(({ from, to }) => [from, to].sort().join(' ')))
    for (const { from = '', to = '' } of pairs) {
      expect([from, to].every((part) => /\/L/.test(part))).toBe(true)
      expect(read.has([from, to].sort().join(' '))).toBe(false)
    }
    const short = { ...site, record: site.record.map((entry) => shortened(entry)) }
    const within = nextFor(short)
    expect(within.leftOutPairs).toBeGreaterThan(leftOutPairs)
    for (const { kind, from = '', to = '' } of within.actions) {
      if (kind !== 'pair') continue
      const m = straightM(prepared.network.index, partOf(prepared, from), partOf(prepared, to))
      expect(m).toBeLessThanOrEqual(12 - slackM)
    }
  })
})

/** A visit whose lead is 12 m long. */
function shortened(entry: Site['record'][number]): Site['record'][number] {
  if (entry.entry !== 'visit') return entry
  return { ...entry, leads: entry.leads.map((lead) => ({ ...lead, lengthM: 12 })) }
}

function seen(taken: readonly Taken[]) {
  const site = withReadings(bare, taken)
  const cache = emptyLocateCache()
  const posterior = finish(posteriorOf(site, prepared, cache))!
  const hypotheses = heaviestHypotheses(posterior, posterior.groups[0].region)
  return finish(foresight(posterior, hypotheses, lastSetUp(site, posterior), cache))
}

describe('predictions under a hypothesis', () => {
  it('weights add up to 1, of hypotheses as of predictions', () => {
    const known = seen(oneHigh)
    const sum = (weights: readonly { readonly weight: number }[]) =>
      weights.reduce((total, { weight }) => total + weight, 0)
    expect(sum(known.hypotheses.all)).toBeCloseTo(1, 9)
    expect(sum(predictRepeat(known, 4))).toBeCloseTo(1, 5)
    expect(sum(predictShortLeads(known))).toBeCloseTo(1, 9)
  })

  it('a repeat comes back to what sound joints read, or stays: by hypothesis', () => {
    const known = seen(oneHigh)
    const heavy = predictRepeat(known, 4).filter(({ weight }) => weight > 0.05)
    const ifSound = heavy.filter(({ classOf }) => classOf === 0)
    const ifBad = heavy.filter(({ classOf }) => classOf !== 0)
    expect(ifSound.length).toBeGreaterThan(0)
    expect(ifBad.length).toBeGreaterThan(0)
    for (const { meanOhm } of ifSound) expect(meanOhm).toBeLessThan(0.1)
    for (const { meanOhm } of ifBad) expect(Math.abs(meanOhm - 1.9)).toBeLessThan(0.1)
  })

  it('what was read tells more of the same pair than of another: its spread is contact and digits', () => {
    const known = seen(farHigh)
    const [best] = known.hypotheses.all
    expect(best.classOf).toBeGreaterThan(0)
    const [again] = predictRepeat(known, 4).toSorted((x, y) => y.weight - x.weight)
    const pair = { a: partOf(prepared, 'R1/T1/L1.3'), b: partOf(prepared, 'R1/T6/L4.5') }
    const opened = finish(openNewPairs(known, emptyLocateCache(), [pair]))
    const other = finish(predictPairs(known, opened))[0]![0]
    expect(again.sdOhm).toBeLessThan(other.sdOhm)
    expect(again.sdOhm).toBeGreaterThanOrEqual(0.9 * known.setUp.ownSdOhm)
    expect(again.sdOhm).toBeLessThan(1.6 * known.setUp.ownSdOhm)
  })

  it('shorted leads tell a lead that adds to every reading from sound joints', () => {
    const added = allSound.map((taken) => ({ ...taken, ohm: taken.ohm! + 0.06 }))
    const [shifted] = predictShortLeads(seen(added))
    const [plain] = predictShortLeads(seen(allSound))
    expect(shifted.meanOhm - plain.meanOhm).toBeGreaterThan(0.02)
    // known better than nulling leaves it
    expect(shifted.sdOhm).toBeLessThan(Math.sqrt(seen(allSound).setUp.leadVarianceOhm2))
  })
})

describe('a further reading given the others', () => {
  it('is the conditional normal distribution of those that are not set aside', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 7 }),
        fc.integer(),
        fc.integer({ min: 0, max: 127 }),
        (m, seed, mask) => {
          const random = randomStream(seed)
          const size = m + 1
          // a covariance of m readings and one more: A Aᵀ and something on the diagonal
          const root = Array.from({ length: size * size }, () => random.normal())
          const covariance = (i: number, j: number) =>
            root
              .slice(i * size, (i + 1) * size)
              .reduce((sum, x, k) => sum + x * root[j * size + k], i === j ? 0.5 : 0)
          const residual = Array.from({ length: m }, () => random.normal())
          const setAside = residual.flatMap((_, i) => ((mask >> i) & 1 ? [i] : []))
          const kept = residual.flatMap((_, i) => ((mask >> i) & 1 ? [] : [i]))

          const inverse = (of: readonly number[]) => {
            const matrix = Float64Array.from(of.flatMap((i) => of.map((j) => covariance(i, j))))
            expect(choleskyInPlace(matrix, of.length)).toBe(-1)
            return inverseFromCholesky(matrix, of.length)
          }
          const w = inverse(kept)
          let mean = 3
          let variance = covariance(m, m)
          kept.forEach((i, a) =>
            kept.forEach((j, b) => {
              mean += covariance(m, i) * w[a * kept.length + b] * residual[j]
              variance -= covariance(m, i) * w[a * kept.length + b] * covariance(m, j)
            }),
          )

          const base = inverse(Array.from({ length: m }, (_, i) => i))
          const weighted = Float64Array.from(residual, (_, i) =>
            residual.reduce((sum, r, j) => sum + base[i * m + j] * r, 0),
          )
          const nothing: Conditioned = {
            hypothesis: { classOf: 0, weight: 1, level: 0, edges: [], members: [], bad: [] },
            precision: { size: m, base, less: [] },
            weighted,
            spoiledProbability: new Float64Array(m),
            setAside: [],
            factor: new Float64Array(0),
            solved: new Float64Array(0),
            columns: [],
            brokenNow: 0,
            riseOhm: new Float64Array(m),
            gainOhm: [],
          }
          const known = setAside.reduce((conditioned, i) => withState(conditioned, i, true), nothing)
          const prior = {
            meanOhm: 3,
            varianceOhm2: covariance(m, m),
            covariance: Float64Array.from(residual, (_, i) => covariance(m, i)),
          }
          const found = given(known, prior, 0)
          expect(found.meanOhm).toBeCloseTo(mean, 6)
          expect(found.sdOhm ** 2).toBeCloseTo(variance, 6)
          // taken back one by one, nothing is left of it
          const back = setAside.reduce((conditioned, i) => withState(conditioned, i, false), known)
          expect(given(back, prior, 0)).toEqual(given(nothing, prior, 0))
        },
      ),
      { seed: 9, numRuns: 200 },
    )
  })
})
