import type { LabelPreview } from '../model/edits/labels.ts'
import { formatCounted } from './units.ts'

/** Patterns that are painted often, each with what it gives for table 7 of row 3, whose own label is N. */
export const commonPatterns: readonly { readonly id: string; readonly label: string }[] = [
  { id: '{row}-{table:02}', label: '3-07: row and table' },
  { id: '{name}-{table:02}', label: 'N-07: label of the row, and table' },
  { id: '{row:A}{table:02}', label: 'C07: row as a letter, and table' },
  { id: '{table}', label: '7: table alone' },
  { id: '{table:03}', label: '007: table alone, three digits' },
]

export const labelsTexts = {
  title: 'Labels painted on tables',
  open: (tables: number) => `Labels of its ${formatCounted(tables, 'table')} …`,
  openRows: (rows: number) => `Labels of the tables of ${formatCounted(rows, 'row')} …`,
  scope: 'Which tables',
  chosen: (rows: string) => `Those of ${rows}`,
  all: 'All tables of the site',
  way: 'Where the labels come from',
  ways: {
    rule: 'A rule',
    column: 'A column, pasted from a list',
    off: 'None: take the labels off',
  },
  common: 'Common patterns',
  own: 'a pattern of your own',
  pattern: 'Pattern',
  patternHint:
    '{row} and {table} are numbers, {table:02} has two digits, {row:A} is a letter, {name} is the label of the row.',
  firstRow: 'First row counts as',
  firstTable: 'First table counts as',
  corner: 'It begins at, north up',
  corners: {
    northWest: 'North-west',
    northEast: 'North-east',
    southWest: 'South-west',
    southEast: 'South-east',
  },
  course: 'Way along the rows',
  courses: {
    rowByRow: 'Every row from the same end',
    serpentine: 'To and fro: every other row back',
  },
  counting: 'Counting of the tables',
  countings: { eachRow: 'Anew in each row', through: 'On through all rows' },
  order: 'Order of the rows',
  orders: { fromCorner: 'From that corner on', asListed: 'As they were drawn' },
  column: 'Labels, one a line',
  columnHint: 'In the order in which one walks past the tables. An empty line leaves its table as it is.',
  preview: 'What it gives',
  between: '…',
  apply: (tables: number) => `Label ${formatCounted(tables, 'table')}`,
  takeOff: (tables: number) => `Take labels off ${formatCounted(tables, 'table')}`,
  step: 'labels of tables',
  stepOff: 'take labels off tables',
  nothingPasted: 'Paste a column of labels.',
  noTables: 'There are no tables here.',
} as const

/** `first` and `last` in their order, with a mark where some are left out. */
export function previewLines({ tables, first, last }: LabelPreview): readonly string[] {
  const gap = tables > first.length + last.length ? [labelsTexts.between] : []
  const line = ({ table, label }: { table: string; label: string }) => `${label} on ${table}`
  return [...first.map(line), ...gap, ...last.map(line)]
}
