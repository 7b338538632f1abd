import { parseJointAddress, parsePartAddress } from '../../src/model/address.ts'
import type { ReadingAnswer } from '../../src/model/answers.ts'
import type { Trial } from './plantedTrial.ts'
import { wilsonInterval } from './wilson.ts'

const percent = (share: number) => `${(100 * share).toFixed(1)} %`

/** A line of the Markdown table. */
export function rateRow(what: string, hits: number, tries: number): string {
  const { low, high } = wilsonInterval(hits, tries)
  const share = tries === 0 ? 'none tried' : percent(hits / tries)
  return `| ${what} | ${hits} | ${tries} | ${share} | ${percent(low)} to ${percent(high)} |`
}

/** Whether a jumper lies between the two ends of a reading: within its row, one end on either side. */
function crosses({ from, to }: ReadingAnswer, joint: string): boolean {
  const jumper = parseJointAddress(joint)
  const ends = [parsePartAddress(from), parsePartAddress(to)]
  if (jumper?.at !== 'row') return false
  const tables = ends.flatMap((end) => (end?.at === 'table' && end.row === jumper.row ? [end.table] : []))
  if (tables.length < 2) return false
  return Math.min(...tables) <= jumper.tableBefore && Math.max(...tables) >= jumper.tableAfter
}

function describeReading(reading: ReadingAnswer): string {
  const read = reading.readOhm === null ? 'over' : String(reading.readOhm)
  return `${reading.to} ${read} (${reading.expectedOhm.toFixed(3)}, ${reading.verdict})`
}

/** One line on a trial that went wrong: seed, what was found, and the readings that could tell. */
export function describeFailure({ seed, answer }: Trial, joint: string | null, rank: number): string {
  const best = answer.groups.slice(0, 2).map(({ joints, probability, openProbability }) => {
    const more = joints.length > 1 ? ` and ${joints.length - 1} more` : ''
    return `${joints[0].joint}${more} ${probability.toFixed(3)}, open ${openProbability.toFixed(2)}`
  })
  const telling = answer.readings.filter((reading) =>
    joint === null ? reading.verdict !== 'inLine' : crosses(reading, joint),
  )
  return [
    `- seed ${seed}, ${joint ?? 'sound'}: rank ${rank === Infinity ? 'none' : rank}, ${answer.headline}`,
    `nothing broken ${answer.nothingBrokenProbability.toFixed(3)}, fit ${answer.fit.toFixed(3)}`,
    `first ${best.join('; ') || 'nobody'}`,
    `readings ${telling.map(describeReading).join(', ') || 'none'}`,
  ].join('; ')
}
