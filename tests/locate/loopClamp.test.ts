import { describe, expect, it } from 'vitest'
import { present } from '../../src/base/assert.ts'
import { randomStream, type RandomStream } from '../../src/base/random.ts'
import { jointAddressAt, jointIndexOf } from '../../src/layout/jointIndex.ts'
import {
  describeMeasurement,
  evidenceWorkspace,
  prepareLevel,
  stateReadings,
  sumStated,
} from '../../src/locate/evidence.ts'
import { badJointShift, riseInSds, risesOhm } from '../../src/locate/hypothesis.ts'
import type { LevelModel } from '../../src/locate/levelModel.ts'
import { modelLevels } from '../../src/locate/levels.ts'
import { locate } from '../../src/locate/locate.ts'
import { bookAt, emptyLocateCache } from '../../src/locate/locateCache.ts'
import { countedObservations, observe } from '../../src/locate/observations.ts'
import { covarianceOf, rowsOfPairs } from '../../src/locate/pairBook.ts'
import { severitiesOf } from '../../src/locate/severities.ts'
import { severityFamily, stateSeverity, turnTo } from '../../src/locate/severityFamily.ts'
import { loopDirection } from '../../src/locate/sets/loopDirection.ts'
import { seenRiseOhm, seenSets, seenWork } from '../../src/locate/sets/seenSets.ts'
import { setNetworkOf, type FactoredLevel, type NodePair } from '../../src/locate/sets/setNetwork.ts'
import { kernelShift, setRisesOhm, setShift, type BadJoint } from '../../src/locate/sets/setShift.ts'
import { parseJointAddress, writeJointAddress } from '../../src/model/address.ts'
import { defaultKits } from '../../src/model/kits.ts'
import type { EntryOf, Kit } from '../../src/model/schema/record.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { findBlocks } from '../../src/network/blocks.ts'
import { adjacencyOf, type Graph } from '../../src/network/graph.ts'
import { riseOhm } from '../../src/network/jointSweep.ts'
import { chooseReferences, findIslands } from '../../src/network/islands.ts'
import { prepareSolver } from '../../src/network/solver.ts'
import { levelLnSd } from '../../src/reading/assumptions.ts'
import { scatterOfJoints } from '../../src/reading/jointScatter.ts'
import { scatteringOhm } from '../../src/reading/pairPrediction.ts'
import { graphOf, patchedNetwork, shuffled } from '../network/patchedNetworks.ts'
import { changed, rebuild } from '../network/rebuiltNetwork.ts'
import { runToEnd } from '../network/runToEnd.ts'
import { finish, prepare, rowSite, withReadings } from './rowSite.ts'

/** What a clamp round edge e reads: its own ohms and the network without it, across its ends. */
function clampOhm(graph: Graph, conductanceS: Float64Array, e: number, added = 0): number {
  const without = rebuild(graph, changed(conductanceS, [e], [Infinity]))
  return 1 / conductanceS[e] + added + without.resistance(graph.from[e], graph.to[e])
}

/** The same once some joints have gained ohms, e among them or not. */
function clampOhmWith(
  { graph, conductanceS, candidates }: Case,
  e: number,
  bad: readonly BadJoint[],
): number {
  const members = bad.map(({ candidate }) => candidates[candidate])
  const own = bad.find((_, k) => members[k] === e)?.addedOhm ?? 0
  const after = changed(
    conductanceS,
    members,
    bad.map(({ addedOhm }, k) => (members[k] === e ? 0 : addedOhm)),
  )
  return clampOhm(graph, after, e, own)
}

interface Case {
  readonly graph: Graph
  readonly conductanceS: Float64Array
  readonly candidates: Int32Array
  readonly pairs: readonly NodePair[]
}

