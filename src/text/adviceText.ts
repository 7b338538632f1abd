import type { LocateAnswer, SuspectGroup } from '../model/answers.ts'
import { formatRead, isReadBetween, onMeter, readingNumber } from './evidenceText.ts'
import { formatRoughOhm } from './ohms.ts'
import type { NameBook } from './places.ts'
import { describeCut } from './suspectText.ts'
import { formatCounted, inWords } from './units.ts'

/** Readings that are worth repeating under a temporary bond: at most this many, the strongest first. */
const mostRepeats = 3

/**
 * What a crew does about a group of suspects, in order: look, torque, temporary bond, repeat. A lead for
 * inspection, nothing more.
 */
export function adviseOn(answer: LocateAnswer, group: SuspectGroup, book: NameBook): string[] {
  const isOne = group.jointCount === 1
  const it = isOne ? 'it' : 'each of them'
  return [
    `Look at ${it}: loose, corroded, a coating that was not pierced, a part missing or broken.`,
    `Check the torque of ${it} against what its maker asks for.`,
    ...(isOne
      ? []
      : [
          `No reading taken tells these ${formatCounted(group.jointCount, 'joint')} apart: clip on close to both ` +
            `sides of one after the other, or look at all of them.`,
        ]),
    `Put a temporary bond across ${isOne ? 'it' : 'one at a time'}${describeRepeat(answer, group)}`,
    `Leave every bond and ${book.words.earthingConductor} in place while current may flow in it.`,
  ]
}

function describeRepeat(answer: LocateAnswer, group: SuspectGroup): string {
  // a clamp round the joint reads its own ohms with a bond across it too
  const speaking = group.evidence
    .filter(({ entry, bits }) => bits >= 1 && isReadBetween(answer, entry))
    .sort((a, b) => b.bits - a.bits)
    .slice(0, mostRepeats)
  const numbers = speaking.flatMap(({ entry }) => readingNumber(answer, entry) ?? [])
  if (numbers.length === 0) return ' and read across it again.'
  const inOrder = numbers.toSorted((a, b) => a - b)
  const which = `${numbers.length === 1 ? 'reading' : 'readings'} ${inWords(inOrder.map(String))}`
  const reading = answer.readings[numbers[0] - 1]
  const { soundOhm, isBesideOthers } = onMeter(reading, speaking[0])
  const sound = `${formatRoughOhm(soundOhm)}${isBesideOthers ? ', what the other suspects leave of it' : ''}`
  const fall =
    reading.readOhm === null
      ? `reading ${numbers[0]} should come back into range, near ${sound}`
      : `reading ${numbers[0]} should fall from ${formatRead(answer, reading)} to about ${sound}`
  return ` and repeat ${which}: if this is the joint, ${fall}.`
}

/** What hangs on a group, or null when nothing would be cut off. */
export function describeWhatHangs(answer: LocateAnswer, group: SuspectGroup, book: NameBook): string | null {
  return group.cutsOffParts > 0 ? describeCut(answer, group, book) : null
}
