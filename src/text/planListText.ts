import type { PairBound, PlanAnswer } from '../model/planning.ts'
import { namePart } from './partNames.ts'
import type { NameBook } from './places.ts'
import { item, paragraph, type TextSection } from './sections.ts'
import { formatCount, formatCounted, formatExpected, formatLength } from './units.ts'

const provedBy: Readonly<Record<PairBound['by'], string>> = {
  ends: 'each pair has two ends, and so many parts must be one',
  linearProgramme: 'linear programme, and what prices of joints prove',
  search: 'linear programme, and every choice weighed in some pieces',
  path: 'to tell joints apart so many parts must be an end, and each pair has two',
}

/** A plan as a terminal shows it: what it comes to, what it shows, and the pairs in the order of the walk. */
export function describePlanList(answer: PlanAnswer, book: NameBook): readonly TextSection[] {
  return [
    {
      title: 'Plan',
      lines: [...whatItIs(answer, book), ...whatItShows(answer)].map((line) => paragraph(line)),
    },
    { title: 'Pairs, in the order of the walk', lines: pairLines(answer, book) },
  ]
}

function whatItIs(answer: PlanAnswer, { drawing }: NameBook): string[] {
  const { pairs, setUps, wayM, minutes, wayBoundM, bound, outOfReach, candidates } = answer
  const { units } = drawing.facts
  if (pairs.length === 0) return ['No pair within reach shows anything.']
  const walk =
    `${formatCounted(pairs.length, 'pair')} from ${formatCounted(setUps.length, 'set-up')}: about ` +
    `${formatCounted(Math.round(minutes), 'minute')}, ${formatLength(wayM, units)} on foot ` +
    `(no walk through these set-ups is shorter than ${formatLength(wayBoundM, units)}).`
  const least = bound && describeBound(bound, candidates)
  const missed =
    outOfReach.length > 0 &&
    `${formatCounted(outOfReach.length, 'required pair')} cannot be taken with this kit: too far apart for the lead, or no clip reaches an end.`
  return [walk, least, missed].filter((line) => typeof line === 'string')
}

function describeBound({ pairs, by }: PairBound, candidates: number): string {
  return (
    `No plan from these ${formatCounted(candidates, 'candidate pair')} that shows as much can do with fewer than ` +
    `${formatCount(pairs)} (${provedBy[by]}).`
  )
}

function whatItShows({ coverage }: PlanAnswer): string[] {
  const { joints, counts, toldApart, twice, expectedBadUnseen } = coverage
  const shown = counts.criterion + counts.comparison
  return [
    `${formatCount(shown)} of ${formatCounted(joints, 'joint')} that can go bad would show: ` +
      `${formatCount(counts.criterion)} above a criterion, ${formatCount(counts.comparison)} only by comparison. ` +
      `${formatCount(twice)} would show in two pairs or more, ${formatCount(toldApart)} are told apart from every other.`,
    `Not shown: ${formatCount(counts.addPair)} that another pair would show, ${formatCount(counts.noAccess)} out of ` +
      `reach, ${formatCount(counts.finerKit)} that a four-wire tester would show, ${formatCount(counts.parallelPaths)} ` +
      `beside paths that carry their current. By the catalogue ${formatExpected(expectedBadUnseen)} of them are bad.`,
  ]
}

function pairLines({ pairs, setUps }: PlanAnswer, book: NameBook) {
  const name = (address: string) => `${namePart(book, address)} (${address})`
  return setUps.flatMap(({ at }, s) => [
    paragraph(`${formatCount(s + 1)}. First clip on ${name(at)}`, [at]),
    ...pairs
      .filter(({ setUp }) => setUp === s)
      .map(({ to, required }) => item(`to ${name(to)}${required ? ', required' : ''}`, [to])),
  ])
}
