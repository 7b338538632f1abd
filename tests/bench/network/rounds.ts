import type { Clock, Stage, StageTimes, WorkedThrough } from './stages.ts'
import { stages, workThrough } from './stages.ts'

/** One site worked through several times: the first time, when nothing is compiled yet, stands apart. */
export interface Rounds {
  readonly first: WorkedThrough
  readonly seconds: StageTimes
  readonly processorSeconds: StageTimes
}

export function workRounds(bytes: Uint8Array, rounds: number, clock: Clock): Rounds {
  const first = workThrough(bytes, clock)
  const all = Array.from({ length: rounds }, () => workThrough(bytes, clock))
  const gather = (times: (round: WorkedThrough) => StageTimes) =>
    Object.fromEntries(
      stages.map((stage) => [stage, all.flatMap((round) => times(round)[stage])] as const),
    ) as Record<Stage, number[]>
  return {
    first,
    seconds: gather(({ seconds }) => seconds),
    processorSeconds: gather(({ processorSeconds }) => processorSeconds),
  }
}