/** Models and set network from dense solves; one soil level. */
function build({ graph, conductanceS, candidates, pairs }: Case) {
  const adjacency = adjacencyOf(graph)
  const islands = findIslands(graph, adjacency)
  const { isBridge } = findBlocks(graph, adjacency)
  const dense = rebuild(graph, conductanceS)
  const reference = chooseReferences(graph, islands)
  const { factor } = runToEnd(prepareSolver(graph, conductanceS, islands.of, reference, adjacency))
  const loopS = conductanceS.map((_, e) => (isBridge[e] === 1 ? 0 : 1 / clampOhm(graph, conductanceS, e)))
  const n = pairs.length
  const squared = new Float64Array(candidates.length * n)
  pairs.forEach(({ a, b, around = -1 }, p) => {
    if (dense.islandOf[a] !== dense.islandOf[b]) return
    if (around >= 0 && isBridge[around] === 1) return
    const current = dense.currents(a, b)
    const slack = around < 0 ? 1 : loopS[around] / conductanceS[around]
    candidates.forEach((e, k) => {
      const i = isBridge[e] === 1 ? Math.round(current[e]) : current[e] / slack
      squared[k * n + p] = e === around ? 1 : i * i
    })
  })
  const model: LevelModel = {
    lnSoil: 0,
    logWeight: 0,
    networkOhm: Float64Array.from(pairs, ({ a, b, around = -1 }) =>
      around < 0 ? dense.resistance(a, b) : 1 / loopS[around],
    ),
    byKind: new Float64Array(0),
    covariance: new Float64Array(n * n),
    squared,
    loopS: Float64Array.from(candidates, (e) => loopS[e]),
    loopOfReadingS: Float64Array.from(pairs, ({ around = -1 }) => (around < 0 ? 0 : loopS[around])),
  }
  const level: FactoredLevel = { factor, conductanceS, loopS }
  const network = runToEnd(setNetworkOf(graph, adjacency, [level], candidates, pairs))
  return { network, models: [model], isBridge }
}

const clamped = (graph: Graph, e: number): NodePair => ({ a: graph.from[e], b: graph.to[e], around: e })

/** Candidates, and clamps round some of them and round some that are none; two pairs read across beside them. */
function caseOf(random: RandomStream, graph: Graph, conductanceS: Float64Array): Case {
  const edges = shuffled(random, graph.from.length)
  const candidates = edges.slice(0, Math.min(10, edges.length - 2))
  const pairs = Array.from(edges.slice(Math.max(0, candidates.length - 6), candidates.length + 3), (e) =>
    clamped(graph, e),
  )
  const [a, b, c] = shuffled(random, graph.nodeCount)
  return { graph, conductanceS, candidates, pairs: [...pairs, { a, b }, { a: c, b }] }
}

/** Rings, a ring with chords, ways side by side, and random meshes with bridges. */
function cases(): readonly Case[] {
  const random = randomStream(77)
  const ring = (count: number) => Array.from({ length: count }, (_, v) => [v, (v + 1) % count] as const)
  const graphs = [
    graphOf(5, ring(5)),
    graphOf(9, ring(9)),
    graphOf(8, [...ring(8), [0, 4], [1, 6], [0, 4]]),
    graphOf(7, [...ring(6), [2, 6]]),
    // three ways of two joints each, side by side
    graphOf(
      5,
      [2, 3, 4].flatMap((middle): [number, number][] => [
        [0, middle],
        [middle, 1],
      ]),
    ),
  ]
  const drawn = graphs.map((graph) =>
    caseOf(
      random,
      graph,
      Float64Array.from(graph.from, () => Math.exp(random.normal())),
    ),
  )
  const meshes = Array.from({ length: 14 }, () => {
    const { graph, conductanceS } = patchedNetwork(random, 22)
    return caseOf(random, graph, conductanceS)
  })
  return [...drawn, ...meshes]
}

const severities = [1e-3, 0.02, 0.7, 40, 1e3, Infinity]

const close = (found: number, expected: number, ohm: number) =>
  found === expected || Math.abs(found - expected) <= 1e-9 * Math.max(ohm, Math.abs(expected))

