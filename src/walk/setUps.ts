import { fewPoints } from './cover.ts'

/** A set-up: its first clip stays on point `at`, the other goes to the far ends of its pairs. */
export interface SetUpOfPairs {
  readonly at: number
  /** Numbers of the pairs, in the order of the question, and the far end of each. */
  readonly pairs: readonly number[]
  readonly far: readonly number[]
}

/**
 * Groups pairs into set-ups, each pair in one: few first clips (`fewPoints`), for moving one costs minutes where a walk
 * within reach costs seconds. A pair both of whose ends carry a first clip goes where the walk grows least. Pairs join
 * the points `from[k]` and `to[k]`; set-ups by ascending point.
 */
export function setUpsOf(
  count: number,
  from: Int32Array,
  to: Int32Array,
  distanceM: (a: number, b: number) => number,
): readonly SetUpOfPairs[] {
  const isAt = fewPoints(count, from, to)
  const pairsAt = new Map<number, number[]>()
  const farAt = new Map<number, number[]>()
  for (let p = 0; p < count; p++) {
    if (isAt[p] === 0) continue
    pairsAt.set(p, [])
    farAt.set(p, [])
  }
  const put = (pair: number, at: number, far: number) => {
    pairsAt.get(at)!.push(pair)
    farAt.get(at)!.push(far)
  }
  const either: number[] = []
  for (let k = 0; k < from.length; k++) {
    if (isAt[from[k]] === 1 && isAt[to[k]] === 1) either.push(k)
    else if (isAt[from[k]] === 1) put(k, from[k], to[k])
    else put(k, to[k], from[k])
  }
  /** Metres from a set-up's points so far to one more. */
  const growthM = (at: number, point: number) =>
    farAt.get(at)!.reduce((leastM, far) => Math.min(leastM, distanceM(far, point)), distanceM(at, point))
  for (const k of either) {
    const [a, b] = [from[k], to[k]]
    if (growthM(a, b) <= growthM(b, a)) put(k, a, b)
    else put(k, b, a)
  }
  return [...pairsAt].map(([at, pairs]) => {
    const far = farAt.get(at)!
    const order = [...pairs.keys()].sort((i, k) => pairs[i] - pairs[k])
    return { at, pairs: order.map((i) => pairs[i]), far: order.map((i) => far[i]) }
  })
}

/**
 * A set-up of one pair has its first clip at either end: at the one that makes the way through all set-ups in an order
 * shortest, for all of them at once (dynamic programming along the order). O(set-ups).
 */
export function turnSingles(
  setUps: readonly SetUpOfPairs[],
  order: Int32Array,
  distanceM: (a: number, b: number) => number,
): readonly SetUpOfPairs[] {
  const ends = (number: number) => {
    const { at, far } = setUps[number]
    return far.length === 1 ? [at, far[0]] : [at]
  }
  const came: Int8Array[] = []
  let soFarM: number[] = []
  order.forEach((number, s) => {
    const before = s === 0 ? [] : ends(order[s - 1])
    const from = new Int8Array(2)
    soFarM = ends(number).map((end, k) => {
      let leastM = s === 0 ? 0 : Infinity
      before.forEach((there, b) => {
        const wayM = soFarM[b] + distanceM(there, end)
        if (wayM < leastM) [leastM, from[k]] = [wayM, b]
      })
      return leastM
    })
    came.push(from)
  })
  const turned = [...setUps]
  let choice = soFarM.length === 2 && soFarM[1] < soFarM[0] ? 1 : 0
  for (let s = order.length - 1; s >= 0; s--) {
    const { at, pairs, far } = setUps[order[s]]
    if (choice === 1) turned[order[s]] = { at: far[0], pairs, far: [at] }
    choice = came[s][choice]
  }
  return turned
}
