import { riseOhm } from '../../network/jointSweep.ts'
import { forwardSet, memberCurrents } from '../../network/jointSet.ts'
import { leftLoopS } from '../../reading/clampedLoop.ts'
import { isOnClampedLoop } from '../clampedLoop.ts'
import { riseLnSd } from '../hypothesis.ts'
import type { LevelModel } from '../levelModel.ts'
import type { SeenSet } from './seenSets.ts'
import type { NodePair, SetNetwork } from './setNetwork.ts'
import type { TakenPrecision } from './takenPrecision.ts'

/** How a further bad joint moves readings among which are loop readings: each p by v / (1/Δ + c), with its own c. */
export interface LoopDirection {
  readonly v: Float64Array
  readonly c: Float64Array
}

/** A set that is bad already: as each reading meets it, and the volts that its members gain per ampere of each. */
export interface SetBeside {
  readonly network: SetNetwork
  readonly level: number
  readonly size: number
  readonly seenBy: (pair: NodePair) => SeenSet
  readonly gainedV: readonly Float64Array[]
}

/**
 * Completes how candidate k moves readings that are read across (`v` with one c for all) by how it moves loop readings,
 * exactly. For joint e in the jaws, with S_xy the voltage that an ampere across y leaves across x and x_m what the
 * members of the set gain per ampere of the clamp,
 *
 *   i = g_k (S_ke/(1 − h_e) + Σ_m g_m x_m (S_mk + g_e S_me S_ek/(1 − h_e)))
 *
 * and c is what lifting e and the set leave of it. Null where the candidate is on no such loop. O(loops × members²).
 */
export function loopDirection(
  beside: SetBeside,
  model: LevelModel,
  k: number,
  acrossV: Float64Array,
  acrossS: number,
): LoopDirection | null {
  const { loopOfReadingS, squared, loopS } = model
  if (!loopOfReadingS || (beside.size === 0 && !isOnClampedLoop(model, k))) return null
  const n = loopOfReadingS.length
  const v = acrossV.slice()
  const c = new Float64Array(n).fill(acrossS)
  for (let p = 0; p < n; p++) {
    if (loopOfReadingS[p] === 0) continue
    if (beside.size === 0 || beside.network.pairs[p].around === k) {
      v[p] = squared[k * n + p]
      c[p] = leftLoopS(loopS[k], v[p], loopOfReadingS[p])
    } else {
      const lifted = onLoop(beside, k, p)
      c[p] = leftLoopS(loopS[k], 1, lifted.lostS)
      // what has become a bridge carries all or nothing
      v[p] = c[p] === 0 ? Math.round(Math.min(1, Math.abs(lifted.current))) : lifted.current ** 2
    }
  }
  return { v, c }
}

/** Current in candidate k per ampere of the clamp, and how much of its c the set and the lifted joint take. */
function onLoop(
  { network, level, size, seenBy, gainedV }: SetBeside,
  k: number,
  p: number,
): { readonly current: number; readonly lostS: number } {
  const { graph } = network
  const pair = network.pairs[p]
  const { set, settled, clamped, slack } = seenBy(pair)
  const across = (m: number, edge: number) =>
    set.potentialV[m][graph.from[edge]] - set.potentialV[m][graph.to[edge]]
  const e = set.members[clamped]
  const ofClamped = across(clamped, k) / slack
  let volt = graph.from[e] === pair.a ? ofClamped : -ofClamped
  for (let m = 0; m < size; m++) {
    if (m === clamped) continue
    const lifted = across(m, k) + set.conductanceS[clamped] * across(m, e) * ofClamped
    volt += set.conductanceS[m] * gainedV[p][m] * lifted
  }
  const g = network.levels[level].conductanceS[k]
  const room = () => new Float64Array(set.members.length)
  const through = memberCurrents(set, graph.from[k], graph.to[k], room())
  return {
    current: g * volt,
    lostS: g * g * forwardSet(settled, graph.from[k], graph.to[k], through, room()),
  }
}

/** Rises under one severity, and their spread: of the severity within its stretch, of the path beside the joint. */
export function loopRises({ v, c }: LoopDirection, addedOhm: number) {
  return {
    rise: v.map((square, p) => riseOhm(square, c[p], addedOhm)),
    relative: v.map((square, p) => (square === 0 ? 0 : riseLnSd(c[p], addedOhm))),
  }
}

/**
 * What readings gain by rising by d, with spread w along it: dᵀWρ − ½ dᵀWd + ½ (wᵀW(ρ − d))²/(1 + wᵀWw) − ½ ln(1 + wᵀWw).
 * −∞ where a reading that is taken would have no path. O(readings²).
 */
export function loopGain(
  { matrix, weighted, size }: TakenPrecision,
  finite: readonly number[],
  { rise, relative }: ReturnType<typeof loopRises>,
): number {
  const d = new Float64Array(size)
  const w = new Float64Array(size)
  for (let i = 0; i < size; i++) {
    const ohm = rise[finite[i]]
    if (ohm === Infinity) {
      if (matrix[i * size + i] > 0) return -Infinity
    } else {
      d[i] = ohm
      w[i] = ohm * relative[finite[i]]
    }
  }
  let straight = 0
  let along = 0
  let wide = 0
  for (let i = 0; i < size; i++) {
    if (d[i] === 0) continue
    let ofRise = 0
    let ofSpread = 0
    for (let j = 0, at = i * size; j < size; j++, at++) {
      ofRise += matrix[at] * d[j]
      ofSpread += matrix[at] * w[j]
    }
    straight += d[i] * (weighted[i] - 0.5 * ofRise)
    along += w[i] * (weighted[i] - ofRise)
    wide += w[i] * ofSpread
  }
  return straight + (0.5 * along * along) / (1 + wide) - 0.5 * Math.log1p(wide)
}
