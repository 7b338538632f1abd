import type { LocateAnswer, SuspectGroup } from '../model/answers.ts'
import {
  describeOneEvidence,
  isReadBetween,
  isTelling,
  mostReadRiseOhm,
  silentCount,
  strongestFirst,
} from './evidenceText.ts'
import { nameJoint, nameJointAt, nameKind } from './jointNames.ts'
import { formatRoughOhm } from './ohms.ts'
import { describePin } from './pinText.ts'
import type { NameBook } from './places.ts'
import { item, paragraph, support, type TextLine } from './sections.ts'
import { capital, formatChance, formatCount, formatCounted, inWords } from './units.ts'

const listedJoints = 10
const listedEvidence = 8

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
    ...[describeRaisedDetail(group)].flatMap((detail) => (detail === null ? [] : [item(detail)])),
    ...(group.cutsOffParts > 0 ? [item(describeCut(answer, group, book))] : []),
    ...[describePin(answer, group, book)].flatMap((pin) => (pin === null ? [] : [item(pin)])),
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

/**
 * Open or raised, and by how much: `If it is bad, it is open (87 %), or raised by about 400 mΩ …`. A joint that
 * is worse than the way round it shows no more in readings than an open one: then its own ohms are not said,
 * since they fit nothing that was read.
 */
export function describeState(group: SuspectGroup): string {
  const { openProbability, addedOhm, cutsOffParts } = group
  const open = formatChance(openProbability)
  if (addedOhm === null) return `If it is bad, it is open (${open}).`
  const isOpen = openProbability >= 0.5
  if (isBypassed(group)) {
    const round = cutsOffParts > 0 ? 'soil' : 'other metal'
    const high = `so high in ohms that the current goes by ${round} instead`
    const states = isOpen ? `open (${open}) or ${high}` : `${high}, or open (${open})`
    return `If it is bad, it is ${states}: these readings do not tell which.`
  }
  const range = `about ${formatRoughOhm(addedOhm.middle)} more than a sound one${describeRange(addedOhm)}`
  return isOpen
    ? `If it is bad, it is open (${open}), or raised by ${range}.`
    : `If it is bad, it is raised by ${range}, or open (${open}).`
}

/** How many ohms it would have where only raised: a detail where readings show no more than that it is high. */
export function describeRaisedDetail(group: SuspectGroup): string | null {
  const { addedOhm } = group
  if (addedOhm === null || !isBypassed(group)) return null
  const own = `${formatRoughOhm(addedOhm.middle)} more in the joint itself${describeRange(addedOhm)}`
  return `If only raised, about ${own}; most of that does not show, because a way round it carries the current.`
}

/** Whether the ohms of the joint itself are far above what any reading across it rose by. */
function isBypassed(group: SuspectGroup): boolean {
  const riseOhm = mostReadRiseOhm(group)
  return group.addedOhm !== null && riseOhm !== null && riseOhm > 0 && group.addedOhm.middle > 2 * riseOhm
}

function describeRange({ low, high }: NonNullable<SuspectGroup['addedOhm']>): string {
  const [least, most] = [formatRoughOhm(low), formatRoughOhm(high)]
  return least === most ? '' : ` (90 % between ${least} and ${most})`
}

/** What has no metal path to the rest once the group is open, and what a meter reads there all the same. */
export function describeCut(
  answer: LocateAnswer,
  { cutsOffParts, jointCount, evidence }: SuspectGroup,
  { words }: NameBook,
): string {
  const which = jointCount === 1 ? 'it' : 'the first of them'
  const parts = formatCounted(cutsOffParts, 'part')
  const cut = `If ${which} is open, ${parts} ${cutsOffParts === 1 ? 'has' : 'have'} no metal path to the rest`
  const across = evidence.filter(({ entry, share }) => Math.abs(share) >= 0.5 && isReadBetween(answer, entry))
  const [strongest] = across.toSorted((a, b) => b.bits - a.bits)
  if (!strongest) return `${cut}.`
  if (strongest.expectedIfBadOhm === Infinity) return `${cut}, and a meter reads over range across it.`
  return (
    `${cut}: the current then returns through ${words.earth}, by posts and rods, and that is what the meter reads. ` +
    `It is no bond.`
  )
}

function describeEvidence(answer: LocateAnswer, group: SuspectGroup, book: NameBook): TextLine[] {
  const telling = strongestFirst(group).filter(isTelling)
  const hidden = telling.length - listedEvidence
  const rest = [
    ...(hidden > 0 ? [`${formatCounted(hidden, 'reading')} more with less to say`] : []),
    ...[silentCount(group)].filter((silent) => silent !== null),
  ]
  return [
    ...telling.slice(0, listedEvidence).map((one) => support(describeOneEvidence(answer, group, one, book))),
    ...(rest.length > 0 ? [support(`${inWords(rest)}.`)] : []),
  ]
}

/** The name of a group in the middle of a sentence: its one joint, or the first of several. */
export function nameGroup(group: SuspectGroup, book: NameBook): string {
  const name = nameJoint(book, group.joints[0].joint)
  return group.jointCount === 1 ? `the ${name}` : `the ${name}, or one that reads the same`
}
