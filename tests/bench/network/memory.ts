import { readFileSync } from 'node:fs'
import { workThrough, type Stage } from './stages.ts'

export interface HeldMemory {
  readonly stage: Stage | 'start'
  /** Objects of the program. */
  readonly heapMB: number
  /** Typed arrays. */
  readonly arraysMB: number
}

export interface MemoryUse {
  /** After every stage, all garbage collected if the process can be told to. */
  readonly held: readonly HeldMemory[]
  /** Largest resident memory of the process since it started, the runtime itself included. */
  readonly peakMB: number
}

/** One site worked through once, in a process that has done nothing else. */
export function measureMemory(bytes: Uint8Array): MemoryUse {
  const held: HeldMemory[] = []
  const note = (stage: HeldMemory['stage']) => {
    // the memory of typed arrays is given back by the collection after the one that finds them
    globalThis.gc?.()
    globalThis.gc?.()
    const { heapUsed, arrayBuffers } = process.memoryUsage()
    held.push({ stage, heapMB: heapUsed / 1e6, arraysMB: arrayBuffers / 1e6 })
  }
  note('start')
  workThrough(bytes, { now: () => performance.now() }, note)
  return { held, peakMB: peakResidentMB() }
}

/**
 * Of this process alone: the system's count for resource usage begins, on Linux, with what the process that started
 * this one held at that moment.
 */
function peakResidentMB(): number {
  const kibibytes =
    process.platform === 'linux'
      ? Number(/VmHWM:\s*(\d+) kB/.exec(readFileSync('/proc/self/status', 'utf8'))?.[1])
      : process.resourceUsage().maxRSS
  return (kibibytes * 1024) / 1e6
}
