import { logAdd } from '../../base/logSum.ts'
import { logNormalCdf } from '../../base/normal.ts'
import { forwardSet, memberCurrents } from '../../network/jointSet.ts'
import { assumptions } from '../../reading/assumptions.ts'
import { poorContactOverRange } from '../../reading/contact.ts'
import { stateReadings, sumStated, type EvidenceWorkspace, type Stated } from '../evidence.ts'
import { severityCellLnSd, type Severity } from '../severities.ts'
import { settledLoopS } from './directions.ts'
import { loopDirection, loopGain, loopRises, type LoopDirection, type SetBeside } from './loopDirection.ts'
import { seenRiseOhm, seenSets, seenWork } from './seenSets.ts'
import { potentialsOf, type NodePair } from './setNetwork.ts'
import { badJointsOf, type MemberList, type SetInputs } from './setInputs.ts'
import { setShift } from './setShift.ts'
import { takenPrecision, type TakenPrecision } from './takenPrecision.ts'

/**
 * ln of prior odds and gain in evidence by each severity of a candidate that joins a set; −∞ for its members. Worked
 * out when it is first asked for.
 */
export type Extensions = (candidate: number) => Float64Array

/** Squared currents that a set changes by less than this share of the largest are taken as they were. */
const hardlyChanged = 1e-3

interface Parent extends SetBeside {
  readonly inputs: SetInputs
  readonly stated: Stated
}

/** Any pair that is read across meets the set as it is. */
const readAcross: NodePair = { a: 0, b: 0 }

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
  const seenBy = seenSets(network, level, bad)
  const room = seenWork(bad.length)
  const gainedV = network.pairs.map((pair, p) => {
    if (pair.a === pair.b || models[level].networkOhm[p] === Infinity) return new Float64Array(bad.length)
    seenRiseOhm(seenBy(pair), pair, bad, room)
    return room.gainedV.slice(0, bad.length)
  })
  const parent: Parent = { inputs, stated, network, level, size: bad.length, seenBy, gainedV }
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
  const movedBack = (mostOhm: (p: number) => number): number[] =>
    finite.flatMap((p, i) =>
      isAside[i] === 1 && stated.states.mustSpoil[i] === 0 && mostOhm(p) > stated.sdOhm[p] ? [i] : [],
    )
  const loopGains = (direction: LoopDirection, severities: readonly Severity[]): Float64Array => {
    const most = Math.max(...severities.map(({ addedOhm }) => addedOhm))
    const { rise: largest } = loopRises(direction, most)
    const back = movedBack((p) => largest[p])
    const ways = back.length === 0 ? [left] : [left, precisionWith(back)]
    return Float64Array.from(severities, ({ addedOhm, logPrior }) => {
      const moved = loopRises(direction, addedOhm)
      const best = Math.max(...ways.map((way) => way.base - left.base + loopGain(way, finite, moved)))
      const over = levels[level].over.reduce(
        (sum, p) => sum + overRangeGain(stated, p, moved.rise[p], moved.relative[p]),
        0,
      )
      return logPrior + best + over
    })
  }
  const gainsOf = (k: number): Float64Array => {
    const severities = choices[k]
    const gain = new Float64Array(severities.length).fill(-Infinity)
    if (isMember.has(k) || severities.length === 0) return gain
    const { v, c } = directionOf(parent, k)
    const onLoops = loopDirection(parent, models[level], k, v, c)
    if (onLoops) return loopGains(onLoops, severities)
    const most = severities.reduce((s, { addedOhm }) => Math.max(s, 1 / (1 / addedOhm + c)), 0)
    const back = movedBack((p) => (v[p] === 0 ? 0 : most * v[p]))
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
      gain[j] = logPrior + best
      for (const p of levels[level].over)
        if (v[p] !== 0) gain[j] += overRangeGain(stated, p, s * v[p], relative)
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

/**
 * i'² of a candidate per reading, and its c' = g (1 − h'), once the set is bad: i' = i + g Σ_k s_k (φ_k(from) − φ_k(to)).
 * Where the set hardly changes any of the candidate's currents, i² is taken as it was, and nothing is solved.
 */
function directionOf(
  { inputs, network, level, size: K, seenBy, gainedV }: Parent,
  k: number,
): { readonly v: Float64Array; readonly c: number } {
  const { models } = inputs
  const { graph, pairs } = network
  const { networkOhm, loopS, squared } = models[level]
  const n = pairs.length
  const as = squared.subarray(k * n, k * n + n)
  if (K === 0) return { v: as, c: loopS[k] }
  const { set, settled } = seenBy(readAcross)
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
  return { v, c: settledLoopS(v, c, loopS[k]) }
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

/** What an over-range reading gains when its prediction rises by so much, give or take that share of it. */
function overRangeGain(
  { measurement, predictedOhm, sdOhm }: Stated,
  p: number,
  rise: number,
  relative: number,
) {
  if (rise === 0 || predictedOhm[p] === Infinity) return 0
  const { poorRate, atLeastOhm } = measurement.observations[p]
  const byAccident = Math.log(poorRate * poorContactOverRange(atLeastOhm) + assumptions.brokenLead)
  const logAt = (ohm: number, sd: number) => logAdd(logNormalCdf((ohm - atLeastOhm) / sd), byAccident)
  const then = rise === Infinity ? 0 : logAt(predictedOhm[p] + rise, Math.hypot(sdOhm[p], relative * rise))
  return then - logAt(predictedOhm[p], sdOhm[p])
}
