import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { logSumExp } from '../../src/base/logSum.ts'
import { randomStream } from '../../src/base/random.ts'
import { openSite } from '../../src/files/openSite.ts'
import { evidenceWorkspace, judge } from '../../src/locate/evidence.ts'
import { severitiesOf } from '../../src/locate/severities.ts'
import { setShift, type BadJoint } from '../../src/locate/sets/setShift.ts'
import type { SetRanking } from '../../src/locate/sets/setRanking.ts'
import { drawTruth, type Planted } from '../generator/drawTruth.ts'
import { preparedOf } from '../generator/locateIn.ts'
import { rowSite, starOfRows, withReadings } from './rowSite.ts'
import { measuredAnew, readSite, setsIn, type Read } from './setsOf.ts'

const opened = openSite(readFileSync(new URL('../../demo-data/field.json', import.meta.url)), 'field.json')
if (!opened.ok) throw new Error(JSON.stringify(opened.error))
const field = opened.value
const fieldPrepared = preparedOf(field)

/** Two rows of six tables with these joints bad, read in a star from each first table and from row to row. */
function rows(planted: Planted, seed: number) {
  const site = rowSite()
  const random = randomStream(seed)
  const truth = drawTruth(preparedOf(site).network, random, planted)
  const across = [1, 6].map((table) => ({ from: `R1/T${table}/L1.3`, to: `R2/T${table}/L1.3`, ohm: 0 }))
  const taken = [...starOfRows(() => 0), ...across].map(({ from, to }) => {
    const ohm = truth.trueResistance(from, to) + 0.004 + 0.004 * random.normal()
    return { from, to, ohm: Math.max(0, Math.round(ohm * 100) / 100) }
  })
  return withReadings(site, taken)
}

const probabilityOf = (read: Read, { joints }: SetRanking, name: string) =>
  joints.find(({ edge }) => read.nameOf(edge) === name)?.probability ?? 0
const singleOf = (read: Read, name: string) => {
  const joint = read.ranking.joints.find(({ edge }) => read.nameOf(edge) === name)
  return joint ? Math.exp(joint.logWeight - read.ranking.logTotal) : 0
}
const bestOf = (read: Read, { best }: SetRanking) =>
  best.members.map(({ candidate }) => read.nameOf(read.candidates.edge[candidate])).sort()

const everything = {
  windowNats: Infinity,
  beam: Infinity,
  statesPerSet: Infinity,
  mostWeighed: Infinity,
}

/** Every set of up to two joints in every combination of severities and soil, straight from Bayes' theorem. */
function bruteForce({ inputs, prepared, candidates, models, measurement, ranking }: Read) {
  const { network } = prepared
  const n = measurement.observations.length
  const work = evidenceWorkspace(ranking.levels[0].finite.length)
  const states = Array.from(candidates.edge, (edge, candidate) =>
    severitiesOf(network.medianOhm[edge]).flatMap(({ addedOhm, logPrior }) => {
      const alone = setShift(inputs.network, models, inputs.centre, [{ candidate, addedOhm }]).riseOhm
      const size = Math.hypot(...Array.from({ length: n }, (_, p) => alone[p] / measurement.ownSdOhm[p]))
      const rate = network.defectRate[edge]
      const prior = logPrior + Math.log(rate / (1 - rate))
      return size >= 2 ? [{ bad: { candidate, addedOhm }, prior }] : []
    }),
  )
  const weights: { readonly bad: readonly BadJoint[]; readonly log: number }[] = []
  const weigh = (bad: readonly BadJoint[], prior: number) => {
    const logs = models.map(
      ({ logWeight }, at) =>
        logWeight +
        judge(ranking.levels[at], measurement, setShift(inputs.network, models, at, bad), work, {
          quick: false,
        }).logEvidence,
    )
    const shift = setShift(inputs.network, models, inputs.centre, bad)
    const middle = judge(ranking.levels[inputs.centre], measurement, shift, work, { quick: false })
    const soil = shift.columns[0].some((x, p) => Math.abs(x) > 0.05 * middle.sdOhm[p])
    weights.push({ bad, log: prior + (soil ? logSumExp(logs) : middle.logEvidence) })
  }
  weigh([], 0)
  states.forEach((some, k) => {
    for (const one of some) {
      weigh([one.bad], one.prior)
      for (const others of states.slice(k + 1)) {
        for (const other of others) weigh([one.bad, other.bad], one.prior + other.prior)
      }
    }
  })
  const total = logSumExp(weights.map(({ log }) => log))
  const chance = (when: (bad: readonly BadJoint[]) => boolean) =>
    weights.reduce((sum, { bad, log }) => sum + (when(bad) ? Math.exp(log - total) : 0), 0)
  return {
    states: weights.length,
    nothing: chance((bad) => bad.length === 0),
    two: chance((bad) => bad.length === 2),
    joints: states.map((_, k) => chance((bad) => bad.some(({ candidate }) => candidate === k))),
    open: states.map((_, k) =>
      chance((bad) => bad.some(({ candidate, addedOhm }) => candidate === k && addedOhm === Infinity)),
    ),
  }
}

