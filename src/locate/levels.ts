import { atSoilLevel, type PreparedNetwork } from '../network/prepare.ts'
import { rowsFromPotentials, sweepJoints } from '../network/jointSweep.ts'
import { pairResistance } from '../network/pairResistance.ts'
import { pairPotentials } from '../network/solve.ts'
import { assumptions, levelLnSd } from '../reading/assumptions.ts'
import { scatterOfJoints, type JointScatter } from '../reading/jointScatter.ts'
import { scatteringOhm } from '../reading/pairPrediction.ts'
import type { Observation } from './observations.ts'

/** Joints whose failure could show in the readings, by edge, ascending. */
export interface Candidates {
  readonly edge: Int32Array
}

/** What sound joints make of the readings while soil has one certain level; n readings, k candidates. */
export interface LevelModel {
  readonly lnSoil: number
  readonly logWeight: number
  /** Mean resistance of each pair over the scatter of its joints; Infinity where nothing joins the two. */
  readonly networkOhm: Float64Array
  /** n × n: shared scatter of joints and of the level of each joint kind, in ohm². */
  readonly covariance: Float64Array
  /** k × n: squared share of the measuring current that crosses the candidate. */
  readonly squared: Float64Array
  /** k: c = g (1 − h) of each candidate. */
  readonly loopS: Float64Array
}

/** Shares of current below this (squared) move no reading by as much as a micro-ohm. */
const leastSquared = 1e-9

/**
 * A wide normal distribution of the soil level as five narrower ones, 0.8 apart in ln and 0.4 wide each:
 * within one, what a reading owes to soil is taken as linear; between them the network is solved anew.
 */
export const soilCellLnSd = 0.4
const soilCellStep = 0.8

export function soilLevels(hasEarthPaths: boolean): readonly { lnSoil: number; logWeight: number }[] {
  if (!hasEarthPaths) return [{ lnSoil: 0, logWeight: 0 }]
  const centreVariance = assumptions.soilLevelLnSd ** 2 - soilCellLnSd ** 2
  const centres = [-2, -1, 0, 1, 2].map((k) => k * soilCellStep)
  const weights = centres.map((x) => Math.exp((-0.5 * x * x) / centreVariance))
  const total = weights.reduce((sum, w) => sum + w, 0)
  return centres.map((lnSoil, k) => ({ lnSoil, logWeight: Math.log(weights[k] / total) }))
}

interface Pass {
  readonly prepared: PreparedNetwork
  readonly observations: readonly Observation[]
  readonly scatters: Float64Array
  readonly scatter: JointScatter
}

/** Adds one joint's scatter to mean, covariance and the column of its kind. */
function addScatter(
  { prepared, observations, scatters, scatter }: Pass,
  e: number,
  squared: Float64Array,
  at: number,
  mean: Float64Array,
  covariance: Float64Array,
  kindColumn: Float64Array,
): void {
  const n = observations.length
  const { network } = prepared
  const columnAt = network.kind[e] * n
  const hasLevel = network.isEarthPath[e] === 0
  for (let p = 0; p < n; p++) {
    const sp = squared[at + p]
    if (sp < leastSquared) continue
    mean[p] += sp * scatter.meanOhm[e]
    if (hasLevel) kindColumn[columnAt + p] += sp * scatters[e]
    const weight = sp * scatter.varianceOhm2[e]
    for (let q = 0; q <= p; q++) covariance[p * n + q] += weight * squared[at + q]
  }
}

/** Potentials of every distinct pair, and its resistance; a pair without a path carries no current. */
function solvePairs({ prepared, observations }: Pass): { potentialV: Float64Array[]; ohm: Float64Array } {
  const { solver, network } = prepared
  const { of } = network.electrical.islands
  const known = new Map<string, Float64Array>()
  const nothing = new Float64Array(network.graph.nodeCount)
  const ohm = new Float64Array(observations.length)
  const potentialV = observations.map(({ a, b }, p) => {
    if (a === b) return nothing
    if (of[a] !== of[b]) {
      ohm[p] = Infinity
      return nothing
    }
    ohm[p] = pairResistance(solver.factor, a, b)
    const key = `${a} ${b}`
    let x = known.get(key)
    if (!x) {
      x = pairPotentials(solver.factor, a, b, new Float64Array(network.graph.nodeCount))
      known.set(key, x)
    }
    return x
  })
  return { potentialV, ohm }
}

