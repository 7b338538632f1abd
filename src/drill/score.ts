import type { DrillCalled, DrillScore } from '../model/drill.ts'
import { drillRules } from './drillRules.ts'

/** What points are made of. */
export interface Counted {
  readonly isFound: boolean
  readonly readings: number
  readonly minutes: number
  readonly called: readonly DrillCalled[]
  readonly asked: number
}

/**
 * Points of a drill, each sum by itself: 100 for the joint, less what readings, minutes, wrong calls and asking cost, more for
 * each bad test that was named. Nobody gets less than 0 or more than 100.
 */
export function scoreOf({ isFound, readings, minutes, called, asked }: Counted): DrillScore {
  const { points } = drillRules
  const wrong = called.filter(({ isRight }) => !isRight).length
  const badTests = called.filter(({ call, isRight }) => call === 'badTest' && isRight).length
  const parts = {
    found: isFound ? points.found : 0,
    readings: points.perReading * readings,
    minutes: points.perMinute * minutes,
    wrongCalls: points.perWrongCall * wrong,
    badTests: points.perBadTestFound * badTests,
    asked: points.perAsked * asked,
  }
  const sum = Object.values(parts).reduce((total, each) => total + each, 0)
  return { ...parts, total: Math.min(points.found, Math.max(0, Math.round(sum))) }
}
