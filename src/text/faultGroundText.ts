import type {
  FaultAnswer,
  GroundStand,
  GroundStandAnswer,
  GroundStandInput,
  GroundStep,
  GroundTouch,
  PermittedVolts,
} from '../model/faultAnswers.ts'
import { throughEarthFigure, type ToldFault } from './faultFigures.ts'
import { describePermit, type ToldPerson } from './faultPersonFigures.ts'
import { refusalText, ruleFigure } from './faultRuleFigures.ts'
import { describeRuleSource, nameRule } from './faultRuleText.ts'
import { faultAmpere, faultVolt } from './faultUnits.ts'
import { told, type Figure, type FigureText } from './figure.ts'
import { namePart } from './partNames.ts'
import type { NameBook } from './places.ts'
import { capital, formatLength, formatSeconds } from './units.ts'

export const groundTexts = {
  title: 'Ground, step and touch',
  here: 'The ground here',
  show: 'Volts of the ground',
  showHint: 'On the map as steps of grey with a line where each begins: the same steps as for the parts.',
  progress: 'Volts of the ground',
  noSoil: 'No post and no electrode joins the array to the soil, so the ground has no volts.',
  metalOnly:
    'All the current returns through metal. None passes through the soil, so the ground has no volts.',
  nothing: 'Nothing flows, so the ground has no volts.',
  tap: 'Tap bare ground on the map, or choose a place:',
  place: 'Place on the ground',
  nowhere: 'no place chosen',
  ownPlace: 'where the map was tapped',
  atMost: 'at the largest step',
  showStep: 'Show the largest step on the map',
  showHere: 'Show on map',
  close: 'Let the place go',
  rises: 'Electrodes',
  moreRises: 'Show more electrodes',
  noElectrodes: 'No electrode is drawn: posts alone stand in the soil.',
  stepRules: 'What rules permit between the feet for that long',
  touchRules: 'What rules permit from hand to feet for that long',
  silent: 'Rules that say nothing of it',
  noRule: 'No rule known here has a number for this. That permits nothing.',
  noMetal: 'No metal above ground is within reach here.',
  noWay: 'The fault’s circuit does not reach it: its volts cannot be told.',
  faint: 'Nowhere in view has the ground as many volts as the first step: nothing is tinted.',
  stale: 'Being updated: this is from before the last change.',
  limits:
    'Uniform soil, and other metal in the soil does not change the volts in this model: layers, frost, wet spots, fences and pipes do. Distances are in plan: how high a part is does not count.',
  feet: 'Ground under the feet, shoes, skin and reach are those of “One who touches”; where nobody touches, bare feet on the soil of the site and a reach of one metre.',
} as const

/** Why the ground has no volts in this fault. */
export function whyNoVolts({ voltsTo, faultA }: FaultAnswer): string {
  if (voltsTo !== 'remoteEarth') return groundTexts.noSoil
  return faultA === 0 ? groundTexts.nothing : groundTexts.metalOnly
}

/** An answer about the ground with the fault that it belongs to. */
export interface ToldGround {
  readonly fault: ToldFault
  readonly answer: GroundStandAnswer
  readonly input: GroundStandInput
}

const superposition =
  'Superposition of posts and electrodes, each an upright rod that gives off its current evenly into uniform soil: ρI/(2πL) · asinh(L/r); far away ρI/(2πr). From memory of the textbook form (Sunde 1949)'
const search = 'A search beside the posts and electrodes that give off most, not a bound'

function soilInputs({ fault }: ToldGround): Figure['inputs'] {
  const { answer, book } = fault
  return [
    { name: `Current that passes through ${book.words.earth}`, value: faultAmpere(answer.throughEarthA) },
    { name: 'Resistivity of the soil', value: `${book.drawing.facts.soilOhmM} Ω·m` },
  ]
}

const limit = 'Layers of soil and metal that is not drawn are not counted'

function largestFigure(ground: ToldGround, { volt }: GroundStep): Figure {
  return {
    value: faultVolt(volt),
    name: 'Largest step of one metre',
    how: 'Difference of the ground’s volts between two points one metre apart.',
    inputs: soilInputs(ground),
    rules: [superposition, search, limit],
  }
}

function stepFigure(ground: ToldGround, { volt }: GroundStep): Figure {
  return {
    value: faultVolt(volt),
    name: 'Step volts',
    how: 'Difference of the ground’s volts between this place and a point one metre off, in the direction in which that is most.',
    inputs: soilInputs(ground),
    rules: [superposition, limit],
  }
}

function groundFigure(ground: ToldGround, { volt }: GroundStand): Figure {
  return {
    value: faultVolt(volt),
    name: `Volts of the ground to ${ground.fault.book.words.remoteEarth}`,
    how: 'What every post and electrode adds here by the current that it gives off; what takes current is counted off.',
    inputs: soilInputs(ground),
    rules: [superposition, limit],
  }
}

/** The whole site: what passes through soil, and the largest step. */
export function describeGround(ground: ToldGround): readonly FigureText[] {
  const { fault, answer } = ground
  const { mostStep, mostStepBeside } = answer
  const through = told`${throughEarthFigure(fault)} pass through ${fault.book.words.earth}.`
  if (mostStep === null) return [through]
  const where = mostStepBeside === null ? '' : `, beside ${namePart(fault.book, mostStepBeside)}`
  return [through, told`The largest step of one metre is ${largestFigure(ground, mostStep)}${where}.`]
}

