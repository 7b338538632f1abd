import { fail, ok, type Result } from '../base/result.ts'
import { problem, type Problem } from '../model/problem.ts'
import { effectiveRecord } from '../model/record/effectiveRecord.ts'
import type { EntryOf } from '../model/schema/record.ts'
import type { Site } from '../model/schema/site.ts'
import { formatCounted } from '../text/units.ts'
import { usageOf, type Call, type Command, type OptionSpec } from './command.ts'
import { readCount } from './commandLine.ts'

export const visitOption: OptionSpec = {
  name: 'visit',
  value: 'N',
  help: 'only the N-th visit of the record, counted from 1; without it all of them',
}

/** The visits of a record in their order, as corrected. */
export function visitsOf({ record }: Site): readonly EntryOf<'visit'>[] {
  return effectiveRecord(record).flatMap(({ entry }) => (entry.entry === 'visit' ? [entry] : []))
}

/** The visit that `--visit` names; null where it is not given. */
export function chosenVisit(
  command: Command,
  options: Call['options'],
  site: Site,
): Result<EntryOf<'visit'> | null, Problem> {
  const asked = readCount(command, options, 'visit')
  if (!asked.ok) return asked
  if (asked.value === undefined) return ok(null)
  const visits = visitsOf(site)
  const visit = visits.at(asked.value - 1)
  if (visit) return ok(visit)
  const reason = `There is no visit ${asked.value}; the record has ${formatCounted(visits.length, 'visit')}`
  return fail(problem('command.usage', { usage: usageOf(command), reason }))
}
