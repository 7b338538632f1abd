/** Joints that a method does not tell apart, with the chance that the bad joint is among them. */
export interface BelievedGroup {
  readonly edges: readonly number[]
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

/** From weights that need not add up to 1; every joint its own group unless joints share one exact weight. */
export function beliefFrom(nothingWeight: number, weight: Float64Array): Belief {
  const sum = nothingWeight + weight.reduce((a, b) => a + b, 0)
  const joint = weight.map((w) => w / sum)
  const order = Array.from(joint.keys())
    .filter((e) => joint[e] > 0)
    .sort((a, b) => joint[b] - joint[a] || a - b)
  const groups: { edges: number[]; probability: number }[] = []
  let last = NaN
  for (const e of order) {
    if (Math.abs(joint[e] - last) <= 1e-9 * last) {
      groups[groups.length - 1].edges.push(e)
      groups[groups.length - 1].probability += joint[e]
    } else groups.push({ edges: [e], probability: joint[e] })
    last = joint[e]
  }
  groups.sort((a, b) => b.probability - a.probability)
  const nothing = nothingWeight / sum
  return { nothing, joint, groups, callsHealthy: nothing >= (groups[0]?.probability ?? 0) }
}
