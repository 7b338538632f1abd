import { describe, expect, it } from 'vitest'
import { randomStream } from '../../src/base/random.ts'
import { sumOverContactStates, type StatesSum } from '../../src/locate/contactStates.ts'
import {
  describeMeasurement,
  evidenceWorkspace,
  prepareLevel,
  stateReadings,
  sumStated,
  type Stated,
} from '../../src/locate/evidence.ts'
import { badJointShift } from '../../src/locate/hypothesis.ts'
import { modelLevels } from '../../src/locate/levels.ts'
import { emptyLocateCache } from '../../src/locate/locateCache.ts'
import type { Drawing } from '../../src/model/schema/drawing.ts'
import { countedObservations, observe } from '../../src/locate/observations.ts'
import { severitiesOf } from '../../src/locate/severities.ts'
import { severityFamily, stateSeverity, turnTo } from '../../src/locate/severityFamily.ts'
import { directSum } from './directContactStates.ts'
import { finish, prepare, rowSite, withReadings, type Taken } from './rowSite.ts'

/** Two kits, poor contacts, over range, and now and then something far off: what one visit may bring. */
function visit(seed: number, count: number): readonly Taken[] {
  const random = randomStream(seed)
  const part = () => `R${1 + random.integer(2)}/T${1 + random.integer(6)}/L${1 + random.integer(4)}.1`
  return Array.from({ length: count }, (): Taken => {
    const [from, to] = [part(), part()]
    const kind = random.uniform()
    const kit = kind >= 0.2 && random.uniform() < 0.3 ? 'b' : 'a'
    const ohm = kind < 0.06 ? null : kind < 0.2 ? 0.05 + random.uniform() : 0.004 + 0.01 * random.uniform()
    return { from, to: to === from ? 'B1' : to, ohm, kit, surface: 'coated' }
  })
}

const sites = [
  { name: 'with soil', site: rowSite() },
  { name: 'without soil', site: rowSite(withoutSoil) },
]

/** No posts in soil, no rod: bridges whose opening leaves no path at all. */
function withoutSoil(drawing: Drawing): Drawing {
  return {
    ...drawing,
    electrodes: [],
    conductors: drawing.conductors.map((c) => ({ ...c, points: c.points.slice(1) })),
    tableTypes: drawing.tableTypes.map((type) =>
      type.posts ? { ...type, posts: { ...type.posts, soil: null } } : type,
    ),
  }
}

function setUp(site: ReturnType<typeof rowSite>, seed: number) {
  const prepared = prepare(site)
  const taken = withReadings(site, visit(seed, 14))
  const observed = observe(taken, prepared.network)
  const { observations } = countedObservations(observed, prepared)
  const measurement = describeMeasurement(observations, observed.intervals)
  const { levels: models, candidates } = finish(
    modelLevels(prepared, observations, measurement.ownSdOhm, 2, emptyLocateCache()),
  )
  const levels = models.map((model) => prepareLevel(model, measurement))
  return { prepared, measurement, models, candidates, levels }
}

type SetUp = ReturnType<typeof setUp>

/** Calls back with every candidate, severity and soil level: readings stated as one of a family, and by themselves. */
function eachHypothesis(
  { prepared, measurement, models, candidates, levels }: SetUp,
  tell: (family: Stated | null, direct: Stated) => void,
) {
  const n = measurement.observations.length
  levels.forEach((level, at) => {
    const family = severityFamily(models, at, level, measurement)
    candidates.edge.forEach((edge, k) => {
      turnTo(family, k)
      for (const { addedOhm } of severitiesOf(prepared.network.medianOhm[edge])) {
        const direct = stateReadings(level, measurement, badJointShift(models, at, k, addedOhm, n))
        tell(stateSeverity(family, addedOhm), direct)
      }
    })
  })
}

/**
 * ln of the evidence is a difference of squares, of which rounding leaves 1e-15 of the largest: residuals, and what a
 * column adds to a reading, both in units of the reading's variance.
 */
function largest({ states, level, sdOhm }: Stated): number {
  const { residualOhm } = states
  return level.finite.reduce(
    (most, p, i) => Math.max(most, Math.max(residualOhm[i] ** 2, sdOhm[p] ** 2) / level.varianceOhm2[p]),
    1,
  )
}

/** How far apart two sums are, in units of `largest`. */
function apart(one: StatesSum, other: StatesSum, scale: number): number {
  let most = Math.abs(one.logEvidence - other.logEvidence)
  one.spoiledProbability.forEach((x, p) => {
    most = Math.max(most, Math.abs(x - other.spoiledProbability[p]))
  })
  return most / scale
}

const relative = (a: number, b: number) =>
  a === b ? 0 : Math.abs(a - b) / Math.max(Math.abs(a), Math.abs(b))

describe.each(sites)('severities of a candidate, $name', ({ site }) => {
  it.each([1, 2, 3, 4, 5, 6])('are each what they are by themselves (visit %i)', (seed) => {
    const known = setUp(site, seed)
    const work = evidenceWorkspace(known.levels[0].finite.length)
    let compared = 0
    let mostApart = 0
    let plainApart = 0
    let mostRelative = 0
    eachHypothesis(known, (family, direct) => {
      if (!family) {
        expect(direct.predictedOhm).toContain(Infinity)
        return
      }
      compared++
      const scale = largest(direct)
      for (const quick of [true, false]) {
        const one = sumStated(family, work, { quick })
        mostApart = Math.max(mostApart, apart(one, sumStated(direct, work, { quick }), scale))
        const again = sumOverContactStates(direct.states, work, quick)
        plainApart = Math.max(plainApart, apart(again, directSum(direct.states, quick), scale))
      }
      family.sdOhm.forEach((sd, p) => {
        mostRelative = Math.max(mostRelative, relative(sd, direct.sdOhm[p]))
        mostRelative = Math.max(mostRelative, relative(family.predictedOhm[p], direct.predictedOhm[p]))
      })
    })
    expect(compared).toBeGreaterThan(100)
    expect(mostApart).toBeLessThan(1e-12)
    expect(plainApart).toBeLessThan(1e-12)
    expect(mostRelative).toBeLessThan(1e-12)
  })
})
