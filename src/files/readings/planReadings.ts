import type { SiteIndex } from '../../layout/siteIndex.ts'
import { effectiveRecord } from '../../model/record/effectiveRecord.ts'
import type { Problem } from '../../model/problem.ts'
import { problem } from '../../model/problem.ts'
import type { Entry, EntryOf, OhmOrOver } from '../../model/schema/record.ts'
import type { Cells, Line } from '../tables/readCells.ts'
import { EndMatcher } from './matchEnds.ts'
import { linesOf, type ReadingChoices, type ReadingTarget } from './readingChoices.ts'
import { ReadingLineReader, type LineContext, type ListedReading } from './readReadingLine.ts'
import type { ZoneOf } from './readTimes.ts'

/** A reading that can be recorded. */
export interface PlannedReading extends ListedReading {
  /** Line of the list, or id of an entry of the record, of the reading that it repeats. */
  readonly repeatOf: { readonly line: number } | { readonly entry: string } | null
  /** Leads are to be entered as nulled just before it. */
  readonly nullsBefore: boolean
}

export interface RejectedLine {
  readonly line: Line
  readonly problems: readonly Problem[]
}

/** What a list of readings would add to the record. Every line is in one of the four. */
export interface ReadingPlan {
  /** In the order in which they were taken: by time where all lines have one, else as in the list. */
  readonly readings: readonly PlannedReading[]
  readonly rejected: readonly RejectedLine[]
  /** Readings that the record, or the list further up, has already. */
  readonly same: readonly Line[]
  /** Marked in the list as withdrawn. */
  readonly withdrawn: readonly Line[]
}

export interface ReadingPlanInput {
  readonly cells: Cells
  readonly choices: ReadingChoices
  readonly target: ReadingTarget
  readonly index: SiteIndex
  readonly record: readonly Entry[]
  /** Minutes by which the device's clock is ahead of universal time. */
  readonly zoneOf: ZoneOf
  readonly nowMs: number
}

const linesAtOnce = 50
/** A record takes a million entries; a list of readings this long is no crew's work, and every line of it is looked at. */
export const mostReadings = 50_000

/**
 * Takes a list of readings line by line. A line with something wrong is rejected with its number, its column and what to
 * do. Yields the fraction done. O(lines + record), and one search for each different name of an end.
 */
export function* planReadings(input: ReadingPlanInput): Generator<number, ReadingPlan> {
  const { cells, choices, target, index, record, zoneOf, nowMs } = input
  const matcher = new EndMatcher(index, choices.endsAre)
  if (choices.endsAre !== 'addresses') {
    const preparing = matcher.prepare()
    while (!preparing.next().done) yield 0
  }
  const context: LineContext = { index, matcher, target, choices, header: cells.header, zoneOf, nowMs }
  const known = new KnownReadings(record, choices)
  const lines = linesOf(cells, choices)
  const readings: (ListedReading & { readonly repeatOf: PlannedReading['repeatOf'] })[] = []
  const rejected: RejectedLine[] = []
  const same: Line[] = []
  const withdrawn: Line[] = []
  for (const [k, line] of lines.entries()) {
    if (k % linesAtOnce === 0) yield k / lines.length
    if (k >= mostReadings) {
      const facts = { what: 'readings in one list', found: lines.length, most: mostReadings }
      rejected.push({ line, problems: [problem('size.tooMany', facts, { line: line.number })] })
      continue
    }
    const reader = new ReadingLineReader(context, line)
    if (reader.isWithdrawn) {
      withdrawn.push(line)
      continue
    }
    const read = reader.read()
    if (read === null || reader.wrong.length > 0) {
      rejected.push({ line, problems: reader.wrong })
      continue
    }
    const there = known.findSame(read)
    const repeatOf = there ? null : known.repeatOf(read)
    if (repeatOf === 'unknown') {
      rejected.push({ line, problems: [unknownRepeat(read)] })
      continue
    }
    known.take(read, there)
    if (there) same.push(line)
    else readings.push({ ...read, repeatOf })
  }
  const { planned, refused } = withNullings(
    readings,
    input,
    new Map(lines.map((line) => [line.number, line])),
  )
  const all = [...rejected, ...refused].sort((a, b) => a.line.number - b.line.number)
  return { readings: planned, rejected: all, same, withdrawn }
}

type Target = { readonly line: number } | { readonly entry: string }

/** Readings by what makes them the same: pair, value and time. */
class KnownReadings {
  readonly #choices: ReadingChoices
  readonly #timed = new Map<string, Target>()
  readonly #untimed = new Map<string, Target>()
  readonly #byNumber = new Map<string, Target>()
  readonly #byPair = new Map<string, Target>()

