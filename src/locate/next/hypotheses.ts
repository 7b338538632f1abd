import type { Posterior } from '../posterior.ts'
import { badJointsOf, joined, setKey, type MemberList } from '../sets/setInputs.ts'
import type { BadJoint } from '../sets/setShift.ts'

/** One thing that may be the case, with its share of the posterior; the weights of all add up to 1. */
export interface Hypothesis {
  /** 0: nothing is bad in the region; from 1 on: one set of its joints each; the last: sets without a listed joint. */
  readonly classOf: number
  readonly weight: number
  /** Number of the soil level. */
  readonly level: number
  /** What is bad in the region, by edge; empty where nothing is. */
  readonly edges: readonly number[]
  /** The same with what is likeliest elsewhere, with severities. */
  readonly members: MemberList
  readonly bad: readonly BadJoint[]
}

/**
 * Hypotheses sorted into classes, one for each set of bad joints: a further reading may well tell joints apart that those
 * taken do not. Joints that no reading tells apart are in classes that no reading moves differently, which costs nothing.
 */
export interface Hypotheses {
  readonly region: number
  readonly classes: number
  /** Of each class: 0 for nothing bad, 1 + g where the likeliest of its joints is in group g, the last for no group. */
  readonly groupClassOf: Int32Array
  readonly groupClasses: number
  /** Heaviest first. */
  readonly all: readonly Hypothesis[]
}

const keptShare = 0.995
const mostKept = 150
/** A group with so much is not lost altogether. */
const leastOfGroup = 1e-4

interface State {
  readonly members: MemberList
  /** Those that are likelier bad than sound and unlucky. */
  readonly faulty: MemberList
  readonly level: number
  readonly weight: number
  readonly group: number
}

/** What the region may be, heaviest first, with the number of the group class. */
function statesOf({ sets, groups, ranking }: Posterior, region: number): readonly State[] {
  if (region >= sets.regions.length)
    return [{ members: [], faulty: [], level: ranking.soundLevel, weight: 1, group: 0 }]
  const groupOf = new Map<number, number>()
  groups.forEach(({ joints }, g) => joints.forEach(({ candidate }) => groupOf.set(candidate, 1 + g)))
  const last = groups.length + 1
  return sets.regions[region].states.map(({ members, level, probability, badShare }): State => {
    const faulty = members.filter((_, m) => badShare[m] > 0.5)
    const of = faulty.map(({ candidate }) => groupOf.get(candidate) ?? last)
    return { members, faulty, level, weight: probability, group: of.length === 0 ? 0 : Math.min(...of) }
  })
}

/**
 * The heaviest states of one region, until 99.5 % of the posterior are covered or 150 are kept, beside what is likeliest
 * in the others; nothing bad always among them, and the heaviest of each group that weighs anything. The weight of the
 * rest goes to those kept of its group; that of a group without any, to all.
 */
export function heaviestHypotheses(posterior: Posterior, region: number): Hypotheses {
  const { inputs, sets, groups, candidates } = posterior
  const groupClasses = groups.length + 2
  const states = statesOf(posterior, region)
  const whole = new Float64Array(groupClasses)
  for (const { group, weight } of states) whole[group] += weight
  const keptOf = new Float64Array(groupClasses)
  const kept: State[] = []
  let covered = 0
  for (const state of states) {
    const isWanted = covered < keptShare && kept.length < mostKept
    const isOnly = keptOf[state.group] === 0 && whole[state.group] >= leastOfGroup
    if (!isWanted && !isOnly && state.members.length > 0) continue
    kept.push(state)
    covered += state.weight
    keptOf[state.group] += state.weight
  }
  const total = whole.reduce((sum, weight, g) => (keptOf[g] > 0 ? sum + weight : sum), 0)
  const { classOf, groupClassOf } = classesOf(kept, groupClasses)
  const inRegion = new Set(sets.regions[region]?.candidates ?? [])
  const others = sets.best.members.filter(({ candidate }) => !inRegion.has(candidate))
  const all = kept.map(({ members, faulty, level, weight, group }): Hypothesis => {
    const site = joined(members, others)
    const share = keptOf[group] > 0 ? weight / keptOf[group] : 0
    return {
      classOf: classOf.get(setKey(faulty)) ?? groupClassOf.length - 1,
      weight: (share * whole[group]) / total,
      level,
      edges: faulty.map(({ candidate }) => candidates.edge[candidate]),
      members: site,
      bad: badJointsOf(inputs, site),
    }
  })
  return { region, classes: groupClassOf.length, groupClassOf, groupClasses, all }
}

/** A class for nothing bad, for each set with a listed joint that is kept, and for all other sets. */
function classesOf(kept: readonly State[], groupClasses: number) {
  const classOf = new Map([['', 0]])
  const groupClassOf = [0]
  for (const { faulty, group } of kept) {
    const key = setKey(faulty)
    if (!classOf.has(key) && group < groupClasses - 1) classOf.set(key, groupClassOf.push(group) - 1)
  }
  groupClassOf.push(groupClasses - 1)
  return { classOf, groupClassOf: Int32Array.from(groupClassOf) }
}