describe('the rise of a loop reading', () => {
  it('is that of the network solved anew, for one joint at every severity, the one in the jaws included', () => {
    const seen = { finite: 0, infinite: 0, own: 0 }
    for (const c of cases()) {
      const { models } = build(c)
      const n = c.pairs.length
      for (let candidate = 0; candidate < c.candidates.length; candidate++) {
        for (const addedOhm of severities) {
          const rise = risesOhm(models[0], candidate, addedOhm, n)
          c.pairs.forEach(({ around = -1 }, p) => {
            if (around < 0) return
            const before = models[0].networkOhm[p]
            if (before === Infinity) return expect(rise[p]).toBe(0)
            const expected = clampOhmWith(c, around, [{ candidate, addedOhm }]) - before
            expect(close(rise[p], expected, before), `${rise[p]} is not ${expected}`).toBe(true)
            if (expected === Infinity) seen.infinite++
            else if (expected > 1e-6) seen.finite++
            if (c.candidates[candidate] === around) seen.own++
          })
        }
      }
    }
    expect(seen.finite).toBeGreaterThan(500)
    expect(seen.infinite).toBeGreaterThan(50)
    expect(seen.own).toBeGreaterThan(100)
  })

  it('is that of the network solved anew, for sets of two and three, cuts among them', () => {
    const random = randomStream(8)
    const seen = { finite: 0, infinite: 0, own: 0, joinedCuts: 0 }
    for (const c of cases()) {
      const { network, models } = build(c)
      for (let trial = 0; trial < 24; trial++) {
        const bad = Array.from(
          shuffled(random, c.candidates.length).slice(0, 2 + (trial % 2)),
          (candidate): BadJoint => ({
            candidate,
            addedOhm: random.uniform() < 0.5 ? Infinity : severities[random.integer(severities.length)],
          }),
        )
        const rise = setRisesOhm(network, models, 0, bad)
        const shifted = kernelShift(network, models, 0, bad)
        const alone = bad.map((joint) => setRisesOhm(network, models, 0, [joint]))
        c.pairs.forEach(({ around = -1 }, p) => {
          const before = models[0].networkOhm[p]
          if (around < 0 || before === Infinity) return
          const expected = clampOhmWith(c, around, bad) - before
          expect(close(rise[p], expected, before), `${rise[p]} is not ${expected}`).toBe(true)
          expect(close(shifted.riseOhm[p], expected, before)).toBe(true)
          if (expected === Infinity && alone.every((one) => one[p] < Infinity)) seen.joinedCuts++
          if (expected === Infinity) seen.infinite++
          else if (expected > 1e-6) seen.finite++
          if (bad.some(({ candidate }) => c.candidates[candidate] === around)) seen.own++
        })
      }
    }
    expect(seen.finite).toBeGreaterThan(300)
    expect(seen.infinite).toBeGreaterThan(50)
    expect(seen.own).toBeGreaterThan(100)
    expect(seen.joinedCuts).toBeGreaterThan(5)
  })

  it('leaves pairs that are read across as they are without a clamp', () => {
    for (const c of cases().slice(0, 6)) {
      const { network, models } = build(c)
      const across = c.pairs.filter(({ around = -1 }) => around < 0)
      const without = build({ ...c, pairs: across })
      const bad = [
        { candidate: 0, addedOhm: 2 },
        { candidate: 2, addedOhm: Infinity },
      ]
      const rise = setRisesOhm(network, models, 0, bad)
      const plain = setRisesOhm(without.network, without.models, 0, bad)
      c.pairs.forEach((pair, p) => {
        const q = across.indexOf(pair)
        if (q >= 0) expect(close(rise[p], plain[q], 1)).toBe(true)
      })
    }
  })
})

