import type { SiteIndex } from '../layout/siteIndex.ts'
import type { DrillAnswer, DrillReading } from '../model/drill.ts'
import { formatDrillResult } from '../text/drillText.ts'
import { partOf, type ReadingMark } from './mapMarks.ts'

/** So many standard deviations above what a sound array reads, and a reading is drawn as one to look into. */
const highTimes = 3

/** The simulated readings of a drill as lines of the map, of each pair the last one, under names that no entry of the record has. */
export function drillLines(index: SiteIndex, { readings, kit }: DrillAnswer): readonly ReadingMark[] {
  const last = new Map(readings.map((reading) => [`${reading.from} ${reading.to}`, reading]))
  return [...last.values()].flatMap((reading): ReadingMark[] => {
    const from = partOf(index, reading.from)
    const to = partOf(index, reading.to)
    if (from === null || to === null || from === to) return []
    const label = formatDrillResult(reading.result, kit)
    return [{ entry: `drill ${reading.number}`, from, to, look: lookOf(reading), label, isPicked: false }]
  })
}

function lookOf({ result, expectedOhm, spreadOhm }: DrillReading): ReadingMark['look'] {
  if (result.form === 'over') return 'overRange'
  return result.ohm > expectedOhm + highTimes * spreadOhm ? 'investigate' : 'within'
}
