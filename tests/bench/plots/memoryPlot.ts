import { memoryGrowth } from '../network/report.ts'
import type { GrowthPoint } from '../network/results.ts'
import { logLogPlot } from './logLogPlot.ts'

/** Largest resident memory of a Node process against the joints of the site. */
export function memoryPlot(points: readonly GrowthPoint[]): string {
  return logLogPlot(
    {
      title: 'Peak memory of a Node process against size, the runtime included',
      xTitle: 'joints',
      yTitle: 'resident memory',
      yTick: (megabytes) => `${megabytes} MB`,
    },
    [{ name: 'peak memory, all stages', colour: '#1d4ed8', points: memoryGrowth(points) }],
  )
}