describe('the uncertainty of a loop reading under a hypothesis', () => {
  it('is the same by the kernel as for one bad joint', () => {
    for (const c of cases()) {
      const { network, models } = build(c)
      const n = c.pairs.length
      for (let candidate = 0; candidate < c.candidates.length; candidate++) {
        for (const addedOhm of severities) {
          const one = badJointShift(models, 0, candidate, addedOhm, n)
          expect(setShift(network, models, 0, [{ candidate, addedOhm }])).toEqual(one)
          const [, ...along] = kernelShift(network, models, 0, [{ candidate, addedOhm }]).columns
          for (let p = 0; p < n; p++) {
            const spread = Math.sqrt(along.reduce((sum, column) => sum + column[p] ** 2, 0))
            expect(close(spread, one.columns[1][p], 1)).toBe(true)
          }
        }
      }
    }
  })

  it('follows a change of severity as finite differences do', () => {
    const random = randomStream(19)
    let compared = 0
    for (const c of cases()) {
      const { network, models } = build(c)
      const bad = [0.3, 5].map((addedOhm, k) => ({ candidate: 2 * k + random.integer(2), addedOhm }))
      const { riseOhm: rise, columns } = kernelShift(network, models, 0, bad, 1)
      const step = 1e-4
      bad.forEach((joint, j) => {
        const [low, high] = [-1, 1].map((sign) =>
          setRisesOhm(
            network,
            models,
            0,
            bad.map((b) => (b === joint ? { ...b, addedOhm: b.addedOhm * Math.exp(sign * step) } : b)),
          ),
        )
        c.pairs.forEach(({ around = -1 }, p) => {
          if (around < 0 || rise[p] === Infinity) return
          const slope = (high[p] - low[p]) / (2 * step)
          expect(Math.abs(columns[1 + j][p] - slope)).toBeLessThan(1e-5 * Math.max(1, rise[p]))
          if (slope > 1e-3) compared++
        })
      })
    }
    expect(compared).toBeGreaterThan(50)
  })
})

describe('a further joint beside a set', () => {
  it('moves loop readings along the direction that is screened', () => {
    const random = randomStream(20)
    let compared = 0
    for (const c of cases()) {
      const { network, models, isBridge } = build(c)
      for (const size of [0, 1, 2]) {
        const drawn = shuffled(random, c.candidates.length)
        const bad = Array.from(drawn.slice(0, size), (candidate) => ({
          candidate,
          addedOhm: severities[random.integer(severities.length)],
        }))
        const k = drawn[size]
        const seenBy = seenSets(network, 0, bad)
        const work = seenWork(size)
        const gainedV = network.pairs.map((pair, p) => {
          if (models[0].networkOhm[p] === Infinity) return new Float64Array(size)
          seenRiseOhm(seenBy(pair), pair, bad, work)
          return work.gainedV.slice(0, size)
        })
        const beside = { network, level: 0, size, seenBy, gainedV }
        const direction = loopDirection(beside, models[0], k, new Float64Array(c.pairs.length), 0)
        if (!direction) continue
        for (const addedOhm of [0.05, 3, Infinity]) {
          const before = setRisesOhm(network, models, 0, bad)
          const after = setRisesOhm(network, models, 0, [...bad, { candidate: k, addedOhm }])
          c.pairs.forEach(({ around = -1 }, p) => {
            if (around < 0 || isBridge[around] === 1 || before[p] === Infinity) return
            const rise = riseOhm(direction.v[p], direction.c[p], addedOhm)
            if (after[p] === Infinity) expect(rise).toBeGreaterThan(1e6)
            else expect(Math.abs(rise - (after[p] - before[p]))).toBeLessThan(1e-6 * Math.max(1, after[p]))
            compared++
          })
        }
      }
    }
    expect(compared).toBeGreaterThan(300)
  })
})

/** A fine one: it tells a sound ring of 17 mΩ from one that is broken by more than its digits. */
const clampKit: Kit = {
  ...present(
    defaultKits.find(({ method }) => method === 'loopClamp'),
    'a loop clamp is among the instruments to start from',
  ),
  resolutionOhm: 0.01,
}

