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
/** A class with so much is not lost altogether. */
const leastOfClass = 1e-4

/**
 * The heaviest states of nothing bad and of every ranked joint, until 99.5 % of the posterior are covered or 150 are
 * kept; nothing bad always among them, and the heaviest of each class that weighs anything. The weight of the rest
 * goes to those kept of its class; that of a class without any, to all.
 */
export function heaviestHypotheses(ranking: Ranking, groups: readonly JointGroup[]): Hypotheses {
  const groupClasses = groups.length + 2
  const classOf = new Map<number, number>()
  const groupOf = [0]
  groups.forEach(({ joints }, g) =>
    joints.forEach(({ candidate }) => {
      classOf.set(candidate, groupOf.length)
      groupOf.push(1 + g)
    }),
  )
  const classes = groupOf.push(groupClasses - 1)
  const weightOf = (log: number) => Math.exp(log - ranking.logTotal)
  const sound: Hypothesis = {
    classOf: 0,
    weight: weightOf(ranking.soundLogWeight),
    level: ranking.soundLevel,
    candidate: -1,
    edge: -1,
    addedOhm: 0,
  }
  const bad = ranking.joints.flatMap(({ candidate, edge, states }) =>
    states.map(({ severity, logWeight, level }): Hypothesis => ({
      classOf: classOf.get(candidate) ?? classes - 1,
      weight: weightOf(logWeight),
      level,
      candidate,
      edge,
      addedOhm: severity.addedOhm,
    })),
  )
  bad.sort((a, b) => b.weight - a.weight || a.edge - b.edge || a.addedOhm - b.addedOhm)
  const wholeOf = new Float64Array(classes)
  for (const { classOf: c, weight } of [sound, ...bad]) wholeOf[c] += weight
  const keptOf = new Float64Array(classes)
  const kept = [sound]
  let covered = (keptOf[0] = sound.weight)
  for (const state of bad) {
    const c = state.classOf
    const isWanted = covered < keptShare && kept.length < mostKept
    const isOnly = keptOf[c] === 0 && wholeOf[c] >= leastOfClass
    if (!isWanted && !isOnly) continue
    kept.push(state)
    covered += state.weight
    keptOf[c] += state.weight
  }
  const total = wholeOf.reduce((sum, weight, c) => (keptOf[c] > 0 ? sum + weight : sum), 0)
  const all = kept
    .map((state) => {
      const share = keptOf[state.classOf] > 0 ? state.weight / keptOf[state.classOf] : 0
      return { ...state, weight: (share * wholeOf[state.classOf]) / total }
    })
    .sort((a, b) => b.weight - a.weight || a.edge - b.edge || a.addedOhm - b.addedOhm)
  return { classes, groupClassOf: Int32Array.from(groupOf), groupClasses, all }
}
