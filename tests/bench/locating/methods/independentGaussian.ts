import { logNormalDensity } from '../../../../src/base/normal.ts'
import { riseOhm } from '../../../../src/network/jointSweep.ts'
import { beliefFrom, type Belief } from '../belief.ts'
import type { TypedSite } from '../typedSite.ts'
import { expectedReading } from './expectedReading.ts'
import { visibleSeverities } from './severityGrid.ts'

/** No single reading may speak louder than this, in nats; a Gaussian alone would rule a poor contact out. */
const most = 50

/** Bayes' rule with one bad joint at most and every reading independent and Gaussian: no poor contacts, no shared lead. */
export function independentGaussian(typed: TypedSite): Belief {
  const { readings, prepared } = typed
  const { defectRate } = prepared.network
  const expected = readings.map((reading) => expectedReading(typed, reading))
  const density = (p: number, rise: number) => {
    const { shownOhm, kit } = readings[p]
    const mean = expected[p].meanOhm + rise
    if (shownOhm === Infinity) return mean >= kit.mostOhm ? 0 : -most
    const sd = Math.hypot(expected[p].sdOhm, kit.gainError * Math.min(rise, kit.mostOhm))
    return Math.max(-most, mean === Infinity ? -most : logNormalDensity(shownOhm - mean, sd))
  }
  const sound = readings.map((_, p) => density(p, 0))
  const weight = defectRate.map((rate, e) => {
    if (rate === 0) return 0
    let sum = 0
    for (const { addedOhm, share } of visibleSeverities(typed, e)) {
      let logRatio = 0
      for (let p = 0; p < readings.length; p++) {
        const squared = readings[p].squared[e]
        if (squared < 1e-8) continue
        logRatio += density(p, riseOhm(squared, prepared.loopS[e], addedOhm)) - sound[p]
      }
      sum += share * Math.exp(Math.min(logRatio, 600))
    }
    return (rate / (1 - rate)) * sum
  })
  return beliefFrom(1, weight)
}