const rowOne = ['R1/T2+T3~1', 'R1/T3+T4~1', 'R1/T4+T5~1', 'R1/T5+T6~1']

describe('sets of bad joints against Bayes by brute force', () => {
  for (const [what, planted] of [
    ['nothing bad', {}],
    ['one raised', { raised: [{ joint: 'R1/T3+T4~1', addedOhm: 0.08 }] }],
    ['two bad in one row', { opened: ['R1/T3+T4~1'], raised: [{ joint: 'R1/T5+T6~1', addedOhm: 2 }] }],
  ] as const) {
    it(`${what}: all sets of up to two agree`, () => {
      const read = readSite(rows(planted, 5), undefined, rowOne)
      const expected = bruteForce(read)
      // weighed by itself, nothing taken over from the ranking of single joints
      const alone = { ...read, ranking: { ...read.ranking, joints: [] } }
      const found = setsIn(alone, { ...everything, mostBad: 2 })
      expect(found.regions).toHaveLength(1)
      expect(found.regions[0].sets).toHaveLength(1 + 4 + 6)
      expect(Math.abs(found.nothingProbability - expected.nothing)).toBeLessThan(1e-6)
      expect(Math.abs(found.badCount[2] - expected.two)).toBeLessThan(1e-6)
      for (const { candidate, probability, openProbability } of found.joints) {
        expect(Math.abs(probability - expected.joints[candidate])).toBeLessThan(1e-6)
        expect(Math.abs(openProbability - expected.open[candidate])).toBeLessThan(1e-6)
      }
      expect(found.joints).toHaveLength(4)
      expect(expected.states).toBeGreaterThan(300)
    })

    it(`${what}: the usual search misses no more than it says`, () => {
      const read = readSite(rows(planted, 5), undefined, rowOne)
      const expected = bruteForce(read)
      const found = setsIn(read, { mostBad: 2 })
      expect(found.unexplored).toBeLessThan(0.1)
      const within = 1.5 * found.unexplored + 1e-4
      expect(Math.abs(found.nothingProbability - expected.nothing)).toBeLessThan(within)
      expected.joints.forEach((p, k) => {
        const name = read.nameOf(read.candidates.edge[k])
        expect(Math.abs(probabilityOf(read, found, name) - p)).toBeLessThan(within)
      })
      expect(found.judged).toBeLessThan(expected.states / 4)
    })
  }

  it('across regions, each given the others, the product comes close', () => {
    const planted = { opened: ['R1/T3+T4~1'], raised: [{ joint: 'R2/T4+T5~1', addedOhm: 0.1 }] }
    const site = rows(planted, 9)
    const names = ['R1/T3+T4~1', 'R1/T4+T5~1', 'R2/T3+T4~1', 'R2/T4+T5~1']
    const read = readSite({ ...site, record: site.record.slice(0, -2) }, undefined, names)
    const expected = bruteForce(read)
    const found = setsIn(read, { ...everything, mostBad: 2 })
    expect(found.regions).toHaveLength(2)
    expected.joints.forEach((p, k) => {
      const name = read.nameOf(read.candidates.edge[k])
      expect(Math.abs(probabilityOf(read, found, name) - p)).toBeLessThan(0.05)
    })
  })
})

