import type { CoverageAnswer } from '../model/planning.ts'
import type { NameBook } from './places.ts'
import {
  describeCoverage,
  describeCoverageMore,
  describeCure,
  describeExample,
  describeHidden,
  describeLookAlike,
  describePlanKit,
  severityTexts,
  sightTexts,
  whyTexts,
} from './planSightText.ts'
import { item, paragraph, support, type TextLine, type TextSection } from './sections.ts'
import { formatCount, formatCounted, inWords } from './units.ts'

/** Groups of joints that look alike which a terminal lists where no number is asked for. */
export const listedAlikes = 10

/** What pairs show at each severity, as a terminal says it: mildest first. */
export function describeCoverages(answers: readonly CoverageAnswer[], book: NameBook): TextSection {
  const [{ with: kit, pairs }] = answers
  const isTaken = (pair: CoverageAnswer['pairs'][number]) =>
    pair.tooFarM === null && pair.noAccess.length === 0
  const notTaken = pairs.filter((pair) => !isTaken(pair)).length
  return {
    title: `What ${formatCounted(pairs.length, 'pair')} would show`,
    lines: [
      paragraph(describePlanKit(kit, book.drawing.facts.units)),
      ...answers.map((answer) => item(describeCoverage(answer))),
      ...(notTaken === 0
        ? []
        : [
            paragraph(
              `${formatCounted(notTaken, 'pair')} cannot be taken and show nothing: too far apart for the lead, or no clip ` +
                `reaches an end.`,
            ),
          ]),
    ],
  }
}

/** Of one severity: how well it is shown, what stays hidden, why, what would cure it, what looks alike. */
export function describeCoverageList(
  answer: CoverageAnswer,
  book: NameBook,
  most: number,
): readonly TextSection[] {
  const { said } = severityTexts[answer.severity]
  return [
    {
      title: `If one ${said}`,
      lines: describeCoverageMore(answer).map((line) => paragraph(line)),
    },
    { title: sightTexts.hidden, lines: hiddenLines(answer, book) },
    { title: sightTexts.lookAlikes, lines: alikeLines(answer, book, most) },
  ]
}

function hiddenLines({ hidden }: CoverageAnswer, book: NameBook): readonly TextLine[] {
  if (hidden.length === 0) return [paragraph(sightTexts.nothingHidden)]
  return hidden.flatMap((each) => [
    item(`${describeHidden(each, book)}. ${whyTexts[each.why]}`, [each.example]),
    support(describeExample(each, book)),
    ...(each.cures.length === 0
      ? []
      : [support(`${sightTexts.cure}: ${inWords(each.cures.map((cure) => describeCure(cure, book)))}.`)]),
  ])
}

function alikeLines(
  { lookAlikes, lookAlikeGroups }: CoverageAnswer,
  book: NameBook,
  most: number,
): readonly TextLine[] {
  if (lookAlikeGroups === 0) return [paragraph(sightTexts.noneAlike)]
  const listed = lookAlikes.slice(0, most)
  const more = lookAlikeGroups - listed.length
  return [
    paragraph(sightTexts.lookAlikesHow),
    ...listed.map((each) => item(describeLookAlike(each, book), each.joints)),
    ...(more > 0 ? [paragraph(`${formatCount(more)} more ${more === 1 ? 'group' : 'groups'}.`)] : []),
  ]
}
