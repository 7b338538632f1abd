import type { DrillSheet } from '../model/drill.ts'
import { csvLine } from './csvLine.ts'

const head = [
  'at',
  'site',
  'trainee',
  'trainer',
  'drill',
  'hidden_by',
  'instrument',
  'found',
  'joint',
  'readings',
  'minutes',
  'wrong_calls',
  'bad_tests_named',
  'asked_what_readings_say',
  'asked_what_next',
  'points',
]

/** The attendance and result sheet as a table after RFC 4180, one line a drill; no name is taken for a formula. O(lines). */
export function drillCsv(sheets: readonly DrillSheet[]): string {
  const lines = sheets.map((sheet) =>
    csvLine([
      sheet.at,
      sheet.site,
      sheet.trainee,
      sheet.trainer,
      sheet.seed,
      sheet.by,
      sheet.kit,
      sheet.isFound,
      sheet.joint,
      sheet.readings,
      sheet.minutes,
      sheet.wrongCalls,
      sheet.badTests,
      sheet.asked.suspects ?? '',
      sheet.asked.next ?? '',
      sheet.points,
    ]),
  )
  return csvLine(head) + lines.join('')
}
