import type { Belief } from '../belief.ts'
import type { Target } from './target.ts'

/** No answer is charged more than −ln of this. */
export const leastProbability = 1e-6
/** States with less are not pooled: a site has hundreds of joints that nobody suspects. */
export const leastPooled = 0.001

/** How well a belief fits what was wrong. */
export interface Score {
  /** −ln of the chance given to a bad joint drawn by lot among those that could be seen, or to nothing. */
  readonly logScore: number
  readonly brier: number
  /** A bad joint is in the first group, in the first three; any bad joint, and one that could be seen. */
  readonly first: boolean
  readonly firstThree: boolean
  readonly firstSeen: boolean
  readonly firstThreeSeen: boolean
  /** The one joint that the method would look at first is bad; between equals by lot. */
  readonly firstLook: number
  readonly firstGroupSize: number
  /** Chance given to the first group, and to nothing. */
  readonly firstStated: number
  readonly nothing: number
  readonly callsHealthy: boolean
  /** Belief in the smallest set of groups and nothing that holds 90 %, and the share of what is wrong in it. */
  readonly setMass: number
  readonly setCovers: number
  /** Stated chance and outcome of nothing, and of each group that some joint of it is bad that could be seen. */
  readonly states: readonly (readonly [stated: number, outcome: number])[]
}

/** Share of what is wrong that lies in a set of joints: the chance that it holds one drawn by lot. */
function shareIn(edges: readonly number[], visible: readonly number[]): number {
  if (visible.length === 0) return 0
  return visible.filter((edge) => edges.includes(edge)).length / visible.length
}

/** The smallest set of groups, joints in no group and nothing that holds 90 % of a bad joint drawn by lot. */
function smallestSet({ nothing, joint, groups }: Belief, visible: readonly number[]) {
  const grouped = new Set(groups.flatMap(({ edges }) => edges))
  const alone = [...joint.keys()].filter((e) => joint[e] > 0 && !grouped.has(e)).map((e) => [e])
  const members = [
    { mass: nothing, covers: visible.length === 0 ? 1 : 0 },
    ...[...groups.map(({ edges }) => edges), ...alone].map((edges) => ({
      mass: edges.reduce((sum, e) => sum + joint[e], 0),
      covers: shareIn(edges, visible),
    })),
  ].sort((a, b) => b.mass - a.mass)
  let setMass = 0
  let setCovers = 0
  for (const { mass, covers } of members) {
    if (setMass >= 0.9) break
    setMass += mass
    setCovers += covers
  }
  return { setMass: Math.min(1, setMass), setCovers }
}

const log = (p: number) => -Math.log(Math.max(p, leastProbability))

export function scoreOf(belief: Belief, { faults, visible }: Target): Score {
  const { nothing, joint, groups } = belief
  const isNothing = visible.length === 0
  const share = isNothing ? 0 : 1 / visible.length
  const logScore = isNothing ? log(nothing) : visible.reduce((sum, e) => sum + share * log(joint[e]), 0)
  let brier = (nothing - (isNothing ? 1 : 0)) ** 2
  for (const [e, p] of joint.entries()) brier += (p - (visible.includes(e) ? share : 0)) ** 2
  const bad = faults.map(({ edge }) => edge)
  const hits = (among: readonly number[], count: number) =>
    groups.slice(0, count).some(({ edges }) => edges.some((edge) => among.includes(edge)))
  const most = joint.reduce((a, b) => Math.max(a, b), 0)
  const tied = [...joint.keys()].filter((e) => most > 0 && joint[e] >= most * (1 - 1e-9))
  const states = [
    { stated: nothing, outcome: isNothing ? 1 : 0 },
    ...groups.map(({ edges, probability }) => ({
      stated: probability,
      outcome: edges.some((edge) => visible.includes(edge)) ? 1 : 0,
    })),
  ].sort((a, b) => b.stated - a.stated)
  const { setMass, setCovers } = smallestSet(belief, visible)
  return {
    logScore,
    brier,
    first: hits(bad, 1),
    firstThree: hits(bad, 3),
    firstSeen: hits(visible, 1),
    firstThreeSeen: hits(visible, 3),
    firstLook: tied.length === 0 ? 0 : tied.filter((e) => bad.includes(e)).length / tied.length,
    firstGroupSize: groups[0]?.edges.length ?? 0,
    firstStated: groups[0]?.probability ?? 0,
    nothing,
    callsHealthy: belief.callsHealthy,
    setMass,
    setCovers,
    states: states.filter(({ stated }) => stated >= leastPooled).map((s) => [s.stated, s.outcome] as const),
  }
}
