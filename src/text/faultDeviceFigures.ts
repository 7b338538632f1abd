import type { DeviceActs, InsulationSeen } from '../model/faultAnswers.ts'
import type { ProtectiveDevice } from '../model/schema/faults.ts'
import { describeBecause, measuresOhms } from './faultDeviceText.ts'
import { driveInputs, type ToldFault } from './faultFigures.ts'
import { describeRuleSource, nameRule } from './faultRuleText.ts'
import { refusalText } from './faultRuleFigures.ts'
import { deviceFormWords } from './faultSourceText.ts'
import { faultAmpere } from './faultUnits.ts'
import { told, type Figure, type FigureText } from './figure.ts'
import { formatOhm } from './ohms.ts'
import { formatSeconds, type Units } from './units.ts'
import { printable } from './where.ts'
import { wordsFor } from './words.ts'

export const deviceTexts = {
  title: 'Who notices, and when',
  none: 'No device of this site protects this source: nothing that is drawn would notice or end the fault. Draw one under “Sources and devices”.',
  nothingEnds: 'NOTHING ENDS THIS FAULT',
  nothingEndsWhy: 'No device that is drawn surely interrupts it. It lasts as long as the source drives it.',
  neverActs: 'NEVER ACTS',
  insulation: 'Insulation monitoring',
  hidden: 'HIDDEN FROM INSULATION MONITORING',
  hiddenWhy:
    'The metal that is live has no metal path to the monitored earth: the reading is that of a sound array. Bonding is what would have shown the fault.',
  unmonitored:
    'A circuit with an earthed pole cannot be monitored in this way; an AC source is not monitored here.',
  stored: 'Capacitance',
} as const

export interface ToldDevice {
  readonly id: string
  readonly name: string
  readonly acts: DeviceActs
  readonly line: FigureText
  readonly because: FigureText | null
}

/** What each device does about the fault; loudest first. */
export function describeDevices(fault: ToldFault): readonly ToldDevice[] {
  const { answer, book } = fault
  const { devices } = book.drawing
  const rank = { never: 0, mayAct: 1, notCovered: 2, acts: 3 } as const
  const all = answer.devices.flatMap((acts): ToldDevice[] => {
    const device = devices.find(({ id }) => id === acts.device)
    return device ? [toldDevice(fault, device, acts)] : []
  })
  return all.sort((a, b) => rank[a.acts.verdict] - rank[b.acts.verdict])
}

function toldDevice(fault: ToldFault, device: ProtectiveDevice, acts: DeviceActs): ToldDevice {
  const { units } = fault.book.drawing.facts
  const name = printable(device.name)
  const because = describeBecause(acts, wordsFor(units).earth)
  return {
    id: device.id,
    name,
    acts,
    line: told`${seesText(fault, device, acts)}: ${verdictText(fault, device, acts)}.`,
    because: acts.refusal ? refusalText(acts.refusal, acts.rule, units) : because === null ? null : [because],
  }
}

function seesText(fault: ToldFault, device: ProtectiveDevice, acts: DeviceActs): FigureText {
  if (!measuresOhms(acts)) return told`Sees ${seesFigure(fault, device, acts)}`
  const { insulation } = fault.answer
  return insulation
    ? told`Reads ${readsFigure(fault, insulation)}`
    : ['Measures ohms, and no current passes it']
}

function verdictText(fault: ToldFault, device: ProtectiveDevice, acts: DeviceActs): FigureText {
  const { verdict, leastS, mostS } = acts
  const time = (seconds: number) => timeFigure(fault, device, acts, seconds)
  if (verdict === 'never') return ['it never acts']
  if (verdict === 'notCovered') return ['the rules here do not cover it']
  const notBefore = leastS === null || leastS === 0 ? [] : told`, not before ${time(leastS)}`
  if (verdict === 'mayAct') return told`it may act and may not${notBefore}; do not count on it`
  if (mostS === null) return ['it alarms, or keeps the inverter from starting, and interrupts nothing']
  return told`it acts within ${time(mostS)}${notBefore}`
}

