import type { BodyCurrent, PermittedVolts, PersonAnswer, PersonInput } from '../model/faultAnswers.ts'
import { bodyPathNames, zoneTexts } from './faultBodyText.ts'
import type { ToldFault } from './faultFigures.ts'
import { ruleFigure, refusalText } from './faultRuleFigures.ts'
import { describeRuleSource, nameRule } from './faultRuleText.ts'
import { faultAmpere, faultVolt } from './faultUnits.ts'
import { told, type Figure, type FigureText } from './figure.ts'
import { formatOhm } from './ohms.ts'
import { namePart } from './partNames.ts'
import { formatLength, formatSeconds } from './units.ts'

export const personTexts = {
  title: 'One who touches',
  none: 'Nobody touches. Pick a part on the map, then choose “A hand here”.',
  hand: 'Hand on',
  other: 'And',
  feet: 'the feet, on the ground in reach',
  surface: 'Ground under the feet',
  surfaceHint:
    'A layer on the soil of the site. A roof or a floor is no soil: there the feet meet the building, whose volts this model does not know, and what it says from hand to feet does not hold.',
  surfaceOhm: 'Its resistivity',
  surfaceThick: 'Its thickness',
  shoes: 'Ohms of each shoe',
  shoesHint: 'Bare feet: 0. Dry rubber soles have far more, wet ones little.',
  wet: 'Wet skin',
  wetHint: 'Sweat or rain: the skin hardly resists.',
  reach: 'Reach of the arm',
  reachHint: 'Touch voltage is meant over one metre; an enclosure within arm’s reach over 2.5.',
  leave: 'Take the person away',
  permitted: 'What rules permit for that long',
  bodies: 'What the body would carry',
  ground: 'Put the feet on the ground',
  prospective: 'Before anybody touches',
} as const

/** Layers of ground that are met: ohm metre and thickness, wet unless said (from memory, of the order only). */
export const surfaces = {
  soil: { label: 'the soil of the site', layer: null },
  rock: { label: 'crushed rock, wet', layer: { ohmM: 3000, thicknessM: 0.1 } },
  rockDry: { label: 'crushed rock, dry', layer: { ohmM: 10_000, thicknessM: 0.1 } },
  asphalt: { label: 'asphalt, wet', layer: { ohmM: 10_000, thicknessM: 0.05 } },
  concrete: { label: 'concrete, damp', layer: { ohmM: 100, thicknessM: 0.1 } },
  own: { label: 'other figures', layer: { ohmM: 1000, thicknessM: 0.1 } },
} as const

export interface ToldPerson {
  readonly fault: ToldFault
  readonly person: PersonAnswer
  readonly asked: PersonInput
}

export function describeProspective(told1: ToldPerson): readonly FigureText[] {
  const { person, fault } = told1
  const { durationS } = person
  return [
    told`${prospectiveFigure(told1)} before anybody touches, ${bodyPathNames[person.path]}, with ${seriesFigure(told1)} in series.`,
    durationS === null
      ? ['Nothing surely ends it: it is taken to last.']
      : told`A device has ended it within ${durationFigure(told1, durationS)}.`,
    told`Across a body in the middle: ${touchFigure({ ...told1, fault }, person.currents[1])}.`,
  ]
}

function placeInputs({ fault, person, asked }: ToldPerson): Figure['inputs'] {
  const { book } = fault
  const { surface } = asked
  const isFeet = asked.other === null
  return [
    { name: 'Hand on', value: namePart(book, asked.hand) },
    {
      name: 'Other place',
      value:
        asked.other === null
          ? `feet, ${formatLength(asked.armReachM, book.drawing.facts.units)} away`
          : namePart(book, asked.other),
    },
    ...(isFeet
      ? [
          { name: 'Soil', value: `${book.drawing.facts.soilOhmM} Ω·m` },
          {
            name: 'On it',
            value: surface ? `${surface.ohmM} Ω·m, ${1000 * surface.thicknessM} mm thick` : 'nothing',
          },
          { name: 'Each shoe', value: formatOhm(asked.shoeOhm) },
        ]
      : []),
    { name: 'Network between the two places', value: formatOhm(person.ohmBetween) },
  ]
}

function prospectiveFigure(toldPerson: ToldPerson): Figure {
  const { fault, person } = toldPerson
  return {
    value: faultVolt(person.prospectiveV),
    name: 'Prospective touch volts',
    how: 'Difference of volts between the two places with nobody there.',
    inputs: [...placeInputs(toldPerson), { name: 'Fault current', value: faultAmpere(fault.answer.faultA) }],
    rules: ['Kirchhoff’s laws over every joint'],
  }
}

