import type { FaultAnswer, FaultInput, FaultPort } from '../model/faultAnswers.ts'
import type { Figure } from './figure.ts'
import { faultAmpere, faultFarad, faultJoule, faultVolt } from './faultUnits.ts'
import { nameJoint } from './jointNames.ts'
import { formatOhm } from './ohms.ts'
import { namePart } from './partNames.ts'
import type { NameBook } from './places.ts'
import { capital, formatShare } from './units.ts'
import { printable } from './where.ts'

/** An answer with what was asked and the names of things: all that a figure's basis speaks of. */
export interface ToldFault {
  readonly answer: FaultAnswer
  readonly input: FaultInput
  readonly book: NameBook
}

type Inputs = Figure['inputs']

const kirchhoff =
  'Kirchhoff’s laws over every joint, exact to rounding; joints at their median ohms (catalogue of this site)'
const curve =
  'Single-diode curve without series resistance, after Jain and Kapoor 2004; two of its shares are judgement'

/** What drives the fault, and through what. */
export function driveInputs({ input: { drive }, book }: ToldFault): Inputs {
  const source = { name: 'Source', value: printable(drive.source.name) }
  if (drive.form === 'ac') {
    const { phaseV, frequencyHz, sourceOhm, returnPart } = drive.source
    return [
      source,
      { name: 'Phase volts', value: faultVolt(phaseV) },
      { name: 'Frequency', value: `${frequencyHz} Hz` },
      { name: 'Ohms of the source', value: formatOhm(sourceOhm) },
      { name: 'Ohms of fault and live conductor', value: formatOhm(drive.conductorOhm) },
      { name: 'Returns at', value: placeName(returnPart, book) },
    ]
  }
  const { openCircuitV, shortCircuitA, modulesInSeries, stringsInParallel, referencing } = drive.source
  return [
    source,
    { name: 'Open-circuit volts of the string', value: faultVolt(openCircuitV) },
    { name: 'Short-circuit current', value: faultAmpere(shortCircuitA) },
    { name: 'Light', value: formatShare(drive.light) },
    { name: 'Strings in parallel', value: String(stringsInParallel) },
    {
      name: 'Fault at module',
      value: `${drive.moduleFromNegative} of ${modulesInSeries} from the negative pole`,
    },
    ...(drive.second
      ? [
          {
            name: 'Second fault',
            value: `module ${drive.second.moduleFromNegative} of ${drive.second.sameString ? 'the same string' : 'another string'}, on ${namePart(book, drive.second.part)}`,
          },
        ]
      : []),
    { name: 'Referenced to', value: placeName(drive.earthedAt, book) },
    ...(referencing === 'floating'
      ? []
      : [{ name: 'Ohms of that connection', value: formatOhm(drive.earthingOhm) }]),
    { name: 'Insulation of each pole', value: formatOhm(drive.insulationOhm) },
  ]
}

function placeName(part: string | null, book: NameBook): string {
  return part === null ? book.words.remoteEarth : namePart(book, part)
}

function networkInputs({ answer, input, book }: ToldFault): Inputs {
  return [
    { name: 'Fault on', value: namePart(book, input.at) },
    { name: 'Ohms of the network, fault to return', value: formatOhm(answer.networkOhm) },
    { name: 'Bare contact', value: input.countIncidental ? 'counted' : 'not counted' },
    ...input.altered.map(({ joint, ohm }) => ({
      name: capital(nameJoint(book, joint)),
      value: ohm === null ? 'open in this question' : `${formatOhm(ohm)} in this question`,
    })),
  ]
}

const driveRules = ({ input }: ToldFault): readonly string[] =>
  input.drive.form === 'pv'
    ? [curve, kirchhoff]
    : ['Ohm’s law, all impedances taken as resistances', kirchhoff]

export function faultCurrentFigure(fault: ToldFault): Figure {
  return {
    value: faultAmpere(fault.answer.faultA),
    name: 'Fault current',
    how:
      fault.input.drive.form === 'pv'
        ? 'The point at which the modules’ curve of amperes against volts meets what the network takes.'
        : 'Phase volts divided by the ohms of source, conductor, fault and network in series.',
    inputs: [...driveInputs(fault), ...networkInputs(fault)],
    rules: driveRules(fault),
  }
}

export function openVoltsFigure(fault: ToldFault): Figure {
  return {
    value: faultVolt(fault.answer.openV),
    name: 'Volts of the fault point before it touches',
    how: 'Open-circuit volts of the modules between the fault point and where the circuit is referenced.',
    inputs: driveInputs(fault),
    rules: driveRules(fault),
  }
}