/** Three tables in each of the two rows, and a conductor that closes the far ends to a ring. */
function ringSite(): Site {
  return rowSite((drawing) => ({
    ...drawing,
    nextIds: { ...drawing.nextIds, conductor: 3 },
    rows: drawing.rows.map((row) => ({ ...row, runs: [{ ...row.runs[0], count: 3 }], nextTable: 4 })),
    conductors: [
      ...drawing.conductors,
      {
        ...drawing.conductors[0],
        id: 2,
        label: 'far end',
        points: [
          { id: 1, atM: { x: 14, y: 0 }, landing: { part: 'R1/T3/L1.1', kind: 'layInLug' } },
          { id: 2, atM: { x: 14, y: 8 }, landing: { part: 'R2/T3/L1.1', kind: 'layInLug' } },
        ],
        nextPoint: 3,
      },
    ],
  }))
}

/** The site with a reading by clamp round each of these joints; over range above what the clamp shows. */
function clampedSite(site: Site, ohms: ReadonlyMap<string, number>): Site {
  const taken = withReadings(
    site,
    [...ohms.keys()].map(() => ({ from: 'B1', to: 'G1', ohm: 0 })),
  )
  const read = [...ohms]
  let k = 0
  const record = taken.record.map((entry) => {
    if (entry.entry === 'visit') return { ...entry, kits: [clampKit] }
    if (entry.entry === 'nulling') return { ...entry, kit: clampKit.id }
    if (entry.entry !== 'reading') return entry
    const [around, ohm] = read[k++]
    const spot = { ...entry.from, part: 'R1/T1/L1.1' }
    const result: EntryOf<'reading'>['result'] =
      ohm > clampKit.mostOhm ? { form: 'over', atLeastOhm: clampKit.mostOhm } : { form: 'ohm', ohm }
    return {
      ...entry,
      method: 'loopClamp' as const,
      kit: clampKit.id,
      lead: null,
      from: spot,
      to: spot,
      around,
      result,
    }
  })
  return { ...taken, record }
}

const site = ringSite()
const prepared = prepare(site)
const { network } = prepared
const edgeOf = (text: string) =>
  network.edgeOfJoint[
    jointIndexOf(network.index, present(parseJointAddress(text), `${text} is a joint's address`))
  ]
const nameOf = (edge: number) => writeJointAddress(jointAddressAt(network.index, network.jointOfEdge[edge]))

const jumpers = ['R1/T1+T2~1', 'R1/T2+T3~1', 'R2/T1+T2~1', 'R2/T2+T3~1']
const wires = ['C1.3~wire', 'C2.1~wire']

/** What a clamp shows round each of these joints with others as given, in steps of its resolution. */
function shownRound(joints: readonly string[], bad: ReadonlyMap<string, number>): Map<string, number> {
  const edges = [...bad.keys()].map(edgeOf)
  const steps = (ohm: number) =>
    ohm === Infinity ? Infinity : Math.round(ohm / clampKit.resolutionOhm) * clampKit.resolutionOhm
  return new Map(
    joints.map((joint) => {
      const e = edgeOf(joint)
      const others = changed(
        prepared.conductanceS,
        edges,
        [...bad].map(([name, addedOhm]) => (name === joint ? 0 : addedOhm)),
      )
      return [joint, steps(clampOhm(network.graph, others, e, bad.get(joint) ?? 0))]
    }),
  )
}

