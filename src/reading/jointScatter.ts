import { normalNodes, normalWeights } from '../base/gaussHermite.ts'

/** What the scatter of sound joints does, per joint, in ohm and ohm²; see `scatterOfJoints`. */
export interface JointScatter {
  /** Mean of the effective rise over the median, per squared share of current. */
  readonly meanOhm: Float64Array
  /** Variance of the effective rise, per fourth power of the share of current. */
  readonly varianceOhm2: Float64Array
}

/**
 * Mean and variance of the effective rise of every joint while its ohms scatter log-normally about their
 * median m with spread σ (standard deviation of the ln):
 *
 *   s(z) = ρ / (1 + ρ c),   ρ = m (e^{σ z} − 1),   z ~ N(0, 1)
 *
 * so that a pair that sends share i through the joint has mean Σ i² E s above its median resistance, and two
 * pairs p, q have covariance Σ i_p² i_q² Var s. Exact for one joint at a time, by nine-point Gauss–Hermite
 * quadrature; for a joint with no path beside it (c = 0) this is the log-normal itself, with variance
 * m² e^{σ²}(e^{σ²} − 1), and for one with a good path beside it the rise stays below 1/c, where first
 * order would run away. O(joints).
 *
 * @param scatteringOhm median ohms that scatter, per joint (contact; the wire itself for a wire)
 * @param lnSpread σ per joint
 * @param loopS c = g (1 − h) per joint, in siemens
 */
export function scatterOfJoints(
  scatteringOhm: Float64Array,
  lnSpread: Float64Array,
  loopS: Float64Array,
): JointScatter {
  const count = scatteringOhm.length
  const scatter = { meanOhm: new Float64Array(count), varianceOhm2: new Float64Array(count) }
  const quadrature: ScatterQuadrature = new Map()
  for (let e = 0; e < count; e++) {
    enterScatter(quadrature, scatteringOhm[e], lnSpread[e], loopS[e], scatter, e)
  }
  return scatter
}

/** e^{σ z} − 1 at the nodes, by σ: a site has as many spreads as it has kinds of joints. */
export type ScatterQuadrature = Map<number, Float64Array>

/** What `scatterOfJoints` works out for a joint, written to its place. */
export function enterScatter(
  quadrature: ScatterQuadrature,
  scatteringOhm: number,
  lnSpread: number,
  loopS: number,
  { meanOhm, varianceOhm2 }: JointScatter,
  place: number,
): void {
  if (lnSpread === 0) {
    meanOhm[place] = varianceOhm2[place] = 0
    return
  }
  let grown = quadrature.get(lnSpread)
  if (!grown) {
    grown = Float64Array.from(normalNodes, (z) => Math.expm1(lnSpread * z))
    quadrature.set(lnSpread, grown)
  }
  let mean = 0
  let square = 0
  for (let k = 0; k < grown.length; k++) {
    const added = scatteringOhm * grown[k]
    const rise = added / (1 + added * loopS)
    mean += normalWeights[k] * rise
    square += normalWeights[k] * rise * rise
  }
  meanOhm[place] = mean
  varianceOhm2[place] = Math.max(0, square - mean * mean)
}