/** Volts of a part to remote earth, or to where the circuit is referenced where no soil joins the two. */
export function partVoltsFigure(fault: ToldFault, part: string, volt: number): Figure {
  const { answer, book } = fault
  return {
    value: faultVolt(volt),
    name: `Volts of ${namePart(book, part)} to ${voltsToName(fault)}`,
    how: `Fault current times the ohms that it meets between this part and ${voltsToName(fault)}, by every way at once.`,
    inputs: [{ name: 'Fault current', value: faultAmpere(answer.faultA) }, ...networkInputs(fault)],
    rules: driveRules(fault),
  }
}

export function voltsToName({ answer, input, book }: ToldFault): string {
  if (answer.voltsTo === 'remoteEarth') return book.words.remoteEarth
  const { drive } = input
  return placeName(drive.form === 'ac' ? drive.source.returnPart : drive.earthedAt, book)
}

export function jointCurrentFigure(fault: ToldFault, joint: string, ampere: number): Figure {
  const { answer, book } = fault
  return {
    value: faultAmpere(ampere),
    name: `Current in ${nameJoint(book, joint)}`,
    how: 'Difference of volts between the two parts of the joint, divided by its ohms.',
    inputs: [{ name: 'Fault current', value: faultAmpere(answer.faultA) }, ...networkInputs(fault)],
    rules: [kirchhoff],
  }
}

export function networkOhmFigure(fault: ToldFault): Figure {
  const { answer, book } = fault
  return {
    value: formatOhm(answer.networkOhm),
    name: 'Ohms of the bond network, fault to return',
    how: 'Resistance between the part that faulted and where most of the current leaves, all ways in parallel.',
    inputs: [
      { name: 'Fault on', value: namePart(book, fault.input.at) },
      ...answer.ports.slice(1, 3).map((port) => portInput(port, book)),
      { name: 'Bare contact', value: fault.input.countIncidental ? 'counted' : 'not counted' },
    ],
    rules: [kirchhoff],
  }
}

const roles: Readonly<Record<FaultPort['role'], string>> = {
  fault: 'Fault',
  second: 'Second fault',
  earthing: 'Earthing of the circuit',
  insulation: 'Insulation',
  return: 'Return to the source',
}

function portInput({ role, part, currentA }: FaultPort, book: NameBook) {
  return { name: `${roles[role]} at ${portPlace(part, book)}`, value: faultAmpere(currentA) }
}

export function portPlace(part: string, book: NameBook): string {
  return namePart(book, part)
}

export function throughEarthFigure(fault: ToldFault): Figure {
  const { answer, book } = fault
  return {
    value: faultAmpere(answer.throughEarthA),
    name: `Current that passes through ${book.words.earth}`,
    how: 'Sum of the currents that leave metal by posts and electrodes. What comes back into metal elsewhere and leaves it again counts each time, so this can be more than the fault current.',
    inputs: [
      { name: 'Fault current', value: faultAmpere(answer.faultA) },
      { name: 'Resistivity of the soil', value: `${book.drawing.facts.soilOhmM} Ω·m` },
      ...answer.ports.slice(0, 3).map((port) => portInput(port, book)),
    ],
    rules: [kirchhoff, `${capital(book.words.earthPath)}s: docs/model.md; their spread is large`],
  }
}

export function backFeedFigure(fault: ToldFault): Figure {
  return {
    value: faultAmpere(fault.answer.backFeedA),
    name: 'Current that other strings push into the faulted one',
    how: 'What the parallel strings give at the volts that the fault leaves between the poles.',
    inputs: driveInputs(fault),
    rules: driveRules(fault),
  }
}

export function storedFigure(fault: ToldFault): Figure {
  const { answer, input } = fault
  const farad = input.drive.form === 'pv' ? input.drive.capacitanceF : 0
  return {
    value: faultJoule(answer.capacitance?.joule ?? 0),
    name: `Energy in the array’s capacitance to ${fault.book.words.earth}`,
    how: '½ · C · V², C the capacitance, V the volts of the fault point before it touches anything.',
    inputs: [
      { name: 'Capacitance', value: faultFarad(farad) },
      { name: 'Volts', value: faultVolt(answer.openV) },
    ],
    rules: ['Energy of a capacitor (common practice)'],
  }
}

export function leakageFigure(fault: ToldFault): Figure {
  const { answer, input } = fault
  const farad = input.drive.form === 'pv' ? input.drive.capacitanceF : 0
  return {
    value: faultAmpere(answer.capacitance?.leakageA ?? 0),
    name: 'Leakage of a running inverter through the capacitance',
    how: '2π · f · C · V, at 50 Hz and half the mains volts, 115 V, of a single-phase inverter that switches both poles; 0 behind a transformer.',
    inputs: [
      { name: 'Capacitance', value: faultFarad(farad) },
      {
        name: 'Referenced',
        value: input.drive.form === 'pv' ? input.drive.source.referencing : 'by the grid',
      },
    ],
    rules: ['Common practice for a single-phase bridge; every circuit has its own'],
  }
}