  constructor(record: readonly Entry[], choices: ReadingChoices) {
    this.#choices = choices
    for (const { entry, withdrawnBy } of effectiveRecord(record)) {
      if (entry.entry !== 'reading' || withdrawnBy) continue
      const where = { entry: entry.id }
      this.#timed.set(timedKey(entry, entry.at), where)
      this.#untimed.set(alikeKey(entry), where)
    }
  }

  repeatOf({ repeats, ...read }: ListedReading): Target | 'unknown' | null {
    if (repeats === null) return null
    const found = repeats === true ? this.#byPair.get(pairKey(read)) : this.#byNumber.get(repeats)
    return found ?? 'unknown'
  }

  /** Where the same reading is already; undefined where it is not. */
  findSame(read: ListedReading): Target | undefined {
    if (read.at !== null) return this.#timed.get(timedKey(read, read.at))
    const isAgain = read.repeats !== null || this.#choices.alike === 'repeat'
    return isAgain ? undefined : this.#untimed.get(alikeKey(read))
  }

  /** From now on the reading is known, where it is already or as this line. */
  take(read: ListedReading, there: Target | undefined): void {
    const where = there ?? { line: read.line }
    if (read.number !== '') this.#byNumber.set(read.number, where)
    this.#byPair.set(pairKey(read), where)
    this.#untimed.set(alikeKey(read), where)
    if (read.at !== null) this.#timed.set(timedKey(read, read.at), where)
  }
}

function unknownRepeat({ repeats, line }: ListedReading): Problem {
  const expected = 'the number of a reading further up, or yes after one of the same pair'
  return problem('value.wrong', { expected, found: `“${String(repeats)}”` }, { path: ['repeats'], line })
}

type Alike = Pick<EntryOf<'reading'>, 'from' | 'to' | 'around' | 'result'>

function pairKey({ from, to, around }: Omit<Alike, 'result'>): string {
  const [one, other] = from.part < to.part ? [from.part, to.part] : [to.part, from.part]
  return `${one} ${other} ${around ?? ''}`
}

/** Twelve figures: what one double in ohms and the same value by way of milliohms have in common. */
const resultKey = (result: OhmOrOver) =>
  result.form === 'ohm' ? result.ohm.toPrecision(12) : `over ${result.atLeastOhm.toPrecision(12)}`
const alikeKey = (read: Alike) => `${pairKey(read)} ${resultKey(read.result)}`
const timedKey = (read: Alike, at: string) => `${alikeKey(read)} ${Math.floor(Date.parse(at) / 1000)}`

/**
 * Puts nullings where the list says that leads were nulled and the visit has no nulling yet. The record cannot say that leads are
 * no longer nulled, so lines that say they were not, after they were, are refused.
 */
function withNullings(
  readings: readonly Omit<PlannedReading, 'nullsBefore'>[],
  { target, record, nowMs }: ReadingPlanInput,
  lines: ReadonlyMap<number, Line>,
): { readonly planned: readonly PlannedReading[]; readonly refused: readonly RejectedLine[] } {
  const isTimed = readings.every(({ at }) => at !== null)
  const msOf = ({ at }: { readonly at: string | null }) => (at === null ? nowMs : Date.parse(at))
  const ordered = isTimed ? [...readings].sort((a, b) => msOf(a) - msOf(b) || a.line - b.line) : readings
  const since = new Map<string, number>()
  for (const { entry, withdrawnBy } of effectiveRecord(record)) {
    if (entry.entry !== 'nulling' || withdrawnBy || entry.visit !== target.visit?.id) continue
    const key = `${entry.kit} ${entry.lead}`
    since.set(key, Math.min(since.get(key) ?? Infinity, Date.parse(entry.at)))
  }
  const planned: PlannedReading[] = []
  const refused: RejectedLine[] = []
  const done = new Set<number>()
  const refuse = ({ line }: ListedReading, role: string, reason: string) => {
    const problems = [problem('value.inconsistent', { reason }, { path: [role], line })]
    refused.push({ line: lines.get(line)!, problems })
  }
  for (const read of ordered) {
    const key = `${read.kit.id} ${read.lead}`
    const atMs = msOf(read)
    const isNulled = (since.get(key) ?? Infinity) <= atMs
    if (isNulled && read.saysNulled && !read.isNulled && read.lead !== null) {
      refuse(
        read,
        'nulled',
        'the leads were nulled before, and the record cannot say that they no longer were',
      )
      continue
    }
    if (read.repeatOf && 'line' in read.repeatOf && !done.has(read.repeatOf.line)) {
      refuse(read, 'repeats', 'the reading that this one repeats is rejected, or was taken later')
      continue
    }
    done.add(read.line)
    const nullsBefore = read.isNulled && !isNulled && read.lead !== null && read.method === 'twoWire'
    if (nullsBefore) since.set(key, Math.min(since.get(key) ?? Infinity, atMs))
    planned.push({ ...read, nullsBefore })
  }
  return { planned, refused }
}
