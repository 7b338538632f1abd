import { normalNodes, normalWeights } from '../../base/gaussHermite.ts'
import { normalCdf } from '../../base/normal.ts'
import { assumptions } from '../../reading/assumptions.ts'
import { otherwiseWrong } from '../evidence.ts'

/** What an instrument would show next under one hypothesis, were the reading to be taken as it stands. */
export interface Predictive {
  readonly classOf: number
  /** Share of the posterior; the weights of all predictives add up to 1. */
  readonly weight: number
  /** Contact, lead and network together; Infinity where the hypothesis leaves no path. */
  readonly meanOhm: number
  readonly sdOhm: number
}

/** How the next reading may be spoiled, whatever the hypothesis. */
export interface Showing {
  /** Chance of a poor contact; 0 for a check of the leads, which can only be wrong otherwise. */
  readonly poorRate: number
  readonly falseLowRate: number
  readonly brokenLeadRate: number
  /** What is shown with nothing but contact and lead between the clips. */
  readonly emptyOhm: number
  readonly emptySdOhm: number
  /** Above this the instrument shows over range. */
  readonly mostOhm: number
}

const { contact } = assumptions
const lowShare = 1 - contact.poorOverRange - contact.poorHigh
const lnHighRange = Math.log(contact.poorHighToOhm / contact.poorHighFromOhm)

/**
 * Φ(z) from a table, cubic between steps of 1/64 within ± 8 (error below 1e-9); the tails beyond are 0 and 1. A table
 * because a ranking of actions asks for it some hundred thousand times.
 */
const phi = (() => {
  const perUnit = 64
  const most = 8
  const count = 2 * most * perUnit
  const value = Float64Array.from({ length: count + 2 }, (_, k) => normalCdf(k / perUnit - most))
  const slope = Float64Array.from(
    { length: count + 2 },
    (_, k) => Math.exp(-0.5 * (k / perUnit - most) ** 2) / Math.sqrt(2 * Math.PI) / perUnit,
  )
  return (z: number): number => {
    if (!(z > -most)) return 0
    if (z >= most) return 1
    const at = (z + most) * perUnit
    const k = Math.floor(at)
    const t = at - k
    const s = 1 - t
    return (
      value[k] * (1 + 2 * t) * s * s +
      value[k + 1] * t * t * (3 - 2 * t) +
      slope[k] * t * s * s -
      slope[k + 1] * t * t * s
    )
  }
})()

function poorHighBelow(ohm: number): number {
  if (ohm <= contact.poorHighFromOhm) return 0
  return contact.poorHigh * Math.min(1, Math.log(ohm / contact.poorHighFromOhm) / lnHighRange)
}

function poorLowBelow(ohm: number): number {
  return ohm <= 0 ? 0 : lowShare * phi(Math.log(ohm / contact.poorMedianOhm) / contact.poorLnSpread)
}

/**
 * Chance that a poor contact adds less than `excessOhm` (those that drive the instrument over range apart), with the
 * spread of the prediction folded in by nine-point Gauss–Hermite quadrature over the narrower of the two.
 */
function poorBelow(excessOhm: number, sdOhm: number): number {
  const high = poorHighBelow(excessOhm)
  let low = 0
  for (let k = 0; k < normalNodes.length; k++) {
    const z = normalNodes[k]
    low +=
      sdOhm < contact.poorMedianOhm
        ? normalWeights[k] * poorLowBelow(excessOhm - sdOhm * z)
        : normalWeights[k] *
          lowShare *
          phi((excessOhm - contact.poorMedianOhm * Math.exp(contact.poorLnSpread * z)) / sdOhm)
  }
  return high + low
}

/** Anything up to the prediction; without a prediction, as slips go. */
function falseLowBelow(ohm: number, meanOhm: number, sdOhm: number): number {
  if (ohm <= 0) return 0
  if (meanOhm === Infinity) return ohm / (1 + ohm)
  return Math.min(1, ohm / (Math.max(meanOhm, 0) + 3 * sdOhm))
}

/**
 * Chance that the instrument shows at most `ohm` (within its range). What is over range is what is left at the end of
 * the range:
 *
 *   F(y) = (1 − s) Φ((y − μ)/σ) + poor · K(y − μ) + ½ falseLow (Φ((y − c)/σ_c) + U(y)) + wrong · y/(1 + y)
 *
 * s: all ways to be spoiled together; K: contact that adds, folded with σ; c: contact and lead alone; U: even up to
 * the prediction and 3 σ. Ascending in `ohm`.
 */
export function shownBelow(
  { meanOhm, sdOhm }: Pick<Predictive, 'meanOhm' | 'sdOhm'>,
  showing: Showing,
  ohm: number,
): number {
  const { poorRate, falseLowRate, brokenLeadRate, emptyOhm, emptySdOhm } = showing
  const empty = falseLowRate === 0 ? 0 : phi((ohm - emptyOhm) / emptySdOhm)
  const low = (falseLowRate / 2) * (empty + falseLowBelow(ohm, meanOhm, sdOhm))
  const wrong = ohm > 0 ? (otherwiseWrong * ohm) / (1 + ohm) : 0
  if (meanOhm === Infinity) return low + wrong
  const taken = 1 - poorRate - falseLowRate - brokenLeadRate - otherwiseWrong
  const poor = poorRate === 0 ? 0 : poorRate * poorBelow(ohm - meanOhm, sdOhm)
  return taken * phi((ohm - meanOhm) / sdOhm) + poor + low + wrong
}
