import { portion } from '../base/portion.ts'
import type { WalkPath } from '../model/walkPath.ts'
import { readingMin, type Persons } from './effort.ts'
import type { Ground } from './ground/ground.ts'
import type { LaidOutPair, LaidOutSetUp, LaidOutWalk } from './layOut.ts'
import { walkPathOf } from './walkPath.ts'

/** Two parts by their numbers, the first clip on `from`. */
export interface DirectedPair {
  readonly from: number
  readonly to: number
}

export interface GivenWalk {
  readonly walk: Omit<LaidOutWalk, 'wayBoundM' | 'ties'>
  readonly path: WalkPath
}

/**
 * The walk through pairs in the order in which they are given: pairs that follow one another from the same part are one
 * set-up. Minutes and ways as `layOutWalk` counts them; the way of a set-up is counted at its first pair.
 */
export function* givenWalk(
  ground: Ground,
  pairs: readonly DirectedPair[],
  persons: Persons,
): Generator<number, GivenWalk> {
  const order: LaidOutPair[] = []
  const setUps: LaidOutSetUp[] = []
  pairs.forEach(({ from, to }, pair) => {
    const last = setUps.at(-1)
    if (last?.at === from) setUps[setUps.length - 1] = { ...last, pairs: last.pairs + 1 }
    else setUps.push({ at: from, pairs: 1, wayM: 0, minutes: 0, sharesPoint: false })
    order.push({ pair, from, to, setUp: setUps.length - 1, wayM: 0, minutes: 0 })
  })
  const bare = { order, setUps, wayM: 0, minutes: 0, ties: [], wayBoundM: 0 }
  const path = yield* portion(walkPathOf(ground, bare), 0, 0.9)
  const waysM = path.setUps.map(({ approachM, roundM }) => lengthM(approachM) + lengthM(roundM))
  const timed = order.map((each, k): LaidOutPair => {
    const isFirst = k === 0 || order[k - 1].setUp !== each.setUp
    const wayM = isFirst ? waysM[each.setUp] : 0
    return {
      ...each,
      wayM,
      minutes: readingMin({ wayM, movesReference: isFirst, changesLead: false, persons }),
    }
  })
  const walked = setUps.map((setUp, s): LaidOutSetUp => {
    const own = timed.filter((each) => each.setUp === s)
    return { ...setUp, wayM: waysM[s], minutes: own.reduce((sum, { minutes }) => sum + minutes, 0) }
  })
  const wayM = waysM.reduce((sum, each) => sum + each, 0)
  const minutes = walked.reduce((sum, each) => sum + each.minutes, 0)
  return { walk: { order: timed, setUps: walked, wayM, minutes }, path }
}

/** Of a line x y x y … in metres. */
export function lengthM(line: Float64Array): number {
  let sumM = 0
  for (let i = 2; i + 1 < line.length; i += 2) {
    sumM += Math.hypot(line[i] - line[i - 2], line[i + 1] - line[i - 1])
  }
  return sumM
}
