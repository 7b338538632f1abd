import { assert } from '../base/assert.ts'
import { portion, wholly } from '../base/portion.ts'
import type { SiteIndex } from '../layout/siteIndex.ts'
import { readingMin, type Persons } from './effort.ts'
import { straightM } from './reach.ts'
import { rove, type Rove } from './rove.ts'
import { setUpsOf, turnSingles, type SetUpOfPairs } from './setUps.ts'
import { prepareGround, type Ground } from './ground/ground.ts'
import { standsFor } from './ground/stands.ts'
import { stopsOn } from './ground/ways.ts'
import { sharesPoint, tyingPairs } from './ties.ts'
import { pathBoundM } from './tour/bound.ts'
import { someStops, type Stops } from './tour/stops.ts'
import { lengthOfM, shortPath } from './tour/tour.ts'

/** Two parts to be measured between, by their numbers, in any order. */
export interface PartPair {
  readonly a: number
  readonly b: number
}

export interface WalkTerms {
  readonly persons: Persons
  /** Straight metres that the lead spans; null where nothing is to be tied. */
  readonly reachM?: number | null
  /** The ground of the same site, where it was prepared before. */
  readonly ground?: Ground
}

/** A pair in walking order. */
export interface LaidOutPair {
  /** Its number in the question. */
  readonly pair: number
  /** The part that the first clip stays on, and that of the other one. */
  readonly from: number
  readonly to: number
  /** Number of its set-up, from 0. */
  readonly setUp: number
  /**
   * Metres on foot from the pair before, for the first of a set-up by way of its first clip; the last of a set-up has
   * the way back to its first clip on top, so that all ways add up.
   */
  readonly wayM: number
  readonly minutes: number
}

export interface LaidOutSetUp {
  readonly at: number
  readonly pairs: number
  readonly wayM: number
  readonly minutes: number
  /** A point of it is also one of the set-up before: the two tie up. Of the first one false. */
  readonly sharesPoint: boolean
}

export interface LaidOutWalk {
  readonly order: readonly LaidOutPair[]
  readonly setUps: readonly LaidOutSetUp[]
  readonly wayM: number
  readonly minutes: number
  /**
   * Pairs that may be added so that every set-up shares a point with the one before, and the offsets of both tie up:
   * within reach and for few minutes each. Parts by their numbers, in walking order.
   */
  readonly ties: readonly {
    readonly setUp: number
    readonly a: number
    readonly b: number
    readonly minutes: number
  }[]
  /** No walk through these set-ups is shorter, in metres; never above `wayM`. */
  readonly wayBoundM: number
}

/**
 * The walk through chosen pairs: each goes to one set-up; set-ups and the pairs of each stand in the order of a short
 * walk that begins and ends anywhere. From the first clip one goes to all far ends and back to it, takes it off and
 * goes to the next (`effort.ts` has what persons and minutes stand for).
 *
 * Every part must be somewhere: remote earth cannot be walked to. Determinate. Yields the fraction done.
 */
export function* layOutWalk(
  index: SiteIndex,
  pairs: readonly PartPair[],
  { persons, reachM = null, ground: prepared }: WalkTerms,
): Generator<number, LaidOutWalk> {
  if (pairs.length === 0) return { order: [], setUps: [], wayM: 0, minutes: 0, ties: [], wayBoundM: 0 }
  const { parts, from, to } = pointsOf(pairs)
  const ground = prepared ?? (yield* portion(prepareGround(index), 0, 0.25))
  const stops = stopsOn(ground, standsFor(ground, parts))
  yield 0.3
  const grouped = setUpsOf(parts.length, from, to, stops.distanceM)
  const first = yield* portion(shortPath(placesOf(stops, grouped)), 0.3, 0.2)
  const setUps = turnSingles(grouped, first, stops.distanceM)
  const roves = setUps.map(({ at, far }) => rove(stops, at, far))
  const places = placesOf(stops, setUps)
  const order = yield* portion(shortPath(places), 0.5, 0.2)
  const betweenM = lengthOfM(order, places, false)
  const betweenBoundM = yield* portion(pathBoundM(places, betweenM, order), 0.7, 0.3)
  const walk = walkOf({ parts, stops, setUps, roves, order, persons })
  const roveBoundM = roves.reduce((sumM, { boundM }) => sumM + boundM, 0)
  const straightOf = (a: number, b: number) => straightM(index, parts[a], parts[b])
  const ties =
    reachM === null
      ? []
      : tyingPairs(setUps, order, stops, straightOf, reachM).map(({ setUp, at, to, minutes }) => {
          return { setUp, a: parts[at], b: parts[to], minutes }
        })
  return { ...walk, ties, wayBoundM: Math.min(walk.wayM, betweenBoundM + roveBoundM) }
}

