import { assert, present } from '../../../src/base/assert.ts'
import { emptySiteCache, type SiteCache } from '../../../src/engine/siteCache.ts'
import { partIndexOf } from '../../../src/layout/partIndex.ts'
import type { SiteIndex } from '../../../src/layout/siteIndex.ts'
import { parsePartAddress } from '../../../src/model/address.ts'
import type { CoverageAnswer, PlanAnswer, PlanPairInput, PlanTerms } from '../../../src/model/planning.ts'
import { layOutWalk } from '../../../src/walk/layOut.ts'
import { prepareGround, type Ground } from '../../../src/walk/ground/ground.ts'
import { runToEnd } from '../../generator/locateIn.ts'
import { timed } from './askEngine.ts'
import type { BenchSite } from './benchSites.ts'
import { otherNames, otherPlan, type OtherName } from './otherPlans.ts'
import { askedOf, type AskedName, type PlanFigures, type Shows } from './planFigures.ts'
import { allReachablePairs, indexOf } from './pointsOfSite.ts'

/** All pairs are asked for up to so many joints and pairs; above, each joint's own ends say what can be shown. */
const mostJoints = 2000
const mostPairs = 250_000

/** One site with what its questions share. */
export interface Measured {
  readonly bench: BenchSite
  readonly index: SiteIndex
  readonly ground: Ground
  readonly cache: SiteCache
  readonly terms: PlanTerms
}

export function openSite(bench: BenchSite): Measured {
  const index = indexOf(bench.site.drawing)
  const terms = {
    countIncidental: true,
    asBuilt: false,
    kit: bench.kit,
    lead: bench.lead,
    severity: 'open',
  } as const
  return { bench, index, ground: runToEnd(prepareGround(index)), cache: emptySiteCache(), terms }
}

export const seenOf = ({ counts }: CoverageAnswer): number => counts.criterion + counts.comparison

export function coverageOf(
  { bench, cache, terms }: Measured,
  pairs: readonly PlanPairInput[],
  severity: PlanTerms['severity'] = 'open',
): CoverageAnswer {
  return timed('coverage', { ...terms, severity, pairs }, bench.site, cache).answer
}

/** What pairs show, and the walk that their order is made into. */
export function showsOf(measured: Measured, pairs: readonly PlanPairInput[]): Shows {
  const { index, ground } = measured
  const coverage = coverageOf(measured, pairs)
  const numbers = pairs.map(({ from, to }) => ({ a: partNumber(index, from), b: partNumber(index, to) }))
  const walk = runToEnd(layOutWalk(index, numbers, { persons: 1, ground }))
  return {
    pairs: pairs.length,
    seen: seenOf(coverage),
    twice: coverage.twice,
    toldApart: coverage.toldApart,
    setUps: walk.setUps.length,
    wayM: walk.wayM,
    minutes: walk.minutes,
  }
}

function partNumber(index: SiteIndex, address: string): number {
  return partIndexOf(index, present(parsePartAddress(address), `${address} is an address`))
}

/** Asks for a plan as a user does who has just opened the file, with nothing worked out before. */
export function proposed({ bench, terms }: Measured, asked: AskedName) {
  const { tellApart, timesShown } = askedOf[asked]
  const input = {
    ...terms,
    required: [],
    how: 'proposed',
    tellApart,
    timesShown,
    mostMinutes: null,
    persons: 1,
  } as const
  return timed('plan', input, bench.site, emptySiteCache())
}

export type Attainable = PlanFigures['attainable']

export function attainableOf(measured: Measured, planned: CoverageAnswer): Attainable {
  const { index, terms } = measured
  const reachM = planned.with.reachM
  assert(terms.severity === planned.severity, 'one severity for all')
  if (planned.joints <= mostJoints) {
    const pairs = allReachablePairs(index, reachM)
    if (pairs.length <= mostPairs) {
      const all = coverageOf(measured, pairs)
      return { by: 'allPairs', seen: seenOf(all), toldApart: all.toldApart }
    }
  }
  return { by: 'ownEnds', seen: seenOf(planned) + planned.counts.addPair, toldApart: null }
}

export function othersOf(
  measured: Measured,
  { pairs, coverage }: PlanAnswer,
): Readonly<Record<OtherName, readonly PlanPairInput[]>> {
  const lay = (name: OtherName) =>
    otherPlan(name, measured.index, coverage.with.reachM, pairs.length, 20260606)
  return Object.fromEntries(otherNames.map((name) => [name, lay(name)])) as Record<
    OtherName,
    readonly PlanPairInput[]
  >
}
