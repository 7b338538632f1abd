import type { Evidence, LocateAnswer, SuspectGroup } from '../model/answers.ts'
import { nameJoint, nameJointAt, nameKind } from './jointNames.ts'
import { formatOhm, formatRoughOhm, sharedOhmUnit } from './ohms.ts'
import { namePair } from './partNames.ts'
import type { NameBook } from './places.ts'
import { item, paragraph, support, type TextLine } from './sections.ts'
import {
  capital,
  formatBits,
  formatChance,
  formatCount,
  formatCounted,
  formatShare,
  inWords,
} from './units.ts'

const listedJoints = 10
const listedEvidence = 8
/** Less than this is next to nothing: one in five more likely, or less. */
const leastBits = 0.3

/** Readings are called by their place in the record, counted from 1; null for an entry that is not there. */
export function readingNumber(answer: LocateAnswer, entry: string): number | null {
  const index = answer.readings.findIndex((reading) => reading.entry === entry)
  return index < 0 ? null : index + 1
}

/** One group of suspects: which joints, how likely, how bad, on what evidence, and what hangs on it. */
export function describeGroup(
  answer: LocateAnswer,
  group: SuspectGroup,
  place: number,
  book: NameBook,
): TextLine[] {
  const about = group.joints.map(({ joint }) => joint)
  return [
    paragraph(
      `${place}. ${capital(describeWho(group, book))}: ${formatChance(group.probability)} likely.`,
      about,
    ),
    ...describeMembers(group, book),
    item(describeState(group)),
    ...(group.cutsOffParts > 0 ? [item(describeCut(group))] : []),
    ...describeEvidence(answer, group, book),
  ]
}

/** `jumper between table 3 and table 4 of row 2 (R2/T3+T4~1)` or `one of 3 joints that …`. */
export function describeWho(group: SuspectGroup, book: NameBook): string {
  const [first] = group.joints
  return group.jointCount === 1
    ? nameJointAt(book, first.joint)
    : `one of ${formatCounted(group.jointCount, 'joint')} that cannot be told apart`
}

function describeMembers(group: SuspectGroup, book: NameBook): TextLine[] {
  if (group.jointCount === 1) return [item(`It is a ${nameKind(book, group.joints[0].kind)}.`)]
  const shown = group.joints.slice(0, listedJoints)
  const left = group.jointCount - shown.length
  return [
    item(`These ${formatCount(group.jointCount)} joints cannot be told apart by the readings taken:`),
    ...shown.map(({ joint, kind, probability }) =>
      support(`${nameJointAt(book, joint)}, ${nameKind(book, kind)}: ${formatChance(probability)}`),
    ),
    ...(left > 0 ? [support(`and ${formatCount(left)} more, none of them more likely.`)] : []),
  ]
}

/** Open or raised, and by how much: `Open (87 %), or raised by 0.4 Ω …`. */
export function describeState({ openProbability, addedOhm }: SuspectGroup): string {
  const open = formatChance(openProbability)
  if (addedOhm === null) return `If it is bad, it is open (${open}).`
  const range = `${formatRoughOhm(addedOhm.middle)} more than a sound one${describeRange(addedOhm)}`
  return openProbability >= 0.5
    ? `If it is bad, it is open (${open}); if only raised, by ${range}.`
    : `If it is bad, it is raised by ${range}; open: ${open}.`
}

function describeRange({ low, high }: NonNullable<SuspectGroup['addedOhm']>): string {
  const [least, most] = [formatRoughOhm(low), formatRoughOhm(high)]
  return least === most ? '' : ` (90 % between ${least} and ${most})`
}

/** What has no metal path to the rest once the group is open. */
export function describeCut({ cutsOffParts, jointCount }: SuspectGroup): string {
  const which = jointCount === 1 ? 'it' : 'the first of them'
  const parts = formatCounted(cutsOffParts, 'part')
  return `If ${which} is open, ${parts} ${cutsOffParts === 1 ? 'has' : 'have'} no metal path to the rest.`
}

function describeEvidence(answer: LocateAnswer, group: SuspectGroup, book: NameBook): TextLine[] {
  const telling = group.evidence.filter(({ bits }) => Math.abs(bits) >= leastBits)
  const strongest = [...telling].sort((a, b) => Math.abs(b.bits) - Math.abs(a.bits))
  const hidden = strongest.slice(listedEvidence)
  const silent = group.evidence.length - telling.length
  const rest = [
    ...(hidden.length > 0 ? [`${formatCounted(hidden.length, 'reading')} more with less to say`] : []),
    ...(silent > 0
      ? [`${formatCounted(silent, 'reading')} that ${silent === 1 ? 'says' : 'say'} next to nothing`]
      : []),
  ]
  return [
    ...strongest
      .slice(0, listedEvidence)
      .map((one) => support(describeOneEvidence(answer, group, one, book))),
    ...(rest.length > 0 ? [support(`${inWords(rest)}.`)] : []),
  ]
}

/** What one reading says about a group, with the numbers that it rests on. */
export function describeOneEvidence(
  answer: LocateAnswer,
  group: SuspectGroup,
  evidence: Evidence,
  book: NameBook,
): string {
  const { readOhm, expectedSoundOhm, expectedIfBadOhm, share, bits } = evidence
  const number = readingNumber(answer, evidence.entry)
  const reading = number === null ? undefined : answer.readings[number - 1]
  const name = number === null ? 'A reading' : `Reading ${number}`
  const pair = reading ? `, ${namePair(book, reading.from, reading.to)},` : ''
  const unit = sharedOhmUnit([readOhm, expectedSoundOhm, expectedIfBadOhm])
  const read = readOhm === null ? 'over range' : formatOhm(readOhm, unit)
  const sound =
    reading?.expectedOhm === expectedSoundOhm && Number.isFinite(reading.spreadOhm)
      ? `${formatOhm(expectedSoundOhm, unit)} give or take ${formatRoughOhm(reading.spreadOhm, unit)}`
      : formatOhm(expectedSoundOhm, unit)
  const which = group.jointCount === 1 ? 'this joint' : 'one of these joints'
  const state = group.openProbability >= 0.5 ? 'open' : 'raised'
  return (
    `${name}${pair} read ${read}. Sound joints would read ${sound}; with ${which} ${state}, ` +
    `${formatOhm(expectedIfBadOhm, unit)}. ${describeShare(share, bits)} ` +
    `${capital(describeBits(bits))}.`
  )
}

/** A reading past which the current flows may still bear on a joint, by what it says of the others. */
function describeShare(share: number, bits: number): string {
  const crosses = `${formatShare(Math.abs(share))} of the current crosses it`
  const isBeside = Math.abs(share) < 0.01 && Math.abs(bits) >= leastBits
  return isBeside
    ? `${crosses}; the reading bears on it by the level of joints and leads that all share.`
    : `${crosses}.`
}

export function describeBits(bits: number): string {
  if (Math.abs(bits) < leastBits) return `says next to nothing either way, ${formatBits(bits)}`
  return `speaks ${bits > 0 ? 'for' : 'against'} it, ${formatBits(bits)}`
}

/** The name of a group in the middle of a sentence: its one joint, or the first of several. */
export function nameGroup(group: SuspectGroup, book: NameBook): string {
  const name = nameJoint(book, group.joints[0].joint)
  return group.jointCount === 1 ? `the ${name}` : `the ${name}, or one that reads the same`
}
