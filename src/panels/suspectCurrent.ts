import type { LocateAnswer, SuspectGroup } from '../model/answers.ts'
import type { ShownPair } from '../state/results.svelte.ts'
import { strongestFirst } from '../text/evidenceText.ts'
import { isPair } from '../text/readingPlace.ts'

/** The pair that a reading was taken between; null for what was read round a joint or of an electrode. */
export function pairOf(answer: LocateAnswer, entry: string): ShownPair | null {
  const reading = answer.readings.find((candidate) => candidate.entry === entry)
  return reading && isPair(reading) ? { from: reading.from, to: reading.to } : null
}

/** The pair of the reading that speaks most clearly for a group; null where none speaks for it. */
export function strongestPair(answer: LocateAnswer, group: SuspectGroup): ShownPair | null {
  for (const { entry, bits } of strongestFirst(group)) {
    const pair = bits > 0 ? pairOf(answer, entry) : null
    if (pair) return pair
  }
  return null
}

/** The group that a joint belongs to. */
export function groupOf(answer: LocateAnswer | null, joint: string | null): SuspectGroup | null {
  if (answer === null || joint === null) return null
  return answer.groups.find(({ joints }) => joints.some((one) => one.joint === joint)) ?? null
}

/** A group below this chance is told in one line with its like. */
export const leastLikely = 0.01

/** How many groups are written out unasked: those of 1 % and more, at least one and at most five. */
export function likelyGroups({ groups }: LocateAnswer): number {
  return Math.min(5, Math.max(1, groups.filter(({ probability }) => probability >= leastLikely).length))
}
