import type { AlteredJoint, FaultDrive, FaultInput, PersonInput } from '../../model/faultAnswers.ts'
import type { FaultSource, ProtectiveDevice } from '../../model/schema/faults.ts'

/** The demo sites that lessons are on: file in demo-data/ and id of the site. */
export const fieldDemo = { demo: 'field.json', site: '24ff7911-c1d0-4ebf-b3fc-511a6e0c12c0' } as const
export const roofDemo = { demo: 'roof.json', site: 'e3d15d44-6dfa-4ff0-9dd8-39c8bc550d58' } as const

type PvSource = Extract<FaultSource, { form: 'pvString' }>

/** One string alone; `referencing` says which pole, if any, is earthed. */
const string: Omit<PvSource, 'referencing'> = {
  id: 'lesson-string',
  form: 'pvString',
  name: 'One string of 20 modules',
  openCircuitV: 980,
  shortCircuitA: 14,
  modulesInSeries: 20,
  stringsInParallel: 1,
}

interface PvFault {
  readonly referencing: PvSource['referencing']
  readonly moduleFromNegative?: number
  readonly stringsInParallel?: number
  readonly second?: Extract<FaultDrive, { form: 'pv' }>['second']
}

/** A string's conductor on a part, in full light; insulation of a megohm a pole, a microfarad of array. */
export function pvDrive({
  referencing,
  moduleFromNegative = 20,
  stringsInParallel = 1,
  second = null,
}: PvFault): FaultDrive {
  return {
    form: 'pv',
    source: { ...string, referencing, stringsInParallel },
    moduleFromNegative,
    earthedAt: 'B1',
    earthingOhm: referencing === 'floating' ? 0 : 0.1,
    second,
    insulationOhm: 1_000_000,
    capacitanceF: 1e-6,
    light: 1,
  }
}

/** Mains of 230 V whose neutral comes back to a part, or, with null, to an electrode far away. */
export function mainsDrive(returnPart: string | null, sourceOhm: number): FaultDrive {
  return {
    form: 'ac',
    source: {
      id: 'lesson-mains',
      form: 'ac',
      name: 'Mains, 230 V',
      phaseV: 230,
      frequencyHz: 50,
      sourceOhm,
      returnPart,
    },
    conductorOhm: 0.1,
  }
}

export function faultAt(
  at: string,
  drive: FaultDrive,
  more: { readonly altered?: readonly AlteredJoint[]; readonly person?: PersonInput } = {},
): FaultInput {
  const { altered = [], person = null } = more
  return { countIncidental: false, asBuilt: true, at, drive, altered, person }
}

export function touching(hand: string, other: string | null): PersonInput {
  return { hand, other, surface: null, shoeOhm: 0, isWet: false, armReachM: 1 }
}

export const open = (joint: string): AlteredJoint => ({ joint, ohm: null })

const device = (id: string, name: string, form: ProtectiveDevice['form'], characteristic: string) => ({
  id,
  name,
  form,
  characteristic,
  protects: null,
  note: '',
})

/** A circuit breaker of 16 A, class B. */
export const breaker: ProtectiveDevice = {
  ...device('breaker', 'Circuit breaker, 16 A', 'circuitBreaker', 'B'),
  ratedA: 16,
}
/** A residual-current device of 30 mA. */
export const residual: ProtectiveDevice = {
  ...device('residual', 'Residual-current device, 30 mA', 'residualCurrent', 'A'),
  ratedA: 0.03,
}