/** Which joint of the rows is to be kept as a candidate. */
type Wanted = (edge: number, squared: Float64Array, at: number) => boolean

function* passOverJoints(
  pass: Pass,
  wanted: Wanted,
): Generator<number, Omit<LevelModel, 'lnSoil' | 'logWeight'> & Candidates> {
  const { prepared, observations } = pass
  const { network, conductanceS, loopS } = prepared
  const n = observations.length
  const { potentialV, ohm } = solvePairs(pass)
  const mean = ohm.slice()
  const covariance = new Float64Array(n * n)
  const kindColumn = new Float64Array(network.kinds.length * n)
  const edges: number[] = []
  const rows: Float64Array[] = []
  const fill = rowsFromPotentials(network.graph, conductanceS, network.electrical.blocks.isBridge, potentialV)
  for (const block of sweepJoints(fill, conductanceS.length, n)) {
    for (let k = 0; k < block.count; k++) {
      const e = block.first + k
      addScatter(pass, e, block.squared, k * n, mean, covariance, kindColumn)
      if (!wanted(e, block.squared, k * n)) continue
      edges.push(e)
      rows.push(block.squared.slice(k * n, (k + 1) * n))
    }
    yield (block.first + block.count) / conductanceS.length
  }
  for (let kind = 0; kind < network.kinds.length; kind++) {
    const levelVariance = levelLnSd(network.kinds[kind].id) ** 2
    for (let p = 0; p < n; p++) {
      const cp = kindColumn[kind * n + p] * levelVariance
      for (let q = 0; q <= p; q++) covariance[p * n + q] += cp * kindColumn[kind * n + q]
    }
  }
  for (let p = 0; p < n; p++) for (let q = 0; q < p; q++) covariance[q * n + p] = covariance[p * n + q]
  const squared = new Float64Array(edges.length * n)
  rows.forEach((row, k) => squared.set(row, k * n))
  const edge = Int32Array.from(edges)
  return { networkOhm: mean, covariance, squared, edge, loopS: Float64Array.from(edge, (e) => loopS[e]) }
}

/**
 * Chooses the candidates: joints that can go bad and whose opening would move some readings by at least
 * `leastShift` of their own standard deviation (`sdOhm`, per reading, without what readings share).
 */
function wantedByShift(prepared: PreparedNetwork, sdOhm: Float64Array, leastShift: number): Wanted {
  const n = sdOhm.length
  return (e, squared, at) => {
    if (!(prepared.network.defectRate[e] > 0)) return false
    let sum = 0
    for (let p = 0; p < n; p++) {
      if (squared[at + p] >= leastSquared) sum += (squared[at + p] / sdOhm[p]) ** 2
    }
    return Math.sqrt(sum) >= leastShift * prepared.loopS[e] && sum > 0
  }
}

/**
 * The model at every soil level. Candidates are chosen at the stated soil resistivity and kept for all
 * levels. One solve per distinct pair and one pass over the joints for each level.
 */
export function* modelLevels(
  prepared: PreparedNetwork,
  observations: readonly Observation[],
  sdOhm: Float64Array,
  leastShift: number,
): Generator<number, { levels: readonly LevelModel[]; candidates: Candidates }> {
  const { network } = prepared
  const plan = soilLevels(network.isEarthPath.includes(1))
  const run = function* (at: PreparedNetwork, wanted: Wanted) {
    const scatters = scatteringOhm(at)
    const scatter = scatterOfJoints(scatters, network.lnSpread, at.loopS)
    return yield* passOverJoints({ prepared: at, observations, scatters, scatter }, wanted)
  }
  const centre = yield* run(prepared, wantedByShift(prepared, sdOhm, leastShift))
  const levels: LevelModel[] = []
  const chosen = new Uint8Array(network.graph.from.length)
  for (const e of centre.edge) chosen[e] = 1
  for (const { lnSoil, logWeight } of plan) {
    const model =
      lnSoil === 0
        ? centre
        : yield* run(yield* atSoilLevel(prepared, Math.exp(lnSoil)), (e) => chosen[e] === 1)
    levels.push({ lnSoil, logWeight, ...model })
  }
  return { levels, candidates: { edge: centre.edge } }
}
