import { randomStream } from '../../../src/base/random.ts'
import { wilsonInterval } from '../wilson.ts'
import type { Row } from './results.ts'
import { binned, calibrationError } from './scores/calibration.ts'
import { bootstrapInterval, meanInterval, type Interval } from './scores/interval.ts'
import type { Score } from './scores/score.ts'

/** Rows that hold a method's score. */
export function scored(rows: readonly Row[], method: string): { row: Row; score: Score }[] {
  return rows.flatMap((row) => (method in row.methods ? [{ row, score: row.methods[method] }] : []))
}

/** A share with Wilson's interval. */
export interface Share {
  readonly hits: number
  readonly tries: number
  readonly low: number
  readonly high: number
}

export function shareOf<T>(items: readonly T[], isHit: (item: T) => boolean): Share {
  const hits = items.filter(isHit).length
  return { hits, tries: items.length, ...wilsonInterval(hits, items.length) }
}

export interface MethodFigures {
  readonly scenarios: number
  readonly first: Share
  readonly firstThree: Share
  /** Of all with something bad, seen or not. */
  readonly firstOverall: Share
  readonly firstThreeOverall: Share
  readonly firstLook: Interval
  readonly groupSize: number
  readonly healthy: Share
  readonly logScore: Interval
  /** With one bad joint to be seen at most. */
  readonly logScoreOfOne: Interval
  readonly brier: Interval
  readonly states: number
  readonly setMass: Interval
  /** Coverage less stated mass of the 90 % sets, scenario by scenario. */
  readonly setExcess: Interval
}

export function methodFigures(rows: readonly Row[], method: string): MethodFigures {
  const all = scored(rows, method)
  const seen = all.filter(({ row }) => row.visible > 0)
  const faulty = all.filter(({ row }) => row.faults > 0)
  const sound = all.filter(({ row }) => row.visible === 0)
  return {
    scenarios: all.length,
    first: shareOf(seen, ({ score }) => score.firstSeen),
    firstThree: shareOf(seen, ({ score }) => score.firstThreeSeen),
    firstOverall: shareOf(faulty, ({ score }) => score.first),
    firstThreeOverall: shareOf(faulty, ({ score }) => score.firstThree),
    firstLook: meanInterval(seen.map(({ score }) => score.firstLook)),
    groupSize: meanInterval(seen.map(({ score }) => score.firstGroupSize)).value,
    healthy: shareOf(sound, ({ score }) => score.callsHealthy),
    logScore: meanInterval(all.map(({ score }) => score.logScore)),
    logScoreOfOne: meanInterval(all.filter(({ row }) => row.visible <= 1).map(({ score }) => score.logScore)),
    brier: meanInterval(all.map(({ score }) => score.brier)),
    states: all.reduce((sum, { score }) => sum + score.states.length, 0),
    setMass: meanInterval(all.map(({ score }) => score.setMass)),
    setExcess: meanInterval(all.map(({ score }) => score.setCovers - score.setMass)),
  }
}

/** Calibration error of all states of a method; scenarios are drawn again for its interval. */
export function calibrationOf(rows: readonly Row[], method: string): Interval {
  return bootstrapInterval(
    scored(rows, method),
    (items) => calibrationError(binned(items.flatMap(({ score }) => score.states))),
    randomStream(77),
    100,
  )
}

/** First groups stated at some chance and more: how often they hold a bad joint, and what was stated on average. */
export interface Sure {
  readonly right: Share
  readonly stated: number
}

/** `seen`: only a bad joint that could be seen counts. */
export function sureOf(rows: readonly Row[], method: string, from: number, counts: 'seen' | 'any'): Sure {
  const sure = scored(rows, method).filter(({ score }) => score.firstStated >= from)
  return {
    right: shareOf(sure, ({ score }) => (counts === 'seen' ? score.firstSeen : score.first)),
    stated: meanInterval(sure.map(({ score }) => score.firstStated)).value,
  }
}

/** Mean difference of two methods' log scores on the scenarios that both were asked about. */
export function logScoreLess(rows: readonly Row[], method: string, other: string): Interval {
  const both = rows.filter(({ methods }) => method in methods && other in methods)
  return meanInterval(both.map(({ methods }) => methods[method].logScore - methods[other].logScore))
}

/** Log score of a method less that of the ceiling on the same scenarios. */
export function regretOf(rows: readonly Row[], method: string): Interval & { readonly scenarios: number } {
  const both = rows.filter(({ methods }) => method in methods && 'ceiling' in methods)
  return { ...logScoreLess(both, method, 'ceiling'), scenarios: both.length }
}
