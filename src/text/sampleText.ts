import type { SampleAnswer, SampledPair } from '../model/planning.ts'
import { byId } from '../model/queries/byId.ts'
import { nameJoint, nameKind } from './jointNames.ts'
import type { NameBook } from './places.ts'
import { item, paragraph, type TextLine, type TextSection } from './sections.ts'
import { formatChance, formatCount, formatCounted, formatRate, formatShare } from './units.ts'
import { quoted } from './where.ts'

/** What a sample is drawn from, in words: `336 pairs of plan “First test”`. */
export function describeLot({ lot: { of, items } }: SampleAnswer, book: NameBook): string {
  if (of.of === 'plan') {
    const name = byId(book.drawing.plans).get(of.plan)?.name ?? of.plan
    return `${formatCounted(items, 'pair')} of the plan ${quoted(name)}`
  }
  return `${formatCounted(items, 'joint')} of the kind ${quoted(nameKind(book, of.kind))}`
}

/**
 * The sentence that is kept with the plan: with the drawing as it is now it says all that is needed to draw the same
 * sample again, and what was agreed to follow a failure.
 */
export function sampleNote(answer: SampleAnswer, book: NameBook): string {
  const { asked, drawn, tables, isWhole } = answer
  const { perTable, correlation, seed, failuresAllowed, mostBadShare } = asked
  const drawnHow =
    perTable === null
      ? `one by one`
      : `by the table, ${formatCount(perTable)} on each of ${formatCounted(tables, 'table')}, correlation ${correlation}`
  const what = isWhole
    ? `All of ${describeLot(answer, book)}`
    : `Sample of ${formatCount(drawn.length)} of ${describeLot(answer, book)}, drawn ${drawnHow}, by lot with seed ${seed}`
  return (
    `${what}, drawing ${book.drawing.revision.slice(0, 8)}: with ${atMostFailures(failuresAllowed)} one is ` +
    `${formatConfidence(asked.confidence)} sure that less than ${formatRate(mostBadShare)} is bad.` +
    (isWhole ? '' : ` ${whatFollows(failuresAllowed)}`)
  )
}

function atMostFailures(allowed: number): string {
  return allowed === 0 ? 'no failure' : `at most ${formatCounted(allowed, 'failure')}`
}

function fewerThan(bad: number, items: number): string {
  return bad === 1
    ? `none of the ${formatCount(items)} is bad`
    : `fewer than ${formatCount(bad)} of ${formatCount(items)} are bad`
}

function whatFollows(failuresAllowed: number): string {
  const beyond =
    failuresAllowed === 0 ? 'with any failure' : `with more than ${failuresAllowed} in the sample`
  return (
    `After a failure the whole table is tested, after a second one on a table its row; ` +
    `${beyond} the lot is not accepted and all of it is tested.`
  )
}

/** A confidence as it was asked for: `95 %`, `99.9 %`. */
export function formatConfidence(confidence: number): string {
  return `${Number((confidence * 100).toPrecision(6))} %`
}

/** What a sample is worth, what came of it, what to test. */
export function describeSample(answer: SampleAnswer, book: NameBook): TextSection[] {
  return [
    { title: 'Sample', lines: worth(answer, book) },
    { title: 'Result', lines: outcome(answer) },
    {
      title: 'To be tested',
      lines: answer.drawn.map((pair) => item(describePair(pair, book), aboutPair(pair))),
    },
    ...due('All of the tables with a failure', answer.result.tables, book),
    ...due('All of the rows with a second failure on a table', answer.result.rows, book),
    ...due('The rest of the lot', answer.result.rest, book),
    { title: 'To keep with the plan', lines: [paragraph(sampleNote(answer, book))] },
  ]
}

function worth(answer: SampleAnswer, book: NameBook): TextLine[] {
  const { asked, drawn, lot, isWhole, confidence, confidenceByTable, tables } = answer
  const lines = [
    paragraph(
      `${formatCount(drawn.length)} of ${describeLot(answer, book)}, on ${formatCounted(tables, 'table')} of ` +
        `${formatCount(lot.tables)}.`,
    ),
    item(
      isWhole
        ? 'That is all of it: no smaller sample gives what is asked.'
        : `With ${atMostFailures(asked.failuresAllowed)} in it one is ${shownConfidence(confidence)} sure that ` +
            `${fewerThan(lot.bad, lot.items)}, less than ${formatRate(asked.mostBadShare)} of the lot.`,
    ),
  ]
  if (confidenceByTable !== null && confidenceByTable < confidence) {
    lines.push(
      item(
        `That counts on a correlation of ${asked.correlation} between two of one table, a design effect of ` +
          `${answer.designEffect.toFixed(2)}. If bad ones fill whole tables one is only ` +
          `${shownConfidence(confidenceByTable)} sure.`,
      ),
    )
  }
  lines.push(item(curveLine(answer)))
  if (lot.noAccess > 0) {
    lines.push(item(`${formatCounted(lot.noAccess, 'joint')} more cannot be drawn: no clip reaches an end.`))
  }
  if (lot.of.of === 'kind') lines.push(item(besideLine))
  return lines
}

/** A reading across a joint reads all paths beside it, too: a failure rate of readings is not one of joints. */
const besideLine =
  'A reading across a joint reads the paths beside it, too: where there are such paths a bad joint may pass.'

function curveLine({ acceptedShare, refusedShare, curve }: SampleAnswer): string {
  const first = curve[1]
  const accepted =
    acceptedShare > 0
      ? `Such a lot is accepted in 95 % of cases as long as no more than ${formatRate(acceptedShare)} of it is bad`
      : `Such a lot is accepted in ${formatShare(first?.accepted ?? 0)} of cases with ${formatRate(first?.share ?? 0)} of it bad`
  const refused =
    refusedShare === null ? '' : `, with ${formatRate(refusedShare)} bad in 10 % of cases at most`
  return `${accepted}${refused}.`
}

function shownConfidence(confidence: number): string {
  return confidence > 0.99 ? `${Math.floor(confidence * 10000) / 100} %` : formatChance(confidence)
}

function outcome({ result, asked, drawn }: SampleAnswer): TextLine[] {
  const { failed, isAccepted, lessThanShare, estimate } = result
  const lines = [
    paragraph(
      isAccepted
        ? `If ${failed === 0 ? 'none' : formatCount(failed)} of the ${formatCount(drawn.length)} fails: accepted. ` +
            `Less than ${formatRate(lessThanShare)} of the lot is bad, with ${formatConfidence(asked.confidence)} confidence.`
        : `${formatCounted(failed, 'failure')} in ${formatCount(drawn.length)}: not accepted. All of the lot is to be tested.`,
    ),
  ]
  if (estimate && failed > 0) {
    lines.push(
      item(
        `In work of this sort ${formatRate(estimate.least)} to ${formatRate(estimate.most)} goes bad ` +
          `(${formatConfidence(asked.confidence)} interval of Clopper and Pearson).`,
      ),
    )
  }
  return lines
}

function due(title: string, pairs: readonly SampledPair[], book: NameBook): TextSection[] {
  return pairs.length === 0
    ? []
    : [{ title, lines: pairs.map((pair) => item(describePair(pair, book), aboutPair(pair))) }]
}

function describePair({ from, to, joint }: SampledPair, book: NameBook): string {
  return joint === null ? `${from} to ${to}` : `${from} to ${to}: ${nameJoint(book, joint)}`
}

function aboutPair({ from, to }: SampledPair): readonly string[] {
  return [from, to]
}