describe('a loop reading on a site', () => {
  const sound = shownRound([...jumpers, ...wires], new Map())

  it('is an observation round its joint, with neither contact nor lead nor a bond test current', () => {
    const { observations, readings } = observe(clampedSite(site, sound), network)
    expect(readings.every(({ setAside }) => setAside === null)).toBe(true)
    expect(observations.map(({ around }) => around)).toEqual([...jumpers, ...wires].map(edgeOf))
    for (const o of observations) {
      expect(o).toMatchObject({ method: 'loopClamp', hasContact: false, poorRate: 0, interval: -1 })
      expect([o.a, o.b]).toEqual([network.graph.from[o.around], network.graph.to[o.around]])
    }
  })

  it('round a joint that the drawing does not have is set aside', () => {
    const { readings } = observe(clampedSite(site, new Map([['R9/T1+T2~1', 0.1]])), network)
    expect(readings.map(({ setAside }) => setAside)).toEqual(['noSuchPart'])
  })

  it('taken before a repair on its loop counts no more', () => {
    const read = clampedSite(site, new Map([...sound].slice(0, 2)))
    const late = { device: read.record[0].device, at: '2031-05-04T12:00:00.000Z' }
    const repairOf = (joint: string): EntryOf<'repair'> => ({
      ...late,
      id: '00000000-0000-4000-8000-000000000900',
      counter: 900,
      entry: 'repair',
      visit: read.record[0].id,
      joint,
      done: 'retorqued',
      torqueSetNm: null,
      coating: 'notTouched',
      photos: [],
      by: '',
      note: '',
    })
    const leftWith = (joint: string) => {
      const observed = observe({ ...read, record: [...read.record, repairOf(joint)] }, network)
      return countedObservations(observed, prepared).observations.length
    }
    expect(leftWith('R2/T1+T2~1')).toBe(0)
    expect(leftWith('R1/T1+T2~1')).toBe(0)
    expect(leftWith('C1.1~wire')).toBe(2)
  })

  it('has the shares, the mean and the spread of the network with its joint lifted out', () => {
    const cache = emptyLocateCache()
    const book = finish(bookAt(cache, prepared, 0))
    const { from, to } = network.graph
    const e = edgeOf('R1/T2+T3~1')
    const across = { a: from[e], b: to[e] }
    const [row, plain] = finish(rowsOfPairs(book, [{ ...across, around: e }, across]))
    const gamma = 1 / clampOhm(network.graph, prepared.conductanceS, e)
    expect(row.ofLoopS / gamma).toBeCloseTo(1, 9)
    expect(plain.ofLoopS).toBe(0)
    const lifted = rebuild(network.graph, changed(prepared.conductanceS, [e], [Infinity]))
    const current = lifted.currents(from[e], to[e])
    const scattering = scatteringOhm(prepared)
    const loopS = Float64Array.from(row.edge, (f) =>
      f === e
        ? 0
        : prepared.conductanceS[f] * (1 - prepared.conductanceS[f] * lifted.resistance(from[f], to[f])),
    )
    const scatter = scatterOfJoints(
      Float64Array.from(row.edge, (f) => scattering[f]),
      Float64Array.from(row.edge, (f) => network.lnSpread[f]),
      loopS,
    )
    let mean = 1 / gamma
    let variance = 0
    const byKind = new Float64Array(network.kinds.length)
    row.edge.forEach((f, k) => {
      const share = f === e ? 1 : current[f] ** 2
      expect(Math.abs(row.squared[k] - share)).toBeLessThan(1e-9)
      mean += share * scatter.meanOhm[k]
      variance += share * share * scatter.varianceOhm2[k]
      if (network.isEarthPath[f] === 0) byKind[network.kind[f]] += share * scattering[f]
    })
    byKind.forEach((ohm, kind) => (variance += (levelLnSd(network.kinds[kind].id) * ohm) ** 2))
    expect(row.meanOhm / mean).toBeCloseTo(1, 7)
    expect(covarianceOf(row, row) / variance).toBeCloseTo(1, 5)
    // as far as scatter goes the two readings share all joints of the loop
    expect(covarianceOf(row, plain)).toBeGreaterThan(0)
    const correlation = covarianceOf(row, plain) / Math.sqrt(variance * covarianceOf(plain, plain))
    expect(correlation).toBeLessThanOrEqual(1 + 1e-12)
  })

  const models = (read: Site) => {
    const observed = observe(read, network)
    const measurement = describeMeasurement(observed.observations, observed.intervals)
    const found = finish(
      modelLevels(prepared, observed.observations, measurement.ownSdOhm, 2, emptyLocateCache()),
    )
    return { ...found, measurement }
  }

  it('shows what a reading across the same joint cannot', () => {
    const { levels, candidates, measurement } = models(clampedSite(site, sound))
    const k = Array.from(candidates.edge).indexOf(edgeOf('R1/T2+T3~1'))
    expect(k).toBeGreaterThanOrEqual(0)
    const centre = present(
      levels.find(({ lnSoil }) => lnSoil === 0),
      'one level is that of the stated soil',
    )
    const size = riseInSds(centre, k, measurement.ownSdOhm)
    expect(size(Infinity)).toBe(Infinity)
    const rise = risesOhm(centre, k, 0.4, measurement.observations.length)
    const norm = Math.sqrt(rise.reduce((sum, ohm, p) => sum + (ohm / measurement.ownSdOhm[p]) ** 2, 0))
    expect(size(0.4) / norm).toBeCloseTo(1, 12)
  })

  it('is stated joint by joint where one direction does not do', () => {
    const across = withReadings(site, [{ from: 'R1/T1/L1.3', to: 'R2/T3/L1.3', ohm: 0.05 }])
    const round = clampedSite(site, sound)
    const { levels, candidates, measurement } = models(round)
    const prepareds = levels.map((model) => prepareLevel(model, measurement))
    const family = severityFamily(levels, 2, prepareds[2], measurement)
    const isOnLoop = Array.from(candidates.edge, (_, k) => {
      turnTo(family, k)
      return stateSeverity(family, 0.1) === null
    })
    for (const name of jumpers) {
      const k = Array.from(candidates.edge).indexOf(edgeOf(name))
      expect(isOnLoop[k], name).toBe(true)
    }
    // what is stated by direction is what it is by itself
    const work = evidenceWorkspace(prepareds[2].finite.length)
    const n = measurement.observations.length
    candidates.edge.forEach((edge, k) => {
      turnTo(family, k)
      for (const { addedOhm } of severitiesOf(network.medianOhm[edge])) {
        const stated = stateSeverity(family, addedOhm)
        if (!stated) continue
        const { logEvidence } = sumStated(stated, work, { quick: true })
        const direct = stateReadings(prepareds[2], measurement, badJointShift(levels, 2, k, addedOhm, n))
        expect(logEvidence).toBeCloseTo(sumStated(direct, work, { quick: true }).logEvidence, 5)
      }
    })
    expect(models(across).levels[0].loopOfReadingS).toBeUndefined()
  })
})

