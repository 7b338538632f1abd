import { labelCounter } from '../../model/countedLabel.ts'

/**
 * The label of the next thing: the last one with a number in it, counted up past those that are taken ("Row 3" → "Row
 * 4", "N-09" → "N-10"). Empty where none has a number: what has no label is called by its own number. O(labels).
 */
export function nextLabel(labels: readonly string[]): string {
  const counted = labels.findLast((label) => /\d/.test(label))
  return counted === undefined ? '' : labelCounter(labels)(counted)
}