const placesOf = (stops: Stops, setUps: readonly SetUpOfPairs[]) =>
  someStops(
    stops,
    Int32Array.from(setUps, ({ at }) => at),
  )

/** The parts of some pairs, each once, ascending, and the pairs by their places among them. */
function pointsOf(pairs: readonly PartPair[]): {
  readonly parts: Int32Array
  readonly from: Int32Array
  readonly to: Int32Array
} {
  const parts = Int32Array.from(new Set(pairs.flatMap(({ a, b }) => [a, b]))).sort()
  const place = new Map(Array.from(parts, (part, k) => [part, k]))
  pairs.forEach(({ a, b }, k) => assert(a !== b, `pair ${k} has part ${a} at both ends`))
  return {
    parts,
    from: Int32Array.from(pairs, ({ a }) => place.get(a)!),
    to: Int32Array.from(pairs, ({ b }) => place.get(b)!),
  }
}

interface Planned {
  readonly parts: Int32Array
  readonly stops: Stops
  readonly setUps: readonly SetUpOfPairs[]
  readonly roves: readonly Rove[]
  readonly order: Int32Array
  readonly persons: Persons
}

function walkOf({
  parts,
  stops,
  setUps,
  roves,
  order,
  persons,
}: Planned): Omit<LaidOutWalk, 'wayBoundM' | 'ties'> {
  const walked: LaidOutPair[] = []
  const done: LaidOutSetUp[] = []
  order.forEach((number, s) => {
    const { at, pairs, far } = setUps[number]
    const toClipM = s === 0 ? 0 : stops.distanceM(setUps[order[s - 1]].at, at)
    let here = at
    const own = roves[number].order.map((k, place): LaidOutPair => {
      const isFirst = place === 0
      const isLast = place === pairs.length - 1
      const wayM =
        (isFirst ? toClipM : 0) + stops.distanceM(here, far[k]) + (isLast ? stops.distanceM(far[k], at) : 0)
      here = far[k]
      const minutes = readingMin({ wayM, movesReference: isFirst, changesLead: false, persons })
      return { pair: pairs[k], from: parts[at], to: parts[far[k]], setUp: s, wayM, minutes }
    })
    walked.push(...own)
    done.push({
      at: parts[at],
      pairs: own.length,
      wayM: sumOf(own, ({ wayM }) => wayM),
      minutes: sumOf(own, ({ minutes }) => minutes),
      sharesPoint: s > 0 && sharesPoint(setUps[order[s - 1]], setUps[number]),
    })
  })
  return {
    order: walked,
    setUps: done,
    wayM: sumOf(done, ({ wayM }) => wayM),
    minutes: sumOf(done, ({ minutes }) => minutes),
  }
}

function sumOf<T>(of: readonly T[], value: (each: T) => number): number {
  return of.reduce((sum, each) => sum + value(each), 0)
}

/** The whole walk at once, for callers that do not pause. */
export function layOutWholeWalk(index: SiteIndex, pairs: readonly PartPair[], terms: WalkTerms): LaidOutWalk {
  return wholly(layOutWalk(index, pairs, terms))
}
