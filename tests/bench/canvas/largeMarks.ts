import { randomStream } from '../../../src/base/random.ts'
import type { SiteIndex } from '../../../src/layout/siteIndex.ts'
import { noMarks, type MapMarks, type ReadingMark, type SuspectMark } from '../../../src/state/mapMarks.ts'
import type { ReadingLook } from '../../../src/state/readingLook.ts'

/** Of twenty readings so many are in line; the others are of every look. */
const looks: readonly ReadingLook[] = [
  ...Array.from({ length: 14 }, () => 'within' as const),
  'investigate',
  'overRange',
  'poorContact',
  'noMetalPath',
  'tooLow',
  'setAside',
]

/** So far a lead reaches: the second end is a table of the same row at most so many tables on. */
const mostTablesApart = 4

/** Readings along the rows, spread over the site, and a few suspects. */
export function largeMarks(index: SiteIndex, count: number, suspects: number): MapMarks {
  const random = randomStream(23)
  const { rows } = index
  const partsOfTable = index.patterns[0]!.partCount
  const readings = Array.from({ length: count }, (_, i): ReadingMark => {
    const row = Math.floor(random.uniform() * rows.tables.length)
    const tables = rows.tables[row]
    const from = Math.floor(random.uniform() * tables)
    const apart = 1 + Math.floor(random.uniform() * mostTablesApart)
    const to = from + apart < tables ? from + apart : from - apart
    const partOf = (table: number) =>
      rows.runs.partStart[row] + table * partsOfTable + Math.floor(random.uniform() * 40)
    const label = `${(0.01 + 0.2 * random.uniform()).toFixed(3)} Ω`
    const look = looks[i % looks.length]
    return { entry: `e${i}`, from: partOf(from), to: partOf(to), look, label, isPicked: false }
  })
  const marks = Array.from({ length: suspects }, (_, i): SuspectMark => ({
    joint: Math.floor(random.uniform() * index.conductorJointStart),
    probability: 0.8 / (i + 1),
    rank: i + 1,
    isPicked: false,
  }))
  return { ...noMarks, readings, suspects: marks }
}
