import type { MeasuredPage } from './measurePage.ts'
import { lostFrames, quantile } from './statistics.ts'
import type { FrameTimes } from './page/page.ts'

/** One run of frames of one stage along one journey. */
export interface FrameRun {
  readonly cpuMs: number
  readonly p95Ms: number
  readonly lost: number
  readonly longTasksMs: readonly number[]
}

/** Asks a page for the processor time at the first and at the last frame of each run. */
export async function watchRuns(measured: MeasuredPage): Promise<() => number> {
  const marks: number[] = []
  await measured.page.exposeFunction('markRun', async () => {
    marks.push(await measured.taskMs())
  })
  return () => {
    const [from, to] = marks.splice(0)
    return to - from
  }
}

export function frameRun({ intervalsMs, longTasksMs }: FrameTimes, taskMs: number): FrameRun {
  return {
    cpuMs: taskMs / intervalsMs.length,
    p95Ms: quantile(intervalsMs, 0.95),
    lost: lostFrames(intervalsMs),
    longTasksMs,
  }
}
