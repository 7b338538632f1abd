import type { Stage, WorkedThrough } from './stages.ts'
import { stages, workThrough } from './stages.ts'

/** One site worked through several times: the first time, when nothing is compiled yet, stands apart. */
export interface Rounds {
  readonly first: WorkedThrough
  readonly seconds: Readonly<Record<Stage, readonly number[]>>
}

export function workRounds(bytes: Uint8Array, rounds: number, now: () => number): Rounds {
  const first = workThrough(bytes, now)
  const all = Array.from({ length: rounds }, () => workThrough(bytes, now))
  const secondsOf = (stage: Stage) => all.flatMap(({ seconds }) => seconds[stage])
  const seconds = Object.fromEntries(stages.map((stage) => [stage, secondsOf(stage)] as const))
  return { first, seconds: seconds as Record<Stage, number[]> }
}
