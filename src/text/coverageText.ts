import type { LocateAnswer } from '../model/answers.ts'
import { nameJointAt, nameKind } from './jointNames.ts'
import { formatRoughOhm } from './ohms.ts'
import type { NameBook } from './places.ts'
import { item, paragraph, type TextLine } from './sections.ts'
import { formatCount, formatCounted, formatExpected } from './units.ts'

/** How far an answer reaches, in one line to stand beside it; null where there is nothing beyond its reach. */
export function describeReach({ coverage }: LocateAnswer): string | null {
  const { joints, seen, expectedBadUnseen } = coverage
  if (seen >= joints) return null
  const bad = formatExpected(expectedBadUnseen >= 1 ? Math.round(expectedBadUnseen) : expectedBadUnseen)
  return (
    `These readings can show ${formatCount(seen)} of ${formatCounted(joints, 'joint')}; about ${bad} bad ` +
    `${bad === '1' ? 'one is' : 'ones are'} to be expected among the rest.`
  )
}

/** What the readings could not see, with examples, and what could. */
export function describeCoverage({ coverage }: LocateAnswer, book: NameBook): TextLine[] {
  const { joints, seen, notReached, cannotBeSeen, expectedBadUnseen } = coverage
  const lines = [
    paragraph(
      `Of ${formatCounted(joints, 'joint')} that can go bad, ${formatCount(seen)} would show in the readings taken ` +
        `if they opened.`,
    ),
  ]
  if (notReached > 0)
    lines.push(
      paragraph(
        `${formatCount(notReached)} more could be seen with this kit, but no reading taken shows them: measure ` +
          `across or close to them.`,
      ),
    )
  if (cannotBeSeen > 0)
    lines.push(
      paragraph(
        `${formatCount(cannotBeSeen)} can never be shown by readings between two points with this kit: so much metal ` +
          `lies beside ${cannotBeSeen === 1 ? 'it' : 'each of them'} that a reading hardly changes when it opens. For ` +
          `example:`,
      ),
      ...coverage.examples.map((example) => item(describeExample(example, book), [example.joint])),
      paragraph('What could show such a joint:'),
      ...whatCouldShowIt.map((way) => item(way)),
    )
  if (notReached + cannotBeSeen > 0)
    lines.push(
      paragraph(
        `By their defect rates alone, ${formatExpected(expectedBadUnseen)} bad joints are to be expected among ` +
          `those not seen.`,
      ),
    )
  return lines
}

const whatCouldShowIt = [
  'A look and a torque check.',
  'A loop clamp closed round its conductor.',
  'One end lifted under a temporary bond, and a reading across it.',
  'A current driven across it, and a clip-on ammeter round each path.',
] as const

type Example = LocateAnswer['coverage']['examples'][number]

function describeExample({ joint, kind, soundOhm, openOhm, joints }: Example, book: NameBook): string {
  const others =
    joints > 1 ? ` ${formatCounted(joints - 1, 'other')} ${joints === 2 ? 'is' : 'are'} like it.` : ''
  return (
    `${nameKind(book, kind)}: ${nameJointAt(book, joint)} reads ${formatRoughOhm(soundOhm)} across its own ` +
    `ends when sound and ${formatRoughOhm(openOhm)} when open.${others}`
  )
}
