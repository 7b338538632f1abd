import { randomStream } from '../../../src/base/random.ts'
import { methodNames, type MethodName } from './evaluate.ts'
import { shareOf } from './figures.ts'
import { mostEngineSeconds, type LargeRow, type LargeScore } from './large/largeRow.ts'
import { figureText, percent, shareText, table } from './markdown.ts'
import { binned, calibrationError } from './scores/calibration.ts'
import { bootstrapInterval, meanInterval } from './scores/interval.ts'

interface Scored {
  readonly row: LargeRow
  readonly score: LargeScore
}

function scoredBy(rows: readonly LargeRow[], method: MethodName): Scored[] {
  return rows.flatMap((row) => {
    const score = row.methods[method]
    return score ? [{ row, score }] : []
  })
}

/** How many were asked about, and how many of them have no answer. */
function line(name: string, asked: number, all: readonly Scored[]): string[] {
  const seen = all.filter(({ row }) => row.visible > 0)
  const calibration = bootstrapInterval(
    all,
    (items) => calibrationError(binned(items.flatMap(({ score }) => score.states))),
    randomStream(78),
    100,
  )
  const five = meanInterval(seen.map(({ score }) => score.fiveSeen))
  const listed = seen.reduce((sum, { score }) => sum + score.five, 0)
  const holding = seen.reduce((sum, { score }) => sum + score.fiveSeen, 0)
  const bad = seen.reduce((sum, { score }) => sum + score.fiveBad, 0)
  return [
    name,
    String(asked),
    String(asked - all.length),
    shareText(shareOf(seen, ({ score }) => score.firstSeen)),
    `${figureText(five)} of ${(listed / Math.max(1, seen.length)).toFixed(1)}`,
    listed === 0 ? 'none' : `${percent(holding / listed)} %, ${percent(bad / listed)} %`,
    `${figureText(calibration, 3)}; ${all.reduce((sum, { score }) => sum + score.states.length, 0)}`,
  ]
}

/** Tables of the large sites; none without any. */
export function largeReport(rows: readonly LargeRow[]): Record<string, string> {
  if (rows.length === 0) return {}
  const keys = [...new Set(rows.map(({ family, pattern }) => `${family}, ${pattern}`))].sort()
  const parts = keys.map((key) => {
    const part = rows.filter(({ family, pattern }) => `${family}, ${pattern}` === key)
    const mean = (figure: (row: LargeRow) => number) => meanInterval(part.map(figure)).value.toFixed(0)
    const name =
      `${key}: ${mean((r) => r.joints)} joints, ${mean((r) => r.readings)} readings, ` +
      `${mean((r) => r.faults)} bad, ${mean((r) => r.visible)} to see; ${mean((r) => r.engineSeconds)} s`
    return line(name, part.length, scoredBy(part, 'engine'))
  })
  const methods = (Object.keys(methodNames) as MethodName[]).filter((method) =>
    rows.some((row) => row.methods[method]),
  )
  const all = methods.map((method) =>
    line(`all: ${methodNames[method]}`, rows.length, scoredBy(rows, method)),
  )
  return {
    large: table(
      [
        'site',
        'sites',
        `no answer in ${mostEngineSeconds} seconds`,
        'first group holds one to see',
        'of the first five groups hold one',
        'share that holds one to see, any bad one',
        'calibration error; states',
      ],
      [...parts, ...all],
    ),
  }
}
