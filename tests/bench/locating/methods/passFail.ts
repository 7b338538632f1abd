import { largestRiseOhm } from '../../../../src/network/jointSweep.ts'
import { beliefFrom, type Belief } from '../belief.ts'
import type { TypedSite } from '../typedSite.ts'
import { expectedReading } from './expectedReading.ts'
import { smallestHittingSets } from './hittingSets.ts'
import { priorWeights } from './priorOnly.ts'

const sigmas = 3
/** How sure the method is of what it says; the rest is left to the catalogue's rates. */
export const certainty = 0.6

export interface JudgedReadings {
  /** Numbers of the readings above what a sound array may read. */
  readonly fails: readonly number[]
  readonly excessOhm: readonly number[]
  /** Whether an open joint would make a reading fail. */
  sees(p: number, edge: number): boolean
}

export function judge(typed: TypedSite): JudgedReadings {
  const { readings, prepared } = typed
  const expected = readings.map((reading) => expectedReading(typed, reading))
  const excessOhm = readings.map(({ shownOhm }, p) => shownOhm - expected[p].meanOhm)
  return {
    fails: [...readings.keys()].filter((p) => excessOhm[p] > sigmas * expected[p].sdOhm),
    excessOhm,
    sees: (p, edge) =>
      largestRiseOhm(readings[p].squared[edge], prepared.loopS[edge]) > sigmas * expected[p].sdOhm,
  }
}

/** Puts the certainty on what a rule of thumb names, and the rest where the catalogue's rates put it. */
export function withCertainty(typed: TypedSite, named: 'nothing' | ReadonlyMap<number, number>): Belief {
  const prior = beliefFrom(1, priorWeights(typed))
  const weight = prior.joint.map((p) => (1 - certainty) * p)
  const nothing = (1 - certainty) * prior.nothing + (named === 'nothing' ? certainty : 0)
  if (named !== 'nothing') {
    const sum = [...named.values()].reduce((a, b) => a + b, 0)
    for (const [edge, w] of named) weight[edge] += (certainty * w) / sum
  }
  return beliefFrom(nothing, weight)
}

/**
 * The smallest sets of open joints that explain every failed reading and contradict no passed one. A failed
 * reading that no such joint explains is taken for a poor contact.
 */
export function smallestConsistentSet(typed: TypedSite): Belief {
  const { readings, prepared } = typed
  const { fails, sees } = judge(typed)
  const failed = new Set(fails)
  const passed = [...readings.keys()].filter((p) => !failed.has(p))
  const free = Array.from(prepared.network.defectRate.keys()).filter(
    (e) => prepared.network.defectRate[e] > 0 && !passed.some((p) => sees(p, e)),
  )
  const sets = fails.map((p) => new Set(free.filter((e) => sees(p, e)))).filter((set) => set.size > 0)
  if (sets.length === 0) return withCertainty(typed, 'nothing')
  const named = new Map<number, number>()
  for (const set of smallestHittingSets(sets)) {
    for (const edge of set) named.set(edge, (named.get(edge) ?? 0) + 1)
  }
  return withCertainty(typed, named)
}
