import { logAdd } from '../../base/logSum.ts'
import { logNormalCdf } from '../../base/normal.ts'
import {
  forwardSet,
  memberCurrents,
  settleSet,
  type JointSet,
  type SettledSet,
} from '../../network/jointSet.ts'
import { assumptions } from '../../reading/assumptions.ts'
import { poorContactOverRange } from '../../reading/contact.ts'
import { stateReadings, sumStated, type EvidenceWorkspace, type Stated } from '../evidence.ts'
import { severityCellLnSd } from '../severities.ts'
import { gainedVoltages } from './gainedVoltages.ts'
import { kernelOf, potentialsOf } from './setNetwork.ts'
import { badJointsOf, type MemberList, type SetInputs } from './setInputs.ts'
import { setShift } from './setShift.ts'
import { takenPrecision, type TakenPrecision } from './takenPrecision.ts'

/**
 * ln of prior odds and gain in evidence by each severity of a candidate that joins a set; −∞ for its members. Worked
 * out when it is first asked for.
 */
export type Extensions = (candidate: number) => Float64Array

/** A candidate whose conductance round its loop falls below this share under the set hangs by a thread. */
const leastLoopShare = 1e-9

/** Squared currents that a set changes by less than this share of the largest are taken as they were. */
const hardlyChanged = 1e-3

interface Parent {
  readonly inputs: SetInputs
  readonly level: number
  readonly members: MemberList
  readonly stated: Stated
  readonly set: JointSet
  readonly settled: SettledSet
  /** Per reading and member: voltage gained. */
  readonly gainedV: readonly Float64Array[]
}

/**
 * What every further bad joint would gain, screened: one matched filter per candidate. Under a set F each reading
 * moves along v = i'², i' the candidate's current once F is bad, by s = 1/(1/Δ + c'), exactly; with the readings that
 * are taken as they stand, precision W and residual ρ,
 *
 *   A = vᵀWv,  B = vᵀWρ,   gain(s) = sB − ½s²A + ½a²s²(B − sA)²/(1 + a²s²A) − ½ ln(1 + a²s²A)
 *
 * a being the relative spread that the severity and the path beside the joint bring. Readings that F counts as spoiled
 * and the candidate would move are tried both ways: left aside, and taken back together. What is left out is how soil
 * and gain errors change with the candidate: the best are weighed in full after this. O(readings²) a candidate.
 */
export function screenExtensions(
  inputs: SetInputs,
  members: MemberList,
  level: number,
  work: EvidenceWorkspace,
): Extensions {
  const { network, models, levels, measurement, choices } = inputs
  const bad = badJointsOf(inputs, members)
  const stated = stateReadings(levels[level], measurement, setShift(network, models, level, bad))
  const { spoiledProbability } = sumStated(stated, work, { quick: true })
  const set = kernelOf(
    network,
    level,
    bad.map(({ candidate }) => candidate),
  )
  const settled = settleSet(
    set,
    bad.map(({ addedOhm }) => addedOhm),
  )
  const parent: Parent = {
    inputs,
    level,
    members,
    stated,
    set,
    settled,
    gainedV: voltages(inputs, set, settled),
  }
  const { finite } = levels[level]
  const isAside = Uint8Array.from(finite, (p) => (spoiledProbability[p] > 0.5 ? 1 : 0))
  const precisions = new Map<string, TakenPrecision>()
  const precisionWith = (back: readonly number[]): TakenPrecision => {
    const key = back.join(' ')
    const known = precisions.get(key) ?? takenPrecision(stated.states, isAside, back)
    precisions.set(key, known)
    return known
  }
  const left = precisionWith([])
  const isMember = new Set(members.map(({ candidate }) => candidate))
  const gainsOf = (k: number): Float64Array => {
    const severities = choices[k]
    const gain = new Float64Array(severities.length).fill(-Infinity)
    if (isMember.has(k) || severities.length === 0) return gain
    const { v, c } = directionOf(parent, k)
    const most = severities.reduce((s, { addedOhm }) => Math.max(s, 1 / (1 / addedOhm + c)), 0)
    const back: number[] = []
    isAside.forEach((aside, i) => {
      if (aside === 1 && stated.states.mustSpoil[i] === 0 && most * v[finite[i]] > stated.sdOhm[finite[i]])
        back.push(i)
    })
    const ways = [filterOf(left, v, finite)]
    if (back.length > 0) {
      const taken = precisionWith(back)
      ways.push({ ...filterOf(taken, v, finite), base: taken.base - left.base })
    }
    severities.forEach(({ addedOhm, logPrior }, j) => {
      const s = 1 / (1 / addedOhm + c)
      const taken = addedOhm === Infinity ? 1 : (addedOhm * c) / (1 + addedOhm * c)
      const relative = Math.hypot(severityCellLnSd * (1 - taken), assumptions.kindLevelLnSd * taken)
      let best = -Infinity
      for (const way of ways) best = Math.max(best, gainOf(way, s, relative))
      gain[j] = logPrior + best + overRangeGain(parent, v, s, relative)
    })
    return gain
  }
  const known = new Map<number, Float64Array>()
  return (k) => {
    const gains = known.get(k) ?? gainsOf(k)
    known.set(k, gains)
    return gains
  }
}

