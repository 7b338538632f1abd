import type { BodyCurrent, BodyPath, PermittedVolts, PersonAnswer, ShockZone } from '../model/faultAnswers.ts'
import type { FaultRule } from '../model/faultRules.ts'
import { formatAmpere } from './criteriaText.ts'
import { describeRefusal, describeRuleSource, nameRule } from './faultRuleText.ts'
import { formatOhm, formatVolt } from './ohms.ts'
import { item, paragraph, support, type TextLine } from './sections.ts'
import { formatSeconds, type Units } from './units.ts'

/** Effects of a current through a body: a word for a badge, a sentence, and the standard's own name of the zone. */
export const zoneTexts: Readonly<
  Record<ShockZone, { readonly word: string; readonly says: string; readonly zone: string }>
> = {
  notFelt: { word: 'not felt', says: 'Usually not felt.', zone: '1' },
  felt: {
    word: 'felt',
    says: 'Felt; muscles may jerk, and who stands on a ladder may fall. Usually no harm from the current itself.',
    zone: '2',
  },
  muscles: {
    word: 'muscles cramp',
    says: 'Muscles no longer obey: one may be unable to let go, and breathe with difficulty. Usually no lasting harm to organs.',
    zone: '3',
  },
  heart: {
    word: 'heart may stop',
    says: 'The heart may fibrillate, in up to about one of twenty people; burns and arrest of breath as well.',
    zone: '4, up to about 5 %',
  },
  heartLikely: {
    word: 'deadly',
    says: 'The heart fibrillates in more than about one of twenty people, the likelier the more current: this kills.',
    zone: '4, above about 5 %',
  },
}

export const bodyPathNames: Readonly<Record<BodyPath, string>> = {
  handToHand: 'from hand to hand',
  handToFeet: 'from the left hand to both feet',
  bothHandsToFeet: 'from both hands to both feet',
}

const bodies: Readonly<Record<BodyCurrent['percentile'], string>> = {
  5: 'A body with few ohms (1 of 20 has fewer)',
  50: 'A body in the middle',
  95: 'A body with many ohms (1 of 20 has more)',
}

/** All that is said of one who touches. */
export function describeTouch(person: PersonAnswer, units: Units): readonly TextLine[] {
  const { prospectiveV, seriesOhm, path, durationS, currents, permitted, bodyRule } = person
  const howLong =
    durationS === null
      ? 'Nothing surely ends it: it is taken to last.'
      : `A device has ended it within ${formatSeconds(durationS)}.`
  return [
    paragraph(
      `${formatVolt(prospectiveV)} before anybody touches, ${bodyPathNames[path]}, with ${formatOhm(seriesOhm)} in series. ${howLong}`,
    ),
    ...currents.flatMap((current) => [item(describeBody(current)), support(zoneTexts[current.zone].says)]),
    item(`By: ${nameRule(bodyRule, units)}; ${describeRuleSource(bodyRule)}.`),
    item(
      `Zones by: ${zoneRules(bodyRule)
        .map((rule) => `${nameRule(rule, units)}; ${describeRuleSource(rule)}`)
        .join('. ')}.`,
    ),
    ...permitted.map((row) => item(describePermitted(row, person, units))),
  ]
}

function zoneRules(bodyRule: FaultRule): readonly FaultRule[] {
  return [bodyRule === 'bodyDirect' ? 'zonesDirect' : 'zonesAlternating', 'heartFactor']
}

function describeBody({ percentile, touchV, bodyOhm, currentA, zone }: BodyCurrent): string {
  return (
    `${bodies[percentile]}: ${formatOhm(bodyOhm)}, ${formatVolt(touchV)} across it, ${formatAmpere(currentA)}: ` +
    `${zoneTexts[zone].word}.`
  )
}

/** A rule's volts beside those of this touch; of volts across the body the greatest of the three bodies. */
export function describePermitted(
  { rule, volt, of, refusal }: PermittedVolts,
  { prospectiveV, currents }: Pick<PersonAnswer, 'prospectiveV' | 'currents'>,
  units: Units,
): string {
  const name = `${describeRuleSource(rule)}, ${nameRule(rule, units)}`
  if (volt === null) return `${name}: no answer. ${refusal === null ? '' : describeRefusal(refusal)}`.trim()
  const here = of === 'prospective' ? prospectiveV : Math.max(...currents.map(({ touchV }) => touchV))
  const which = of === 'prospective' ? 'before anybody touches' : 'across the body'
  const beside = here > volt ? 'MORE than that' : 'no more than that'
  return `${name}: ${formatVolt(volt)} ${which}. Here ${formatVolt(here)}, ${beside}.`
}
