import type { NextAction, Outcome } from '../../model/answers.ts'
import type { Hypotheses } from './hypotheses.ts'
import { informationNats } from './information.ts'
import { classesBelow, type Foreseen, type OutcomeTable } from './outcomeTable.ts'

/** A third stretch of ohms is told apart only where it says so much more than two. */
const leastGain = 1.1
/** Stretches less likely than this are not told apart; over range is listed by itself from here on. */
const leastChance = 0.04
/** Places where stretches may end: this much of the probability lies between two of them. */
const placeShare = 0.01

/** What classes stand for. */
export interface ClassNames extends Pick<Hypotheses, 'groupClassOf' | 'groupClasses'> {
  /** Address of the joint of a class: of several the one that is in its group. */
  readonly jointOf: (classOf: number) => string
}

const mostListed = 6
/** Of a group, the joints are named that have so much of its probability. */
const namedShare = 0.9

type Leader = Pick<Outcome, 'leader' | 'group' | 'leaderProbability' | 'joints' | 'jointCount'>

/** The first group class is nothing bad, the last what is in no group, which does not lead. */
function leaderOf({ groupClassOf, groupClasses, jointOf }: ClassNames, joint: Float64Array): Leader {
  const sums = new Float64Array(groupClasses)
  joint.forEach((p, c) => (sums[groupClassOf[c]] += p))
  const total = sums.reduce((sum, p) => sum + p, 0)
  let best = 0
  for (let g = 1; g < groupClasses - 1; g++) if (sums[g] > sums[best]) best = g
  const leaderProbability = total > 0 ? Math.min(1, sums[best] / total) : 0
  if (best === 0) return { leader: 'nothing', group: null, leaderProbability, joints: [], jointCount: 0 }
  const chances = new Map<string, number>()
  joint.forEach((p, c) => {
    if (groupClassOf[c] !== best) return
    const name = jointOf(c)
    chances.set(name, (chances.get(name) ?? 0) + p)
  })
  const members = [...chances].sort(([a, p], [b, q]) => q - p || (a < b ? -1 : 1))
  let jointCount = 0
  let sum = 0
  while (jointCount < members.length && sum < namedShare * sums[best]) sum += members[jointCount++][1]
  const joints = members.slice(0, Math.min(jointCount, mostListed)).map(([name]) => name)
  return { leader: 'group', group: best - 1, leaderProbability, joints, jointCount }
}

function outcome(
  names: ClassNames,
  when: Outcome['when'],
  joint: Float64Array,
  fromOhm: number | null = null,
  toOhm: number | null = null,
): Outcome {
  const probability = joint.reduce((sum, p) => sum + p, 0)
  return { when, fromOhm, toOhm, probability, ...leaderOf(names, joint) }
}

/** Two figures are as much as anyone compares a display with. */
function rounded(ohm: number): number {
  return Number(ohm.toPrecision(2))
}

/** Candidate ends of stretches: rounded, within the range, some way apart in probability. */
function places(foreseen: Foreseen, { classes, cells, endOhm, joint }: OutcomeTable): number[] {
  const found: number[] = []
  let since = 0
  for (let k = 0; k < endOhm.length - 1; k++) {
    for (let c = 0; c < classes; c++) since += joint[c * cells + k]
    const ohm = rounded(endOhm[k])
    if (since < placeShare || ohm <= 0 || ohm >= foreseen.showing.mostOhm) continue
    if (ohm <= (found.at(-1) ?? 0)) continue
    found.push(ohm)
    since = 0
  }
  return found
}

const difference = (a: Float64Array, b: Float64Array) => a.map((x, c) => Math.max(0, x - b[c]))

function informationOf(stretches: readonly Float64Array[], classes: number): number {
  const n = stretches.length
  const joint = new Float64Array(classes * n)
  stretches.forEach((stretch, k) => stretch.forEach((p, c) => (joint[c * n + k] = p)))
  return informationNats(joint, classes, n)
}

/**
 * The readings that may come out as two or three stretches of ohms and over range: cut where least of what the reading
 * says is lost. Their probabilities add up to 1.
 */
export function outcomesOfReading(
  names: ClassNames,
  foreseen: Foreseen,
  table: OutcomeTable,
): readonly Outcome[] {
  const { classes } = foreseen
  const all = new Float64Array(classes)
  table.joint.forEach((p, at) => (all[Math.floor(at / table.cells)] += p))
  const inRange = classesBelow(foreseen, foreseen.showing.mostOhm)
  const over = difference(all, inRange)
  const isOverTold = over.reduce((sum, p) => sum + p, 0) >= leastChance
  const top = isOverTold ? inRange : all
  const ends = places(foreseen, table)
  const below = ends.map((ohm) => classesBelow(foreseen, ohm))
  const beyond = isOverTold ? [over] : []
  const stretchesOf = (cuts: readonly number[]) => [
    ...cuts.map((k, i) => (i === 0 ? below[k] : difference(below[k], below[cuts[i - 1]]))),
    cuts.length === 0 ? top : difference(top, below[cuts[cuts.length - 1]]),
  ]
  const isLikely = (stretch: Float64Array) => stretch.reduce((sum, p) => sum + p, 0) >= leastChance
  const told = (cuts: readonly number[]) => {
    const stretches = stretchesOf(cuts)
    return stretches.every(isLikely) ? informationOf([...stretches, ...beyond], classes) : -1
  }
  let cuts: readonly number[] = []
  let most = told([])
  for (let i = 0; i < ends.length; i++) {
    const nats = told([i])
    if (nats <= most) continue
    most = nats
    cuts = [i]
  }
  most *= leastGain
  for (let i = 0; i < ends.length; i++) {
    for (let j = i + 1; j < ends.length; j++) {
      const nats = told([i, j])
      if (nats <= most) continue
      most = nats
      cuts = [i, j]
    }
  }
  const words = (['below', 'between', 'above'] as const).filter((_, k) => k !== 1 || cuts.length === 2)
  const stretches = stretchesOf(cuts)
  const listed = stretches.map((stretch, k) =>
    outcome(
      names,
      stretches.length === 1 ? 'below' : words[k],
      stretch,
      k === 0 ? null : ends[cuts[k - 1]],
      k < cuts.length ? ends[cuts[k]] : null,
    ),
  )
  return isOverTold ? [...listed, outcome(names, 'overRange', over)] : listed
}

/** What a look or a retorque may find; both with what is thought then. */
export function outcomesOfLook(
  names: ClassNames,
  bad: Float64Array,
  sound: Float64Array,
): readonly Outcome[] {
  return [outcome(names, 'bad', bad), outcome(names, 'sound', sound)]
}

/** 5, 50 and 95 % of what would be read over all hypotheses. Nothing is shown below zero. */
export function expectedOhm({ cells, endOhm, joint }: OutcomeTable): NonNullable<NextAction['expectedOhm']> {
  const chance = new Float64Array(cells)
  joint.forEach((p, at) => (chance[at % cells] += p))
  const total = chance.reduce((sum, p) => sum + p, 0)
  const at = (share: number): number => {
    let sum = 0
    for (let k = 0; k < cells - 1; k++) {
      if (sum + chance[k] >= share * total) {
        const from = k === 0 ? endOhm[0] : endOhm[k - 1]
        const within = chance[k] > 0 ? (share * total - sum) / chance[k] : 1
        return Math.max(0, from + within * (endOhm[k] - from))
      }
      sum += chance[k]
    }
    return Infinity
  }
  return { low: at(0.05), middle: at(0.5), high: at(0.95) }
}
