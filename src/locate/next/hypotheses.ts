import type { JointGroup } from '../groups.ts'
import type { Ranking } from '../rank.ts'

/** One thing that may be the case, with its share of the posterior; the weights of all add up to 1. */
export interface Hypothesis {
  /** 0: nothing is bad; from 1 on: one joint each; the last: the joints of no group. */
  readonly classOf: number
  readonly weight: number
  /** Number of the soil level. */
  readonly level: number
  /** Index into the candidates and joint; −1 where nothing is bad. */
  readonly candidate: number
  readonly edge: number
  readonly addedOhm: number
}

/**
 * Hypotheses sorted into classes, one for each joint: a further reading may well tell joints apart that those taken do
 * not. Joints that no reading tells apart are in classes that no reading moves differently, which costs nothing.
 */
export interface Hypotheses {
  readonly classes: number
  /** Of each class: 0 for nothing bad, 1 + g for a joint of group g, the last for the joints of no group. */
  readonly groupClassOf: Int32Array
  readonly groupClasses: number
  /** Heaviest first. */
  readonly all: readonly Hypothesis[]
}

const keptShare = 0.995
const mostKept = 150
/** A group with so much is not lost altogether. */
const leastOfGroup = 1e-4

type State = Omit<Hypothesis, 'classOf'> & { readonly group: number }

/** Heaviest first. */
const byWeight = (a: State, b: State) => b.weight - a.weight || a.edge - b.edge || a.addedOhm - b.addedOhm

/** Nothing bad, and every state of every ranked joint, with the number of its group class. */
function statesOf(ranking: Ranking, groups: readonly JointGroup[]): readonly State[] {
  const groupOf = new Map<number, number>()
  groups.forEach(({ joints }, g) => joints.forEach(({ candidate }) => groupOf.set(candidate, 1 + g)))
  const weightOf = (log: number) => Math.exp(log - ranking.logTotal)
  const { soundLevel: level, soundLogWeight } = ranking
  const sound: State = {
    group: 0,
    weight: weightOf(soundLogWeight),
    level,
    candidate: -1,
    edge: -1,
    addedOhm: 0,
  }
  const bad = ranking.joints.flatMap(({ candidate, edge, states }) =>
    states.map(({ severity: { addedOhm }, logWeight, level }): State => {
      const group = groupOf.get(candidate) ?? groups.length + 1
      return { group, weight: weightOf(logWeight), level, candidate, edge, addedOhm }
    }),
  )
  return [sound, ...bad.sort(byWeight)]
}

/**
 * The heaviest states of nothing bad and of every ranked joint, until 99.5 % of the posterior are covered or 150 are
 * kept; nothing bad always among them, and the heaviest of each group that weighs anything. The weight of the rest
 * goes to those kept of its group; that of a group without any, to all.
 */
export function heaviestHypotheses(ranking: Ranking, groups: readonly JointGroup[]): Hypotheses {
  const groupClasses = groups.length + 2
  const states = statesOf(ranking, groups)
  const whole = new Float64Array(groupClasses)
  for (const { group, weight } of states) whole[group] += weight
  const keptOf = new Float64Array(groupClasses)
  const kept: State[] = []
  let covered = 0
  for (const state of states) {
    const isWanted = kept.length === 0 || (covered < keptShare && kept.length < mostKept)
    const isOnly = keptOf[state.group] === 0 && whole[state.group] >= leastOfGroup
    if (!isWanted && !isOnly) continue
    kept.push(state)
    covered += state.weight
    keptOf[state.group] += state.weight
  }
  const total = whole.reduce((sum, weight, g) => (keptOf[g] > 0 ? sum + weight : sum), 0)
  const { classOf, groupClassOf } = classesOf(kept, groups)
  const all = kept.toSorted(byWeight).map(({ group, ...state }): Hypothesis => {
    const share = keptOf[group] > 0 ? state.weight / keptOf[group] : 0
    const own = classOf.get(state.candidate) ?? groupClassOf.length - 1
    return { ...state, classOf: own, weight: (share * whole[group]) / total }
  })
  return { classes: groupClassOf.length, groupClassOf, groupClasses, all }
}

/** A class for nothing bad, for each joint of a group with a state that is kept, and for the joints of no group. */
function classesOf(kept: readonly State[], groups: readonly JointGroup[]) {
  const isKept = new Set(kept.map(({ candidate }) => candidate))
  const classOf = new Map([[-1, 0]])
  const groupClassOf = [0]
  groups.forEach(({ joints }, g) => {
    for (const { candidate } of joints) {
      if (isKept.has(candidate)) classOf.set(candidate, groupClassOf.push(1 + g) - 1)
    }
  })
  groupClassOf.push(groups.length + 1)
  return { classOf, groupClassOf: Int32Array.from(groupClassOf) }
}
