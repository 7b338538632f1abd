import { assert } from '../../base/assert.ts'
import type { InsulationSeen } from '../../model/faultAnswers.ts'

/** Amperes that insulation may lead at the array's greatest volts: IEC 62109-2:2011 §4.8.2 (from memory). */
const mostLeakA = 0.03

/** Ohms below which an inverter is to alarm, or not to start: greatest volts of the array / 30 mA. */
export function alarmBelowOhm(mostV: number): number {
  return mostV / mostLeakA
}

export interface InsulationAsk {
  /** Greatest open-circuit volts of the array. */
  readonly mostV: number
  /** Insulation of each of the two poles to earth; infinite for none that leads. */
  readonly poleOhm: number
  /** From the pole through the fault to the monitored earth; infinite where nothing leads there; null: no fault. */
  readonly faultPathOhm: number | null
  /** Whether that path is metal all the way. */
  readonly isMetalPath: boolean
}

/**
 * What insulation monitoring reads: both poles and the fault, in parallel. With a fault onto metal that has no metal path to
 * the monitored earth, the reading is that of a sound array, and the fault is hidden, unless soil or bare contact leads
 * well enough for an alarm. A monitor sees ohms to its own earth, not the volts of a frame.
 */
export function insulationSeen({ mostV, poleOhm, faultPathOhm, isMetalPath }: InsulationAsk): InsulationSeen {
  assert(mostV > 0 && poleOhm > 0, 'insulation of an array without volts or without ohms')
  assert(faultPathOhm === null || faultPathOhm >= 0, `${faultPathOhm} ohm from a fault to earth`)
  const readsOhm = 1 / (2 / poleOhm + (faultPathOhm === null ? 0 : 1 / faultPathOhm))
  const limit = alarmBelowOhm(mostV)
  const alarms = readsOhm < limit
  return {
    readsOhm,
    alarmBelowOhm: limit,
    alarms,
    isHidden: faultPathOhm !== null && !isMetalPath && !alarms,
  }
}
