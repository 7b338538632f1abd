import type { Figure, FigureText } from './figure.ts'
import { told } from './figure.ts'
import { portPlace, type ToldFault } from './faultFigures.ts'
import { describeRuleSource } from './faultRuleText.ts'
import { faultAmpere, faultVolt } from './faultUnits.ts'
import type { LegendName } from './legendText.ts'
import { formatShare } from './units.ts'

/** What the map shows of a fault by degrees; each of its samples is a figure. */
export type FaultScaleName = 'faultCurrent' | 'faultVolts' | 'lostVolts' | 'groundVolts'

const scales: readonly LegendName[] = ['faultCurrent', 'faultVolts', 'lostVolts', 'groundVolts']

export function isFaultScale(name: LegendName): name is FaultScaleName {
  return scales.includes(name)
}

/** What a scale of the legend was made from. */
export interface FaultScale {
  readonly name: FaultScaleName
  /** Amperes of each line, with its width in CSS pixels; volts of each step. */
  readonly steps: readonly { readonly value: number; readonly widthPx?: number }[]
  /** Less is not drawn. */
  readonly leastShown: number
  /** Most volts of any part, of the ground or, where losses are shown, across any lost joint; null while nothing is known. */
  readonly mostV: number | null
}

const chosen = 'A choice of this program, of no standard'
const same = 'the same for every fault, so that two can be compared'

/** Why the map changes colour at these volts; null for volts that are no step. */
export function reasonOfStep(
  volt: number,
): { readonly how: string; readonly rules: readonly string[] } | null {
  const limit = describeRuleSource('permittedConventional')
  switch (volt) {
    case 1:
      return {
        how: 'From here on there is a colour: less is lost beside all else.',
        rules: [`${chosen}; ${same}`],
      }
    case 10:
      return { how: 'Ten times the first step.', rules: [`${chosen}; ${same}`] }
    case 50:
      return {
        how: 'The conventional limit of touch for alternating current, dry, adults, for any length of time.',
        rules: [limit, `${chosen} that it is a step of the map; ${same}`],
      }
    case 120:
      return {
        how: 'The conventional limit of touch for smooth direct current, dry, adults, for any length of time.',
        rules: [limit, `${chosen} that it is a step of the map; ${same}`],
      }
    case 500:
      return { how: 'Ten times the limit for alternating current.', rules: [`${chosen}; ${same}`] }
    default:
      return null
  }
}

const permitsNothing =
  'A colour permits nothing: what rules permit hangs on how long a fault lasts, and stands where one touches.'

const voltNames = {
  faultVolts: { step: 'Volts of a part, step of the map', most: 'Most of any part now' },
  lostVolts: { step: 'Volts across a lost joint, step of the map', most: 'Most across any joint, once lost' },
  groundVolts: { step: 'Volts of the ground, step of the map', most: 'Most of the picture on the map' },
} as const

function voltFigure(name: keyof typeof voltNames, { steps, mostV }: FaultScale, volt: number): Figure {
  const reason = reasonOfStep(volt)
  const of = voltNames[name]
  return {
    value: faultVolt(volt),
    name: of.step,
    how: [reason?.how, permitsNothing].filter(Boolean).join(' '),
    inputs: [
      { name: 'All steps', value: steps.map(({ value }) => faultVolt(value)).join(', ') },
      ...(mostV === null
        ? []
        : [
            {
              name: of.most,
              value: faultVolt(mostV),
            },
          ]),
    ],
    rules: reason?.rules ?? [`${chosen}; ${same}`],
  }
}

function lineFigure({ steps }: FaultScale, ampere: number, fault: ToldFault | null): Figure {
  const most = steps[steps.length - 1]
  const widthPx = steps.find(({ value }) => value === ampere)?.widthPx
  const leading = fault?.answer.ports.toSorted((a, b) => Math.abs(b.currentA) - Math.abs(a.currentA)).at(0)
  return {
    value: faultAmpere(ampere),
    name: 'Amperes of a line of this width',
    how: 'One pixel, and more by the square root of the share of the largest current; the largest is as wide as the narrowest table leaves room for at this zoom.',
    inputs: [
      { name: 'Largest current, as drawn or with the change', value: faultAmpere(most.value) },
      ...(fault && leading
        ? [
            {
              name: `Largest of the answer shown, at ${portPlace(leading.part, fault.book)}`,
              value: faultAmpere(leading.currentA),
            },
          ]
        : []),
      { name: 'Share of the largest', value: formatShare(ampere / most.value) },
      ...(widthPx === undefined
        ? []
        : [{ name: 'Width of its line', value: `${Number(widthPx.toFixed(1))} px` }]),
      ...(most.widthPx === undefined
        ? []
        : [{ name: 'Width of the largest, at this zoom', value: `${most.widthPx} px` }]),
    ],
    rules: [`${chosen}; one scale for the array as drawn and with a change, so that they can be compared`],
  }
}

/** A sample of a scale as a figure that opens what the scale was made from. */
export function scaleFigure(scale: FaultScale, value: number, fault: ToldFault | null): Figure {
  return scale.name === 'faultCurrent'
    ? lineFigure(scale, value, fault)
    : voltFigure(scale.name, scale, value)
}

/** How a scale grows, and from which value on anything is drawn; that value is a figure too. */
export function describeFaultScale(scale: FaultScale, fault: ToldFault | null): FigureText {
  const least = scaleFigure(scale, scale.leastShown, fault)
  switch (scale.name) {
    case 'faultCurrent':
      return told`The width grows with the root of the amperes. Below ${least} nothing is drawn.`
    case 'groundVolts':
      return told`Below ${least} nothing is tinted; a line begins each step. Beside posts and electrodes there is more.`
    default:
      return told`Below ${least} nothing is tinted. The same steps for every fault.`
  }
}
