import { arch, cpus, loadavg, totalmem } from 'node:os'

export interface Machine {
  readonly cores: number
  /** Kind of processor, without its maker. */
  readonly processor: string
  readonly memoryGiB: number
  readonly node: string
}

export function thisMachine(): Machine {
  return {
    cores: cpus().length,
    processor: arch(),
    memoryGiB: totalmem() / 2 ** 30,
    node: process.version,
  }
}

/** Runnable processes on the average of the last minute: what else ran while something was measured. */
export const loadOfLastMinute = () => loadavg()[0]
