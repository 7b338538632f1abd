import { openSite } from '../files/openSite.ts'
import { countJoints } from '../model/countJoints.ts'
import { countedEntries } from '../model/record/effectiveRecord.ts'
import { tableCount } from '../model/queries/tablePosition.ts'
import { formatCounted } from '../text/units.ts'
import type { DemoWords } from './demoSite.ts'

/**
 * Name and size of a demo site out of its file. Runs while the page is built, so that the page need not read
 * whole files for a list; a file that does not open is told by its name.
 */
export function describeDemo(bytes: Uint8Array, file: string): DemoWords {
  const opened = openSite(bytes, file)
  if (!opened.ok) return { name: file, about: 'This file does not open.' }
  const { name, drawing, record } = opened.value
  const tables = drawing.rows.reduce((sum, row) => sum + tableCount(row), 0)
  const readings = countedEntries(record, 'reading').length
  const drawn = [
    formatCounted(drawing.rows.length, 'row'),
    formatCounted(tables, 'table'),
    formatCounted(countJoints(drawing), 'joint'),
  ]
  return {
    name: name.trim() === '' ? file : name,
    about: `${drawn.join(', ')}; ${formatCounted(readings, 'reading')} in the record.`,
  }
}
