import {
  faultCurrentFigure,
  networkOhmFigure,
  partVoltsFigure,
  throughEarthFigure,
  type ToldFault,
} from './faultFigures.ts'
import { deviceTexts } from './faultDeviceFigures.ts'
import { verdictWords } from './faultDeviceText.ts'
import type { Figure } from './figure.ts'
import { zoneTexts } from './faultBodyText.ts'
import { printable } from './where.ts'

/** One thing told of both: a figure, or a word. */
export interface ComparedRow {
  readonly name: string
  readonly drawn: Figure | string
  readonly changed: Figure | string
}

/** The same figures of the array as drawn and with the change, row by row. */
export function compareFaults(drawn: ToldFault, changed: ToldFault): readonly ComparedRow[] {
  const row = (name: string, of: (fault: ToldFault) => Figure | string): ComparedRow => ({
    name,
    drawn: of(drawn),
    changed: of(changed),
  })
  const { devices } = drawn.book.drawing
  const verdict = (id: string) => (fault: ToldFault) => {
    const acts = fault.answer.devices.find(({ device }) => device === id)
    return acts ? verdictWords[acts.verdict] : '–'
  }
  return [
    row('Fault current', faultCurrentFigure),
    row('Volts of the part that faulted', (fault) =>
      partVoltsFigure(fault, fault.input.at, fault.answer.faultV),
    ),
    row('Bond network, fault to return', networkOhmFigure),
    row(`Through ${drawn.book.words.earth}`, throughEarthFigure),
    ...drawn.answer.devices.map(({ device }) =>
      row(printable(devices.find(({ id }) => id === device)?.name ?? device), verdict(device)),
    ),
    ...(drawn.answer.insulation
      ? [row(deviceTexts.insulation, ({ answer: { insulation } }) => monitoring(insulation))]
      : []),
    ...(drawn.answer.person && changed.answer.person ? [row('One who touches', shock)] : []),
  ]
}

function monitoring(seen: ToldFault['answer']['insulation']): string {
  if (!seen) return '–'
  return seen.alarms ? 'alarms' : seen.isHidden ? 'HIDDEN' : 'no alarm'
}

/** The body with the fewest ohms is the one that is hurt most. */
function shock({ answer: { person } }: ToldFault): string {
  return person ? zoneTexts[person.currents[0].zone].word : '–'
}
