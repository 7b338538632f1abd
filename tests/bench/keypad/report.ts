import { median, quantile } from '../canvas/statistics.ts'
import type { TimedReading, Way } from './timedReadings.ts'

export interface TimedRun {
  readonly site: string
  readonly way: Way
  readonly slowdown: number
  readonly readings: readonly TimedReading[]
}

const wayNames: Readonly<Record<Way, string>> = {
  keypad: 'keys on the screen, 820 × 1180',
  keyboard: 'keyboard, 1280 × 800',
}

/** Median, 95th percentile and worst of some milliseconds, as cells of a table. */
function spread(values: readonly number[]): string {
  return [median(values), quantile(values, 0.95), Math.max(...values)].map((ms) => ms.toFixed(0)).join(' | ')
}

const processorName = (slowdown: number) => (slowdown === 1 ? 'as it is' : `slowed ${slowdown} times`)
const conditionOf = ({ site, slowdown }: TimedRun) => `${site} | ${processorName(slowdown)}`

export function verdictTable(runs: readonly TimedRun[]): string {
  return [
    '| site | typed with | processor | readings | median, ms | 95th percentile, ms | worst, ms | words written, median, ms | main thread busy, median, ms |',
    '|---|---|---|---|---|---|---|---|---|',
    ...runs.map(({ site, way, slowdown, readings }) => {
      const written = median(readings.map(({ writtenMs }) => writtenMs)).toFixed(0)
      const busy = median(readings.map((reading) => reading.busyMs)).toFixed(0)
      const verdicts = spread(readings.map(({ verdictMs }) => verdictMs))
      return `| ${site} | ${wayNames[way]} | ${processorName(slowdown)} | ${readings.length} | ${verdicts} | ${written} | ${busy} |`
    }),
  ].join('\n')
}

/** How long the form takes to say what is expected, which a verdict needs: from the second end chosen. */
export function expectedTable(runs: readonly TimedRun[]): string {
  const keys = [...new Set(runs.map(conditionOf))]
  return [
    '| site | processor | readings | median, ms | 95th percentile, ms | worst, ms |',
    '|---|---|---|---|---|---|',
    ...keys.map((key) => {
      const alike = runs.filter((run) => conditionOf(run) === key)
      const values = alike.flatMap(({ readings }) => readings.map(({ expectedMs }) => expectedMs))
      return `| ${key} | ${values.length} | ${spread(values)} |`
    }),
  ].join('\n')
}