describe('several bad joints', () => {
  it('two open jumpers of the demo field in different rows both come out, where one alone is kept otherwise', () => {
    const planted = ['R2/T3+T4~1', 'R4/T6+T7~1']
    for (const seed of [1, 2, 3]) {
      const read = readSite(measuredAnew(field, { opened: planted }, seed), fieldPrepared)
      const found = setsIn(read)
      const single = planted.map((name) => singleOf(read, name)).sort()
      expect(single[0]).toBeLessThan(0.05)
      for (const name of planted) expect(probabilityOf(read, found, name)).toBeGreaterThan(0.95)
      expect(bestOf(read, found)).toEqual(planted)
      const names = found.joints.slice(0, 2).map(({ edge }) => read.nameOf(edge))
      expect(names.sort()).toEqual(planted)
      expect(found.badCount[2]).toBeGreaterThan(0.9)
      expect(found.unexplored).toBeLessThan(0.1)
    }
  })

  it('two in one row, one open and one raised', () => {
    const planted = { opened: ['R1/T2+T3~1'], raised: [{ joint: 'R1/T4+T5~1', addedOhm: 20 }] }
    const read = readSite(rows(planted, 21))
    const found = setsIn(read)
    expect(bestOf(read, found)).toEqual(['R1/T2+T3~1', 'R1/T4+T5~1'])
  })

  it('three on two rows', () => {
    const planted = ['R1/T2+T3~1', 'R1/T4+T5~1', 'R2/T3+T4~1']
    const read = readSite(rows({ opened: planted }, 23))
    const found = setsIn(read)
    expect(bestOf(read, found)).toEqual(planted)
    for (const name of planted) expect(probabilityOf(read, found, name)).toBeGreaterThan(0.5)
  })

  it('a much wider search moves no joint by more than what was said to be unexplored', () => {
    const wide = { windowNats: 13, beam: 10, statesPerSet: 4, mostWeighed: 1500 }
    // in the second, soil speaks otherwise of the likeliest state than of what else may be the case
    for (const [seed, opened, addedOhm] of [
      [1002, 'R2/T3+T4~1', 0.2],
      [1042, 'R5/T4+T5~1', 0.0573],
    ] as const) {
      const raised = [{ joint: 'R1/T6+T7~1', addedOhm }]
      const read = readSite(measuredAnew(field, { opened: [opened], raised }, seed), fieldPrepared)
      const [usual, more] = [setsIn(read), setsIn(read, wide)]
      expect(more.judged).toBeGreaterThan(3 * usual.judged)
      for (const { edge, probability } of more.joints) {
        const moved = Math.abs(probability - probabilityOf(read, usual, read.nameOf(edge)))
        expect(moved).toBeLessThanOrEqual(usual.unexplored)
      }
    }
  })

  it('nothing is named on a healthy site', () => {
    for (const seed of [31, 32, 33]) {
      const read = readSite(measuredAnew(field, {}, seed), fieldPrepared)
      const found = setsIn(read)
      expect(found.nothingProbability).toBeGreaterThan(0.8)
      expect(found.best.members).toEqual([])
      expect(found.badCount[0]).toBe(found.nothingProbability)
    }
  })

  it('says of one bad joint what the ranking of single joints says', () => {
    const read = readSite(field, fieldPrepared)
    const found = setsIn(read)
    expect(bestOf(read, found)).toEqual(['R4/T6+T7~1'])
    for (const { edge } of read.ranking.joints.slice(0, 3)) {
      const name = read.nameOf(edge)
      expect(Math.abs(probabilityOf(read, found, name) - singleOf(read, name))).toBeLessThan(0.01)
    }
  })

  it('is the same whatever the order of the candidates', () => {
    const planted = { opened: ['R1/T2+T3~1', 'R2/T3+T4~1'] }
    const site = rows(planted, 23)
    const there = readSite(site)
    const names = Array.from(there.candidates.edge, there.nameOf)
    const back = readSite(site, undefined, names.reverse())
    const [one, other] = [setsIn(there), setsIn(back)]
    expect(bestOf(back, other)).toEqual(bestOf(there, one))
    expect(other.joints.length).toBe(one.joints.length)
    for (const { edge, probability } of one.joints) {
      expect(probabilityOf(back, other, there.nameOf(edge))).toBeCloseTo(probability, 6)
    }
    expect(other.unexplored).toBeCloseTo(one.unexplored, 6)
  })

  it('probabilities of a region, and of the count of bad joints, add up to one', () => {
    const read = readSite(rows({ opened: ['R1/T2+T3~1', 'R2/T3+T4~1'] }, 24))
    const found = setsIn(read)
    for (const { sets } of found.regions) {
      expect(sets.reduce((sum, { probability }) => sum + probability, 0)).toBeCloseTo(1, 12)
    }
    expect(found.badCount.reduce((sum, p) => sum + p, 0)).toBeCloseTo(1, 12)
    const expectedCount = found.badCount.reduce((sum, p, k) => sum + k * p, 0)
    expect(found.joints.reduce((sum, { probability }) => sum + probability, 0)).toBeCloseTo(expectedCount, 9)
    expect(setsIn(read)).toEqual(found)
  })
})
