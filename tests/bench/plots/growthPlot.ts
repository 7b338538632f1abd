import { formatSeconds, growthOf, stageNames } from '../network/report.ts'
import type { GrowthPoint } from '../network/results.ts'
import { fitPowerLaw } from '../network/slope.ts'
import { stages, type Stage } from '../network/stages.ts'
import { logLogPlot } from './logLogPlot.ts'

const colours: Readonly<Record<Stage, string>> = {
  open: '#6b7280',
  compile: '#0f766e',
  order: '#b45309',
  analyse: '#a16207',
  factor: '#b91c1c',
  leverage: '#7c3aed',
  pair: '#1d4ed8',
  currents: '#0369a1',
  solves: '#be185d',
  sweep: '#166534',
}

/** Time of every stage against the joints of the site, with the slope in the name. */
export function growthPlot(points: readonly GrowthPoint[]): string {
  return logLogPlot(
    {
      title: 'Time of each stage against size (slope of the fit behind its name)',
      xTitle: 'joints',
      yTitle: 'time, median',
      yTick: formatSeconds,
    },
    stages.map((stage) => {
      const series = growthOf(points, stage)
      const name = `${stageNames[stage]} (${fitPowerLaw(series).exponent.toFixed(2)})`
      return { name, colour: colours[stage], points: series }
    }),
  )
}
