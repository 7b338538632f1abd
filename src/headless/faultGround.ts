import type { SiteCache } from '../engine/siteCache.ts'
import { ok, type Result } from '../base/result.ts'
import { partIndexOf } from '../layout/partIndex.ts'
import type { SiteIndex } from '../layout/siteIndex.ts'
import { writePartAddress } from '../model/address.ts'
import type {
  FaultAnswer,
  FaultInput,
  GroundPlace,
  GroundStandAnswer,
  GroundStandInput,
} from '../model/faultAnswers.ts'
import type { Problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import { partVoltsFigure } from '../text/faultFigures.ts'
import {
  describeGround,
  describeGroundTouch,
  describeLasting,
  describeStand,
  describeStepRules,
  describeTouchRules,
  groundTexts,
  isTold,
  whyNoVolts,
  type PermitLines,
  type ToldGround,
} from '../text/faultGroundText.ts'
import { item, paragraph } from '../text/sections.ts'
import { plainText, type FigureText } from '../text/figure.ts'
import { namePart } from '../text/partNames.ts'
import type { NameBook } from '../text/places.ts'
import { capital } from '../text/units.ts'
import { ask } from './ask.ts'
import type { Page } from './page.ts'

interface Asked {
  readonly input: GroundStandInput
  readonly answer: GroundStandAnswer
}

/** `12.5,-3` is a place in metres of the plan; everything else an address, whose problem the engine tells. */
export function readPlace(text: string | true | undefined): GroundPlace | null {
  if (typeof text !== 'string') return null
  const [, x, y] = /^\s*(-?[\d.]+)\s*,\s*(-?[\d.]+)\s*$/.exec(text) ?? []
  return x === undefined ? { besidePart: text } : { atM: { x: Number(x), y: Number(y) } }
}

/** The ground under bare feet on the soil of the site, with a reach of a metre, or as the one who touches has them. */
export function askGround(
  { person, ...input }: FaultInput,
  place: GroundPlace | null,
  site: Site,
  file: string,
  cache: SiteCache,
): Result<Asked, readonly Problem[]> {
  const { surface = null, shoeOhm = 0, isWet = false, armReachM = 1 } = person ?? {}
  const asked = { ...input, surface, shoeOhm, isWet, armReachM, place }
  const answer = ask('groundStand', asked, site, file, cache)
  return answer.ok ? ok({ input: asked, answer: answer.value }) : answer
}

interface View {
  readonly page: Page
  readonly book: NameBook
  readonly index: SiteIndex
  readonly most: number
}

/** Electrodes, the largest step, and the place that was asked about; why there are no volts where there are none. */
export function writeGround(
  { page, book, index, most }: View,
  input: FaultInput,
  answer: FaultAnswer,
  asked: Asked | null,
): void {
  page.title('Ground')
  if (asked === null) return page.text(whyNoVolts(answer))
  const fault = { answer, input, book }
  const ground: ToldGround = { fault, answer: asked.answer, input: asked.input }
  const say = (text: FigureText) => page.line(paragraph(plainText(text)))
  const list = ({ saying, silent }: PermitLines) => {
    if (saying.length === 0) say([groundTexts.noRule])
    for (const text of [...saying, ...silent]) page.line(item(plainText(text)))
  }
  describeGround(ground).forEach(say)
  const rises = book.drawing.electrodes
    .map(({ id }) => ({ at: 'electrode' as const, id }))
    .map((address) => ({ part: writePartAddress(address), volt: answer.partV[partIndexOf(index, address)] }))
    .sort((a, b) => Math.abs(b.volt) - Math.abs(a.volt))
  for (const { part, volt } of rises.slice(0, most)) {
    const figure = partVoltsFigure(fault, part, volt)
    page.line(
      item(`${capital(namePart(book, part))} (${part}): ${figure.value} to ${book.words.remoteEarth}.`),
    )
  }
  const { mostStep, stand } = asked.answer
  if (mostStep) {
    say(describeLasting(ground))
    list(describeStepRules(ground, mostStep))
  }
  if (stand) {
    page.title('Where one stands')
    describeStand(ground, stand).forEach(say)
    list(describeStepRules(ground, stand.step))
    if (stand.touch.length === 0) say([groundTexts.noMetal])
    for (const touch of stand.touch) {
      say(describeGroundTouch(ground, stand, touch))
      if (isTold(touch)) list(describeTouchRules(ground, touch))
    }
  }
  page.text(groundTexts.limits)
}
