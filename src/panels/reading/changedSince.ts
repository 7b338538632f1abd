import type { Basis } from '../../model/answers.ts'
import type { Entry } from '../../model/schema/record.ts'

/**
 * Whether a reading was corrected, withdrawn or counted again after an answer was worked out: what the answer says of it is
 * said of another value. O(entries since).
 */
export function changedSince(
  record: readonly Entry[],
  { recordLength }: Pick<Basis, 'recordLength'>,
  entry: string,
): boolean {
  const about = (one: Entry | undefined): boolean => {
    const seen = new Set<string>()
    for (let at = one; at?.entry === 'correction' || at?.entry === 'withdrawal';) {
      const { id, of } = at
      if (of === entry) return true
      if (seen.has(id)) return false
      seen.add(id)
      at = record.find((each) => each.id === of)
    }
    return false
  }
  return record.slice(recordLength).some(about)
}
