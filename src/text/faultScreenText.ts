import type { FaultAnswer, LimitedBy } from '../model/faultAnswers.ts'
import type { FaultSource } from '../model/schema/faults.ts'
import {
  backFeedFigure,
  faultCurrentFigure,
  networkOhmFigure,
  openVoltsFigure,
  partVoltsFigure,
  portPlace,
  throughEarthFigure,
  voltsToName,
  type ToldFault,
} from './faultFigures.ts'
import { faultAmpere, faultVoltSigned } from './faultUnits.ts'
import { figureTexts, told, type FigureText } from './figure.ts'
import { namePart } from './partNames.ts'
import { capital } from './units.ts'

/** What always stands in the workspace. */
export const teachingLine = 'Teaching model, not a protection study; local code and qualified persons decide.'

export const faultTexts = {
  title: 'Fault current',
  tapFirst: 'Tap a part on the map: the fault is there.',
  tapHow:
    'A module frame, a rail, a post, an enclosure. By keyboard: go to the map, move with the arrow keys, press Enter. Or type its name here.',
  at: 'The fault is at',
  pickHint: 'Tap another part to put the fault, a hand or a second fault there; tap a joint to open it.',
  clear: 'Clear the fault',
  bringBack: 'Bring back what was cleared',
  cleared: 'The fault is cleared.',
  moveHere: 'Fault here',
  secondHere: 'Second fault here',
  handHere: 'A hand here',
  otherHere: 'Other hand here',
  earthedHere: 'Circuit referenced here',
  watchHere: 'Watch from here',
  watchTo: 'Watch to here',
  openIt: 'Open it',
  makeIt: 'Make it',
  putBack: 'Put it back',
  drives: 'What drives it',
  source: 'Source',
  noSource: 'This site has no source yet: nothing can drive a current.',
  noSourceHow: 'Take one of these to begin with; its figures can be changed.',
  starterPv: 'A string of modules',
  starterAc: 'An AC phase',
  module: 'Module whose conductor touches the metal',
  negative: 'negative pole',
  positive: 'positive pole',
  earthed: 'Circuit referenced to',
  earthedBar: 'the first earth bar',
  earthingOhm: 'Ohms of that connection, its fuse included',
  second: 'Second fault',
  noSecond: 'None. Pick a part on the map, then choose “Second fault here”.',
  removeSecond: 'Take the second fault away',
  sameString: 'In the same string',
  sameStringHint: 'Off: in another string in parallel.',
  insulation: 'Insulation of each pole',
  capacitance: 'Capacitance of the array',
  light: 'Light, share of full sun',
  conductor: 'Ohms of fault and live conductor',
  incidental: 'Count bare contact',
  incidentalHint: 'Metal that only touches conducts today and may not tomorrow.',
  more: 'Insulation, capacitance, light',
  answer: 'Where the current goes',
  older: 'Being updated: this is from before the last change.',
  stopped: 'Stopped: this is from before the last change.',
  pause: 'Hold the dashes still',
  pauseHint: 'The dashes move the way the current flows.',
  mapShows: 'The map shows',
  showsCurrent: 'amperes and volts of this fault',
  showsLosses: 'what the loss of each joint would cause',
  whatIf: 'Open a joint and watch',
  whatIfNone:
    'Tap a joint on the map, then choose “Open it” or give it other ohms. The drawing stays as it is.',
  showsChange: 'Show the change on the map',
  showsChangeHint: 'Off: the map and the cards show the array as drawn.',
  asDrawn: 'As drawn',
  withChange: 'With the change',
  isOpen: 'Open',
  otherOhms: 'With other ohms than drawn',
  putAllBack: 'Put everything back',
  sources: 'Sources and devices',
  picked: 'What is picked',
  show: 'Show on map',
  nearer: 'Come nearer',
  tablePicked: 'A whole table is picked. Come nearer and tap one of its parts or joints.',
  secondModule: 'Module of the second fault',
  nothingFlows: 'Nothing flows.',
  ohmOfJoint: 'Ohms of this joint',
  ohmHint: 'In this question only: the drawing stays as it is.',
} as const

