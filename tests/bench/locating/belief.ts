/** Joints that a method does not tell apart. */
export interface BelievedGroup {
  readonly edges: readonly number[]
  /** Chance that some joint of the group is bad; over groups and nothing they may add up to more than 1. */
  readonly probability: number
}

/**
 * What a method thinks of a site: chance that nothing is bad that could be seen, and for each edge of the
 * drawn network that it is the bad joint (of several, one drawn by lot). They add up to 1.
 */
export interface Belief {
  readonly nothing: number
  readonly joint: Float64Array
  /** Best first. */
  readonly groups: readonly BelievedGroup[]
  readonly callsHealthy: boolean
}

/**
 * From weights that need not add up to 1; every joint its own group unless joints share one exact weight. By `weight`
 * the bad joint drawn by lot, by `badWeight` on the same scale that a joint is bad at all, others or not.
 */
export function beliefFrom(
  nothingWeight: number,
  weight: Float64Array,
  badWeight: Float64Array = weight,
): Belief {
  const sum = nothingWeight + weight.reduce((a, b) => a + b, 0)
  const joint = weight.map((w) => w / sum)
  const order = Array.from(joint.keys())
    .filter((e) => joint[e] > 0)
    .sort((a, b) => joint[b] - joint[a] || a - b)
  const nothing = nothingWeight / sum
  const gathered: number[][] = []
  let last = NaN
  for (const e of order) {
    if (Math.abs(joint[e] - last) <= 1e-9 * last) gathered[gathered.length - 1].push(e)
    else gathered.push([e])
    last = joint[e]
  }
  const groups = gathered
    .map((edges) => {
      const bad = edges.reduce((all, e) => all + badWeight[e], 0) / sum
      return { edges, probability: Math.min(1 - nothing, bad) }
    })
    .sort((a, b) => b.probability - a.probability)
  return { nothing, joint, groups, callsHealthy: nothing >= (groups[0]?.probability ?? 0) }
}
