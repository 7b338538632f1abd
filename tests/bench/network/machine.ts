import { cpus, loadavg, totalmem } from 'node:os'

export interface Machine {
  readonly cores: number
  readonly processor: string
  readonly memoryGiB: number
  readonly node: string
}

export function thisMachine(): Machine {
  const each = cpus()
  return {
    cores: each.length,
    processor: each[0]?.model ?? 'unknown processor',
    memoryGiB: totalmem() / 2 ** 30,
    node: process.version,
  }
}

/** Runnable processes on the average of the last minute: what else ran while something was measured. */
export const loadOfLastMinute = () => loadavg()[0]
