import type { ColumnFit } from '../model/labels/labelColumn.ts'
import type { LabelRepeats } from '../model/labels/labelRepeats.ts'
import { formatCount, formatCounted, inWords } from './units.ts'
import { quoted } from './where.ts'

/** Labels that stand on several tables, with what follows from it; null where all differ. */
export function describeRepeats({ labels, ambiguous, examples }: LabelRepeats): string | null {
  if (labels === 0) return null
  const named = inWords(examples.map((label) => quoted(label)))
  const some = examples.length < labels ? `, among them ${named}` : `: ${named}`
  const first = `${formatCounted(labels, 'label stands', 'labels stand')} on more than one table${some}.`
  if (ambiguous === 0) return `${first} The labels of their rows tell those tables apart.`
  const which = ambiguous === labels ? 'There' : `With ${formatCount(ambiguous)} of them`
  return `${first} ${which} the labels of the rows are alike too, so that nobody on site can tell which table is meant.`
}

/** How a pasted column of labels fits the tables that it would be put onto. */
export function describeColumnFit({ lines, tables, labelled, linesOver, tablesOver }: ColumnFit): string {
  if (lines === 0) return 'Paste a column of labels, one line for each table.'
  const empty = lines - linesOver - labelled
  const sentences = [`${formatCounted(labelled, 'label')} for ${formatCounted(tables, 'table')}.`]
  if (empty > 0) {
    const their = empty === 1 ? 'its table keeps' : 'their tables keep'
    sentences.push(`${formatCounted(empty, 'line is', 'lines are')} empty: ${their} what is painted there.`)
  }
  if (linesOver > 0) {
    sentences.push(
      `${formatCounted(linesOver, 'line is', 'lines are')} over at the end and would be left out.`,
    )
  }
  if (tablesOver > 0) {
    sentences.push(
      `The last ${formatCounted(tablesOver, 'table')} would stay as ${tablesOver === 1 ? 'it is' : 'they are'}.`,
    )
  }
  return sentences.join(' ')
}

/** Joint kinds whose figures stayed those of this site when things from another were put in; null where none. */
export function describeOtherKinds(names: readonly string[]): string | null {
  if (names.length === 0) return null
  const which = inWords(names.map((name) => quoted(name)))
  return (
    `${names.length === 1 ? 'The joint kind' : 'The joint kinds'} ${which} ${names.length === 1 ? 'has' : 'have'} ` +
    'other figures at the site that this was taken from. Here those of this site hold.'
  )
}