function seriesFigure(toldPerson: ToldPerson): Figure {
  return {
    value: formatOhm(toldPerson.person.seriesOhm),
    name: 'Ohms in series with the body',
    how: 'Network between the two places, and to the feet half of one shoe and one foot: ρ/(4 · 0.08 m) with the surface layer’s factor.',
    inputs: placeInputs(toldPerson),
    rules: [describeRuleSource('feetOnSurface')],
  }
}

function durationFigure({ fault, person }: ToldPerson, durationS: number): Figure {
  const { devices } = fault.answer
  return {
    value: formatSeconds(durationS),
    name: 'Time in the circuit',
    how: 'Until the first device has surely acted.',
    inputs: devices.map(({ device, mostS }) => ({
      name: fault.book.drawing.devices.find(({ id }) => id === device)?.name ?? device,
      value: mostS === null ? 'does not end it' : `at most ${formatSeconds(mostS)}`,
    })),
    rules: devices
      .filter(({ mostS }) => mostS === person.durationS)
      .map(({ rule }) => describeRuleSource(rule)),
  }
}

const bodies: Readonly<Record<BodyCurrent['percentile'], string>> = {
  5: 'A body with few ohms (1 of 20 has fewer)',
  50: 'A body in the middle',
  95: 'A body with many ohms (1 of 20 has more)',
}

export interface ToldBody {
  readonly percentile: BodyCurrent['percentile']
  readonly line: FigureText
  readonly zone: string
  readonly says: string
  readonly isGrave: boolean
}

export function describeBodies(toldPerson: ToldPerson): readonly ToldBody[] {
  return toldPerson.person.currents.map((current) => {
    const { zone, percentile } = current
    return {
      percentile,
      line: told`${bodies[percentile]}: ${currentFigure(toldPerson, current)} at ${touchFigure(toldPerson, current)}.`,
      zone: zoneTexts[zone].word,
      says: zoneTexts[zone].says,
      isGrave: zone === 'heart' || zone === 'heartLikely',
    }
  })
}

function bodyInputs(toldPerson: ToldPerson, { bodyOhm, percentile }: BodyCurrent): Figure['inputs'] {
  const { person, asked } = toldPerson
  return [
    { name: 'Prospective volts', value: faultVolt(person.prospectiveV) },
    { name: `Body, percentile ${percentile}`, value: formatOhm(bodyOhm) },
    { name: 'Path', value: bodyPathNames[person.path] },
    { name: 'Skin', value: asked.isWet ? 'wet' : 'dry' },
    { name: 'In series', value: formatOhm(person.seriesOhm) },
    {
      name: 'For',
      value: person.durationS === null ? 'as long as it lasts' : formatSeconds(person.durationS),
    },
  ]
}

function currentFigure(toldPerson: ToldPerson, current: BodyCurrent): Figure {
  const { bodyRule } = toldPerson.person
  const zones = bodyRule === 'bodyDirect' ? 'zonesDirect' : 'zonesAlternating'
  return {
    value: faultAmpere(current.currentA),
    name: 'Current through the body',
    how: 'Prospective volts divided by the ohms of the body, which fall with the volts across it, and what is in series.',
    inputs: bodyInputs(toldPerson, current),
    rules: [bodyRule, zones, 'heartFactor'].map((rule) => describeRuleSource(rule as typeof bodyRule)),
  }
}

function touchFigure(toldPerson: ToldPerson, current: BodyCurrent): Figure {
  return {
    value: faultVolt(current.touchV),
    name: 'Volts across the body',
    how: 'Current through the body times its ohms: less than the prospective volts where feet and shoes take their share.',
    inputs: bodyInputs(toldPerson, current),
    rules: [describeRuleSource(toldPerson.person.bodyRule)],
  }
}

/** A rule's volts beside those of this touch; of volts across the body the greatest of the three bodies. */
export function describePermit(
  toldPerson: ToldPerson,
  { rule, volt, of, refusal }: PermittedVolts,
): FigureText {
  const { person, fault } = toldPerson
  const { units } = fault.book.drawing.facts
  const name = `${describeRuleSource(rule)}, ${nameRule(rule, units)}`
  if (volt === null)
    return told`${name}: no answer. ${refusal === null ? '' : refusalText(refusal, rule, units)}`
  const worst = person.currents.reduce((most, one) => (one.touchV > most.touchV ? one : most))
  const isProspective = of === 'prospective'
  const here = isProspective ? person.prospectiveV : worst.touchV
  const figure = isProspective ? prospectiveFigure(toldPerson) : touchFigure(toldPerson, worst)
  const permitted = ruleFigure(
    rule,
    faultVolt(volt),
    `Volts that the rule permits for ${person.durationS === null ? 'a fault that lasts' : formatSeconds(person.durationS)}.`,
    units,
  )
  const which = isProspective ? 'before anybody touches' : 'across the body'
  return told`${name}: ${permitted} ${which}. Here ${figure}, ${here > volt ? 'MORE than that' : 'no more than that'}.`
}