function voltages({ network }: SetInputs, set: JointSet, settled: SettledSet): Float64Array[] {
  const current = new Float64Array(set.members.length)
  const solved = new Float64Array(set.members.length)
  return network.pairs.map(({ a, b }) => {
    const gainedV = new Float64Array(set.members.length)
    if (a === b) return gainedV
    gainedVoltages(settled, a, b, memberCurrents(set, a, b, current), solved, gainedV)
    return gainedV
  })
}

/**
 * i'² of a candidate per reading, and its c' = g (1 − h'), once the set is bad: i' = i + g Σ_k s_k (φ_k(from) − φ_k(to)).
 * Where the set hardly changes any of the candidate's currents, i² is taken as it was, and nothing is solved.
 */
function directionOf(
  { inputs, level, set, settled, gainedV }: Parent,
  k: number,
): { readonly v: Float64Array; readonly c: number } {
  const { network, models } = inputs
  const { graph, pairs } = network
  const { networkOhm, loopS, squared } = models[level]
  const n = pairs.length
  const as = squared.subarray(k * n, k * n + n)
  const K = set.members.length
  if (K === 0) return { v: as, c: loopS[k] }
  const from = graph.from[k]
  const to = graph.to[k]
  const g = network.levels[level].conductanceS[k]
  const change = new Float64Array(n)
  for (let m = 0; m < K; m++) {
    const perVolt = g * set.conductanceS[m] * (set.potentialV[m][from] - set.potentialV[m][to])
    for (let p = 0; p < n; p++) change[p] += perVolt * gainedV[p][m]
  }
  let most = 0
  let mostChange = 0
  for (let p = 0; p < n; p++) {
    most = Math.max(most, as[p])
    mostChange = Math.max(mostChange, Math.abs(change[p]) * (2 * Math.sqrt(as[p]) + Math.abs(change[p])))
  }
  if (mostChange < hardlyChanged * most) return { v: as, c: loopS[k] }
  const own = potentialsOf(network, level, k)
  const v = new Float64Array(n)
  pairs.forEach(({ a, b }, p) => {
    if (a === b || networkOhm[p] === Infinity) return
    const i = g * (own[a] - own[b]) + change[p]
    v[p] = i * i
  })
  const current = memberCurrents(set, from, to, new Float64Array(K))
  const c = loopS[k] - g * g * forwardSet(settled, from, to, current, new Float64Array(K))
  return { v, c: c > leastLoopShare * loopS[k] ? c : 0 }
}

interface Filter {
  readonly a: number
  readonly b: number
  readonly base: number
}

function filterOf(
  { matrix, weighted, size }: TakenPrecision,
  v: Float64Array,
  finite: readonly number[],
): Filter {
  let a = 0
  let b = 0
  for (let i = 0; i < size; i++) {
    const vi = v[finite[i]]
    if (vi === 0) continue
    let sum = 0
    for (let j = 0, at = i * size; j < size; j++, at++) sum += matrix[at] * v[finite[j]]
    a += vi * sum
    b += vi * weighted[i]
  }
  return { a, b, base: 0 }
}

function gainOf({ a, b, base }: Filter, s: number, relative: number): number {
  // a joint that parts what the readings join: as far from any of them as can be
  if (s === Infinity) return a > 0 ? -Infinity : base
  const wide = relative * relative * s * s
  const left = b - s * a
  return (
    base + s * b - 0.5 * s * s * a + (0.5 * wide * left * left) / (1 + wide * a) - 0.5 * Math.log1p(wide * a)
  )
}

/** What over-range readings gain when their predictions rise by s v. */
function overRangeGain({ stated }: Parent, v: Float64Array, s: number, relative: number): number {
  const { level, measurement, predictedOhm, sdOhm } = stated
  let gain = 0
  for (const p of level.over) {
    if (v[p] === 0 || predictedOhm[p] === Infinity) continue
    const { poorRate, atLeastOhm } = measurement.observations[p]
    const byAccident = Math.log(poorRate * poorContactOverRange(atLeastOhm) + assumptions.brokenLead)
    const logAt = (ohm: number, sd: number) => logAdd(logNormalCdf((ohm - atLeastOhm) / sd), byAccident)
    const rise = s * v[p]
    const then = rise === Infinity ? 0 : logAt(predictedOhm[p] + rise, Math.hypot(sdOhm[p], relative * rise))
    gain += then - logAt(predictedOhm[p], sdOhm[p])
  }
  return gain
}
