import { logAdd } from '../base/logSum.ts'
import { logNormalDensity } from '../base/normal.ts'
import type { EntryOf, Kit } from '../model/schema/record.ts'
import { assumptions } from './assumptions.ts'

const { contact } = assumptions

/** Mean and standard deviation of what two sound clips add, in ohm: a log-normal with the assumed median. */
export const soundContact = {
  meanOhm: contact.medianOhm * Math.exp(contact.lnSpread ** 2 / 2),
  sdOhm:
    contact.medianOhm * Math.exp(contact.lnSpread ** 2 / 2) * Math.sqrt(Math.exp(contact.lnSpread ** 2) - 1),
} as const

/**
 * Chance that a reading was taken through a poor contact, by method, surface and whether it is a second try. A clamp
 * touches nothing.
 */
export function poorContactRate(reading: EntryOf<'reading'>): number {
  if (reading.method === 'loopClamp') return 0
  if (reading.method !== 'twoWire') return contact.poorFourWire
  const coated = [reading.from, reading.to].some((spot) => spot.surface === 'coated')
  if (reading.repeats !== null && coated) return contact.poorAgain
  return coated ? contact.poorOnCoated : contact.poorOnBare
}

/**
 * Whether a bond reading was taken with less current than the method asks for: the current that was noted is less than
 * half of the instrument's own, or both are below the least that a bond test is asked to drive. Loop clamps and
 * electrode tests work with milliamperes by their nature.
 */
export function isLowCurrent({ method, testCurrentA }: EntryOf<'reading'>, kit: Kit): boolean {
  if (testCurrentA === null || (method !== 'twoWire' && method !== 'fourWire')) return false
  if (testCurrentA < assumptions.lowCurrentShare * kit.testCurrentA) return true
  return Math.max(testCurrentA, kit.testCurrentA) < assumptions.askedTestCurrentA
}

/** The chance of a poor contact where films were not broken through. They only add. */
export function poorAtLowCurrent(poorRate: number): number {
  return Math.max(poorRate, Math.min(contact.poorLowCurrentTimes * poorRate, contact.poorLowCurrentMost))
}

/** Chance that a reading is too low; a clip on a bolt head passes by the joint that the bolt makes. */
export function falseLowRate({ method, from, to }: EntryOf<'reading'>): number {
  const isBypassed = method !== 'loopClamp' && (from.spot === 'boltHead' || to.spot === 'boltHead')
  return isBypassed ? assumptions.falseLowOnBoltHead : assumptions.falseLow
}

/**
 * The log-normal part of a poor contact as a mixture of normals, so that it can be folded with the
 * uncertainty of the prediction in closed form: nodes evenly spaced in ln ohm over ± 3.5 spreads, each as
 * wide as half the distance to its neighbours.
 */
const nodes = (() => {
  const count = 43
  const step = (7 * contact.poorLnSpread) / (count - 1)
  const ohm = new Float64Array(count)
  const weight = new Float64Array(count)
  for (let k = 0; k < count; k++) {
    const z = -3.5 + (7 * k) / (count - 1)
    ohm[k] = contact.poorMedianOhm * Math.exp(z * contact.poorLnSpread)
    weight[k] = Math.exp(-0.5 * z * z)
  }
  const total = weight.reduce((sum, w) => sum + w, 0)
  return { ohm, weight: weight.map((w) => w / total), relativeWidth: step / 2 }
})()

const share = {
  over: contact.poorOverRange,
  high: contact.poorHigh,
  low: 1 - contact.poorOverRange - contact.poorHigh,
}
const lnHighRange = Math.log(contact.poorHighToOhm / contact.poorHighFromOhm)

/** A node this many widths away adds less than 1e-10 of its own peak. */
const farWidths = 7

/**
 * Natural log of the density, per ohm, of a reading that lies `excessOhm` above its prediction when the
 * contact is poor; `sdOhm` is the standard deviation of the prediction. A poor contact only adds. Called once
 * per reading and hypothesis, hence a plain sum, with logarithms only where that would vanish.
 */
export function logPoorContactDensity(excessOhm: number, sdOhm: number): number {
  const { ohm: nodeOhm, weight, relativeWidth } = nodes
  const square = sdOhm * sdOhm
  let sum = 0
  for (let k = 0; k < nodeOhm.length; k++) {
    const own = nodeOhm[k] * relativeWidth
    const width = Math.sqrt(square + own * own)
    const z = (excessOhm - nodeOhm[k]) / width
    if (z > -farWidths && z < farWidths) sum += (weight[k] / width) * Math.exp(-0.5 * z * z)
  }
  sum *= share.low / Math.sqrt(2 * Math.PI)
  if (excessOhm >= contact.poorHighFromOhm && excessOhm <= contact.poorHighToOhm) {
    sum += share.high / lnHighRange / excessOhm
  }
  return sum > 0 ? Math.log(sum) : logFarTail(excessOhm, sdOhm)
}

/** The same where every node lies far away: far below the prediction, or beyond the range. */
function logFarTail(excessOhm: number, sdOhm: number): number {
  let log = -Infinity
  for (let k = 0; k < nodes.ohm.length; k++) {
    const width = Math.hypot(sdOhm, nodes.ohm[k] * nodes.relativeWidth)
    log = logAdd(
      log,
      Math.log(share.low * nodes.weight[k]) + logNormalDensity(excessOhm - nodes.ohm[k], width),
    )
  }
  return log
}

/** Chance that a poor contact drives an instrument with the given range over its end. */
export function poorContactOverRange(mostOhm: number): number {
  const beyond = Math.max(0, Math.log(contact.poorHighToOhm / Math.max(mostOhm, contact.poorHighFromOhm)))
  return share.over + (share.high * beyond) / lnHighRange
}