describe('locating with a loop clamp alone', () => {
  const around = [...jumpers, ...wires]

  it('finds nothing broken on a sound ring', () => {
    const answer = finish(locate(clampedSite(site, shownRound(around, new Map())), prepared))
    expect(answer.nothingBrokenProbability).toBeGreaterThan(0.7)
    expect(answer.readings.every(({ verdict }) => verdict === 'inLine')).toBe(true)
  })

  it('names the open jumper, and explains that the clamp round it is over range', () => {
    const open = 'R2/T1+T2~1'
    const shown = shownRound(around, new Map([[open, Infinity]]))
    expect(shown.get(open)).toBe(Infinity)
    expect(shown.get('R1/T1+T2~1')).toBeLessThan(clampKit.mostOhm)
    const answer = finish(locate(clampedSite(site, shown), prepared))
    expect(answer.groups[0].joints[0].joint).toBe(open)
    expect(answer.groups[0].probability).toBeGreaterThan(0.9)
    expect(answer.groups[0].openProbability).toBeGreaterThan(0.5)
    const round = answer.readings[around.indexOf(open)]
    expect(round).toMatchObject({ overRange: true, verdict: 'overRange', setAside: null })
    expect(round.poorContactProbability).toBeLessThan(0.05)
    expect(round.expectedWithSuspectOhm).toBeGreaterThan(clampKit.mostOhm)
  })

  it('names a raised jumper by how much', () => {
    const raised = 'R1/T2+T3~1'
    const answer = finish(locate(clampedSite(site, shownRound(around, new Map([[raised, 2.5]]))), prepared))
    const [first] = answer.groups
    expect(first.joints[0].joint).toBe(raised)
    const { low, high } = present(first.addedOhm, 'a raised joint has gained something')
    expect(low).toBeLessThan(2.5)
    expect(high).toBeGreaterThan(2.5)
    expect(high / low).toBeLessThan(3)
  })

  it('has joints by their names', () => {
    expect(around.map(edgeOf).map(nameOf)).toEqual(around)
  })
})
