import type { FaultDrive } from '../../src/model/faultAnswers.ts'
import type { Circuit } from '../../src/faultcurrent/circuit.ts'
import { acCircuit } from '../../src/faultcurrent/acCircuit.ts'
import { pvCircuit, type PvPlaces } from '../../src/faultcurrent/pvCircuit.ts'

export type PvDrive = Extract<FaultDrive, { form: 'pv' }>

/** Ten modules of 40 V and 10 A in series, one string, its negative pole earthed without ohms, insulation that leads nothing. */
export const string: PvDrive = {
  form: 'pv',
  source: {
    id: 'string',
    form: 'pvString',
    name: 'String',
    openCircuitV: 400,
    shortCircuitA: 10,
    modulesInSeries: 10,
    stringsInParallel: 1,
    referencing: 'earthedNegative',
  },
  moduleFromNegative: 10,
  earthedAt: null,
  earthingOhm: 0,
  second: null,
  insulationOhm: Infinity,
  capacitanceF: 0,
  light: 1,
}

export function withSource(drive: PvDrive, source: Partial<PvDrive['source']>): PvDrive {
  return { ...drive, source: { ...drive.source, ...source } }
}

export function pvAt(drive: PvDrive, at: number, earthed: number, second: number | null = null): Circuit {
  const places: PvPlaces = { at, earthed, second }
  return pvCircuit(drive, places)
}

export function acAt(phaseV: number, sourceOhm: number, at: number, back: number): Circuit {
  const source = {
    id: 'mains',
    form: 'ac' as const,
    name: 'Mains',
    phaseV,
    frequencyHz: 50,
    sourceOhm,
    returnPart: null,
  }
  return acCircuit({ form: 'ac', source, conductorOhm: 0 }, at, back)
}
