import { shareOf } from './figures.ts'
import { figureText, percent, shareText, table } from './markdown.ts'
import { meanInterval, type Interval } from './scores/interval.ts'
import { leastReadings } from './sequential/bound.ts'
import { mostMinutes, mostReadings, type Found } from './sequential/follow.ts'
import { adviceName, halvingName } from './sequential/policies.ts'
import type { SequentialRow } from './sequential/sequentialRow.ts'

/** What it costs to come to a bad joint; a way that does not come to it in time is charged all there is. */
export const restricted = {
  readings: ({ found, readings }: Found) => (found ? Math.min(readings, mostReadings) : mostReadings),
  minutes: ({ found, minutes }: Found) => (found ? Math.min(minutes, mostMinutes) : mostMinutes),
} as const

/** The same from the first reading on that was too high; nothing where none ever was. */
export const sinceHigh = {
  readings: (run: Found) => restricted.readings(run) - (run.high?.readings ?? restricted.readings(run)),
  minutes: (run: Found) =>
    Math.max(0, restricted.minutes(run) - (run.high?.minutes ?? restricted.minutes(run))),
} as const

const classes = [
  ['one bad joint to see', (visible: number) => visible === 1],
  ['two or three', (visible: number) => visible > 1],
] as const

function waysTable(rows: readonly SequentialRow[]): string {
  const lines = classes.flatMap(([name, isIn]) => {
    const part = rows.filter(({ visible }) => isIn(visible))
    const ways = [...new Set(part.flatMap(({ ways: of }) => Object.keys(of)))]
    return ways.map((way) => {
      const runs = part.map((row) => row.ways[way])
      const mean = (figure: (run: Found) => number, digits = 1) =>
        figureText(meanInterval(runs.map(figure)), digits)
      return [
        `${name}: ${way}`,
        shareText(shareOf(runs, ({ found }) => found)),
        mean(restricted.readings),
        mean(restricted.minutes, 0),
        mean(sinceHigh.readings),
        mean(sinceHigh.minutes, 0),
        mean(({ metres }) => metres, 0),
        mean(({ vainLooks }) => vainLooks),
        mean(({ vainMinutes }) => vainMinutes),
      ]
    })
  })
  return table(
    [
      'way',
      'found',
      'readings',
      'minutes',
      'readings after the first high one',
      'minutes after it',
      'metres walked',
      'looks in vain',
      'minutes of looks and digs in vain',
    ],
    lines,
  )
}

/** Mean of the differences of the same arrays, and what share of the other way's mean that is, if it has one. */
export function savingOf(
  rows: readonly SequentialRow[],
  other: string,
  cost: (run: Found) => number,
): { readonly difference: Interval; readonly share: number | null } {
  const difference = meanInterval(rows.map(({ ways }) => cost(ways[adviceName]) - cost(ways[other])))
  const mean = meanInterval(rows.map(({ ways }) => cost(ways[other]))).value
  return { difference, share: mean > 0 ? -difference.value / mean : null }
}

function savingsTable(rows: readonly SequentialRow[]): string {
  const lines = classes.flatMap(([name, isIn]) => {
    const part = rows.filter(({ visible }) => isIn(visible))
    const others = [...new Set(part.flatMap(({ ways }) => Object.keys(ways)))].filter(
      (way) => way !== adviceName,
    )
    return others.map((other) => {
      const cell = (cost: (run: Found) => number) => {
        const { difference, share } = savingOf(part, other, cost)
        if (share === null) return figureText(difference, 1)
        return `${figureText(difference, 1)}, ${percent(Math.abs(share))} % ${share < 0 ? 'more' : 'fewer'}`
      }
      return [
        `${name}: beside ${other}`,
        String(part.length),
        cell(restricted.readings),
        cell(restricted.minutes),
        cell(sinceHigh.readings),
        cell(sinceHigh.minutes),
        figureText(savingOf(part, other, ({ metres }) => metres).difference, 0),
        figureText(savingOf(part, other, ({ vainMinutes }) => vainMinutes).difference, 1),
      ]
    })
  })
  return table(
    [
      'this program’s advice …',
      'arrays',
      'readings',
      'minutes',
      'readings after the first high one',
      'minutes after it',
      'metres',
      'minutes in vain',
    ],
    lines,
  )
}

function boundTable(rows: readonly SequentialRow[]): string {
  const families = [...new Set(rows.map(({ family }) => family))]
  const parts = [...families.map((name) => [name, rows.filter(({ family }) => family === name)] as const)]
  const lines = [...parts, ['all', rows] as const].flatMap(([name, part]) => {
    const one = part.flatMap(({ visible, bound, ways }) =>
      visible === 1 && bound !== null && ways[adviceName].found && bound.bitsPerReading > 0
        ? [{ bound, advice: ways[adviceName], halving: ways[halvingName] }]
        : [],
    )
    if (one.length === 0) return []
    const mean = (figure: (each: (typeof one)[number]) => number) => meanInterval(one.map(figure))
    const least = mean(({ bound, advice }) => leastReadings(bound, advice.looks))
    const taken = mean(({ advice }) => advice.readings)
    return [
      [
        name,
        String(one.length),
        mean(({ bound }) => bound.entropyBits).value.toFixed(2),
        mean(({ bound }) => bound.bitsPerReading).value.toFixed(2),
        figureText(least, 1),
        figureText(taken, 1),
        (taken.value / least.value).toFixed(2),
        figureText(
          mean(({ halving }) => restricted.readings(halving)),
          1,
        ),
      ],
    ]
  })
  return table(
    [
      'family',
      'arrays',
      'bits to find out',
      'bits of the best reading',
      'readings, bound',
      'readings, this program',
      'ratio',
      'readings, half-splitting',
    ],
    lines,
  )
}

/** Tables of what it takes to come to a bad joint; none without runs. */
export function sequentialReport(all: readonly SequentialRow[]): Record<string, string> {
  const rows = all.filter(({ visible }) => visible > 0).toSorted((a, b) => a.seed - b.seed)
  if (rows.length === 0) return {}
  return { ways: waysTable(rows), savings: savingsTable(rows), bound: boundTable(rows) }
}