const limits: Readonly<Record<LimitedBy, string>> = {
  sourceCurrent:
    'The source sets the current: it gives no more, whatever the ohms. A worse bond raises the volts, and hardly changes the amperes.',
  resistance: 'The ohms of the way set the current.',
  insulation: 'Nothing leads back but the insulation of the array: that sets the current.',
  noPath:
    'No way leads back to the source: no current flows. What is cut off on the one side and on the other differ by the volts of the fault point: whoever bridges the gap gets them.',
  noVoltage: 'The fault point has no volts against what the circuit is referenced to.',
}

/** How much flows, from where to where, and at which volts the part stands. */
export function describeFault(fault: ToldFault): FigureText {
  const { answer, input, book } = fault
  const at = namePart(book, input.at)
  const stands = told`${capital(at)} stands at ${partVoltsFigure(fault, input.at, answer.faultV)} to ${voltsToName(fault)}.`
  const back = mainReturn(answer)
  if (answer.limitedBy === 'noPath' || back === null)
    return told`${faultCurrentFigure(fault)} flows. ${stands}`
  return told`${faultCurrentFigure(fault)} flows from ${at} to ${portPlace(back.part, book)}. ${stands}`
}

/** The port by which most of the current leaves the metal. */
function mainReturn({ ports }: FaultAnswer) {
  const leaving = ports.slice(1).filter(({ currentA }) => currentA !== 0)
  return leaving.sort((a, b) => Math.abs(b.currentA) - Math.abs(a.currentA)).at(0) ?? null
}

export function describeLimit({ limitedBy }: FaultAnswer): string {
  return limits[limitedBy]
}

/** The further figures of an answer, one a line. */
export function describeMore(fault: ToldFault): readonly FigureText[] {
  const { answer, book } = fault
  const { words } = book
  return [
    told`Before it touches, the fault point has ${openVoltsFigure(fault)}.`,
    ...(answer.networkOhm === Infinity
      ? [told`No metal and no soil lead back.`]
      : [told`The bond network has ${networkOhmFigure(fault)} between fault and return.`]),
    told`Through ${words.earth} pass ${throughEarthFigure(fault)}.`,
    ...(answer.backFeedA > 0
      ? [told`Other strings push ${backFeedFigure(fault)} into the faulted one.`]
      : []),
  ]
}

/** The key that opens the number at the pointer while a fault is looked at, and what the tip says of it. */
export const pointerKey = 'i'
const pointerHint = `key ${pointerKey.toUpperCase()}: ${figureTexts.spoken}`

/** Beside the pointer: volts of a part, amperes of a joint, and the key that opens them, where there is a card for it. */
export function describeAtPointer(
  name: string,
  there:
    { readonly kind: 'part'; readonly volt: number } | { readonly kind: 'joint'; readonly ampere: number },
  hasCard: boolean,
): string {
  const value = there.kind === 'part' ? faultVoltSigned(there.volt) : faultAmpere(there.ampere)
  return `${capital(name)}: ${value}${hasCard ? ` (${pointerHint})` : ''}`
}

export const referencingWords: Readonly<
  Record<Extract<FaultSource, { form: 'pvString' }>['referencing'], (earthed: string) => string>
> = {
  floating: () => 'floating: no pole is joined to anything',
  earthedNegative: (earthed) => `negative pole ${earthed}, through a fuse or resistor`,
  earthedPositive: (earthed) => `positive pole ${earthed}, through a fuse or resistor`,
  transformerless: () => 'inverter without transformer: referenced by the grid',
}

/** Where along a string its conductor touches. */
export function moduleSpoken(module: number, modulesInSeries: number): string {
  if (module === 0) return 'at the negative pole'
  if (module === modulesInSeries) return `at the positive pole, after all ${modulesInSeries} modules`
  return `after module ${module} of ${modulesInSeries}, counted from the negative pole`
}