const sights: Readonly<Record<ProtectiveDevice['form'], string>> = {
  fuse: 'What the faulted string carries at its poles; behind an AC source, the fault current.',
  circuitBreaker: 'What the faulted string carries at its poles; behind an AC source, the fault current.',
  residualCurrent:
    'What comes back through the earthing of the circuit; behind an AC source, the fault current.',
  groundFaultFuse: 'What comes back through the earthing of the circuit.',
  insulationMonitor: 'None: it measures ohms, and no current passes it.',
}

function deviceInputs(
  fault: ToldFault,
  { form, characteristic, ratedA }: ProtectiveDevice,
): Figure['inputs'] {
  return [
    { name: 'Device', value: deviceFormWords[form] },
    { name: 'Class', value: characteristic === '' ? 'none given' : printable(characteristic) },
    { name: 'Rated', value: ratedA === null ? 'not given' : faultAmpere(ratedA) },
    { name: 'Fault current', value: faultAmpere(fault.answer.faultA) },
  ]
}

function seesFigure(fault: ToldFault, device: ProtectiveDevice, { seesA }: DeviceActs): Figure {
  return {
    value: faultAmpere(seesA),
    name: `Current before ${printable(device.name)}`,
    how: sights[device.form],
    inputs: [...deviceInputs(fault, device), ...driveInputs(fault)],
    rules: ['Kirchhoff’s laws over the circuit of the source and every joint'],
  }
}

function timeFigure(
  fault: ToldFault,
  device: ProtectiveDevice,
  { seesA, rule }: DeviceActs,
  seconds: number,
): Figure {
  const { units } = fault.book.drawing.facts
  return {
    value: formatSeconds(seconds),
    name: `Time until ${printable(device.name)} acts`,
    how: `The rule’s time at the current that the device sees: ${nameRule(rule, units)}. Product standards promise bands; single devices differ.`,
    inputs: [{ name: 'It sees', value: faultAmpere(seesA) }, ...deviceInputs(fault, device)],
    rules: [describeRuleSource(rule)],
  }
}

/** What insulation monitoring reads, and whether it alarms. */
export function describeMonitoring(fault: ToldFault, seen: InsulationSeen): FigureText {
  const { units } = fault.book.drawing.facts
  const reads = readsFigure(fault, seen)
  const says = seen.alarms ? 'it alarms' : seen.isHidden ? 'NO ALARM, although there is a fault' : 'no alarm'
  return told`It reads ${reads}; it alarms below ${alarmFigure(fault, seen, units)}: ${says}.`
}

function readsFigure(fault: ToldFault, { readsOhm }: InsulationSeen): Figure {
  const { drive } = fault.input
  return {
    value: formatOhm(readsOhm),
    name: 'Ohms that insulation monitoring reads',
    how: 'Both poles’ insulation and the way from the fault to the monitored earth, all in parallel.',
    inputs: [
      {
        name: 'Insulation of each pole',
        value: drive.form === 'pv' ? formatOhm(drive.insulationOhm) : 'none',
      },
      { name: 'Network between fault and return', value: formatOhm(fault.answer.networkOhm) },
    ],
    rules: ['Ohm’s law'],
  }
}

function alarmFigure(
  { input: { drive } }: ToldFault,
  { alarmBelowOhm }: InsulationSeen,
  units: Units,
): Figure {
  return {
    value: formatOhm(alarmBelowOhm),
    name: 'Ohms below which it alarms',
    how: 'Greatest volts of the array divided by 30 mA.',
    inputs: [
      {
        name: 'Greatest volts of the array',
        value: drive.form === 'pv' ? `${drive.source.openCircuitV} V` : 'none',
      },
      { name: 'Rule', value: nameRule('insulationAtStart', units) },
    ],
    rules: [describeRuleSource('insulationAtStart')],
  }
}
