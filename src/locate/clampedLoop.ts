import { leftLoopS } from '../reading/clampedLoop.ts'
import type { LevelModel } from './levelModel.ts'

/** `leftLoopS` of candidate k and reading p of a model. */
export function loopAtReadingS({ loopS, squared, loopOfReadingS }: LevelModel, k: number, p: number): number {
  if (!loopOfReadingS) return loopS[k]
  return leftLoopS(loopS[k], squared[k * loopOfReadingS.length + p], loopOfReadingS[p])
}

/**
 * Where v γ stays below this share of c, a joint's effect on a loop reading is at most so much of the loop's ohms, and
 * less than that share of the effect is missed by taking c for what is left.
 */
const hardlyOnLoop = 1e-4

/** Whether a candidate has a part in the loop of any loop reading, so that its rises do not lie along one direction. */
export function isOnClampedLoop({ loopS, squared, loopOfReadingS }: LevelModel, k: number): boolean {
  if (!loopOfReadingS) return false
  const n = loopOfReadingS.length
  const least = hardlyOnLoop * loopS[k]
  for (let p = 0, at = k * n; p < n; p++, at++) if (squared[at] * loopOfReadingS[p] > least) return true
  return false
}
