import { memoryGrowth } from '../network/report.ts'
import type { GrowthPoint } from '../network/results.ts'
import { fitPowerLaw } from '../network/slope.ts'
import { logLogPlot } from './logLogPlot.ts'

/** Memory of a Node process against the joints of the site. */
export function memoryPlot(points: readonly GrowthPoint[]): string {
  const series = (name: string, which: 'peakMB' | 'heldMB', colour: string) => {
    const line = memoryGrowth(points, which)
    return { name: `${name} (${fitPowerLaw(line).exponent.toFixed(2)})`, colour, points: line }
  }
  return logLogPlot(
    {
      title: 'Memory of a Node process against size (slope of the fit behind its name)',
      xTitle: 'joints',
      yTitle: 'memory',
      yTick: (megabytes) => `${megabytes} MB`,
    },
    [
      series('resident, peak, with the runtime', 'peakMB', '#1d4ed8'),
      series('held at most', 'heldMB', '#b45309'),
    ],
  )
}
