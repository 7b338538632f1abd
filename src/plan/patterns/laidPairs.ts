/** A pair by the numbers of its parts; the first clip is on `from`. */
export interface LaidPair {
  readonly from: number
  readonly to: number
}

/** Two points of an order, by their places in it. */
export type PlacePair = readonly [number, number]

/**
 * Pairs of points of an order, gathered into set-ups along it: at each place where the first clip is put, all pairs
 * with it that were not laid yet, in order. Every pair needs one of its places among the set-ups. O(pairs log pairs).
 */
export function inSetUps(
  points: readonly number[],
  pairs: readonly PlacePair[],
  isSetUp: (place: number) => boolean,
): readonly LaidPair[] {
  const ofPlace = new Map<number, number[]>()
  for (const [one, other] of pairs) {
    const [near, far] = one < other ? [one, other] : [other, one]
    const at = isSetUp(near) ? near : far
    ofPlace.set(at, [...(ofPlace.get(at) ?? []), at === near ? far : near])
  }
  return [...ofPlace]
    .toSorted(([a], [b]) => a - b)
    .flatMap(([at, others]) =>
      others.toSorted((a, b) => a - b).map((other) => ({ from: points[at], to: points[other] })),
    )
}