/** How long it lasts, and what rules permit for that between the feet. */
export function describeStepRules(ground: ToldGround, step: GroundStep): PermitLines {
  return permitLines(ground.answer.permittedSteps, (row) => describeStepPermit(ground, step, row))
}

export function describeTouchRules(ground: ToldGround, touch: GroundTouch): PermitLines {
  const person = toldPerson(ground, touch)
  return permitLines(touch.person.permitted, (row) => describePermit(person, row))
}

/** Rules with a number, and those that have none here and why. */
export interface PermitLines {
  readonly saying: readonly FigureText[]
  readonly silent: readonly FigureText[]
}

function permitLines(
  rows: readonly PermittedVolts[],
  write: (row: PermittedVolts) => FigureText,
): PermitLines {
  return {
    saying: rows.filter(({ volt }) => volt !== null).map(write),
    silent: rows.filter(({ volt }) => volt === null).map(write),
  }
}

function describeStepPermit(
  ground: ToldGround,
  step: GroundStep,
  { rule, volt, refusal }: PermittedVolts,
): FigureText {
  const { units } = ground.fault.book.drawing.facts
  const { durationS } = ground.answer
  const name = `${describeRuleSource(rule)}, ${nameRule(rule, units)}`
  if (volt === null)
    return told`${name}: no answer. ${refusal === null ? '' : refusalText(refusal, rule, units)}`
  const lasts = durationS === null ? 'a fault that lasts' : formatSeconds(durationS)
  const permitted = ruleFigure(
    rule,
    faultVolt(volt),
    `Volts between the feet that the rule permits for ${lasts}.`,
    units,
  )
  return told`${name}: ${permitted} between the feet. Here ${stepFigure(ground, step)}, ${step.volt > volt ? 'MORE than that' : 'no more than that'}.`
}

function toldPerson({ fault, input }: ToldGround, { part, distanceM, person }: GroundTouch): ToldPerson {
  const { surface, shoeOhm, isWet } = input
  const asked = { hand: part, other: null, surface, shoeOhm, isWet, armReachM: distanceM }
  return { fault, person, asked }
}

/** Volts of the ground at a place, and the steepest metre there. */
export function describeStand(ground: ToldGround, stand: GroundStand): readonly FigureText[] {
  return [
    told`The ground here stands at ${groundFigure(ground, stand)} to ${ground.fault.book.words.remoteEarth}.`,
    told`One step of a metre from here spans up to ${stepFigure(ground, stand.step)}.`,
  ]
}

/** Whether the volts of a part in reach are known: where the fault’s circuit does not reach it, nothing can be held against a rule. */
export function isTold({ person }: GroundTouch): boolean {
  return person.ohmBetween !== Infinity
}

/** Volts between the ground at a place and a part in reach. */
export function describeGroundTouch(ground: ToldGround, stand: GroundStand, touch: GroundTouch): FigureText {
  const { book } = ground.fault
  const { units } = book.drawing.facts
  const { part, distanceM, partV, person } = touch
  const away = distanceM < 0.005 ? 'right above or beside it' : `${formatLength(distanceM, units)} away`
  const name = `${capital(namePart(book, part))}, ${away}`
  if (!isTold(touch)) return [`${name}: ${groundTexts.noWay}`]
  const figure: Figure = {
    value: faultVolt(person.prospectiveV),
    name: 'Touch volts between this ground and the part',
    how: 'Volts of the part minus volts of the ground here, before anybody touches.',
    inputs: [
      { name: `Volts of ${namePart(book, part)}`, value: faultVolt(partV) },
      { name: 'Volts of the ground here', value: faultVolt(stand.volt) },
      { name: 'Distance in plan', value: formatLength(distanceM, units) },
      ...soilInputs(ground),
    ],
    rules: [superposition, 'Kirchhoff’s laws over every joint', limit],
  }
  return told`${name}: ${figure} between it and the ground here.`
}

/** How long the fault is taken to last. */
export function describeLasting(ground: ToldGround): FigureText {
  const { answer, fault } = ground
  const { durationS } = answer
  if (durationS === null) return ['Nothing surely ends the fault: it is taken to last.']
  const { devices } = fault.answer
  const figure: Figure = {
    value: formatSeconds(durationS),
    name: 'Time until the fault has ended',
    how: 'Until the first device has surely acted.',
    inputs: devices.map(({ device, mostS }) => ({
      name: fault.book.drawing.devices.find(({ id }) => id === device)?.name || device,
      value: mostS === null ? 'does not end it' : `at most ${formatSeconds(mostS)}`,
    })),
    rules: devices.filter(({ mostS }) => mostS === durationS).map(({ rule }) => describeRuleSource(rule)),
  }
  return told`A device has ended the fault within ${figure}.`
}

/** A place one metre from a part, as something to choose. */
export function besidePart(book: NameBook, part: string): string {
  return `1 m from ${namePart(book, part)}`
}

/** Beside the pointer on bare ground. */
export function describeGroundAtPointer(volt: number): string {
  return `Ground: about ${faultVolt(volt)}`
}
