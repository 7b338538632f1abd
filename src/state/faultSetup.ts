import type { AlteredJoint, FaultDrive, FaultInput, PersonInput } from '../model/faultAnswers.ts'
import type { FaultSource } from '../model/schema/faults.ts'
import type { Site } from '../model/schema/site.ts'

/** What is asked of a fault, as the form has it: nothing of it is stored with the site. */
export interface FaultSetup {
  /** Address of the part that the fault is at; null while none is chosen. */
  readonly at: string | null
  /** Id of the chosen source; null: the first one. */
  readonly source: string | null
  /** Modules from the negative pole; null: the positive end of the string. */
  readonly moduleFromNegative: number | null
  /** Where the circuit is referenced: `bar`, the first earth bar; else a part, or remote earth. */
  readonly earthed: 'bar' | 'remoteEarth' | { readonly part: string }
  readonly earthingOhm: number
  readonly second: {
    readonly part: string
    readonly moduleFromNegative: number
    readonly sameString: boolean
  } | null
  readonly insulationOhm: number
  readonly capacitanceF: number
  readonly light: number
  /** Ohms of the fault and of the live conductor up to it, of an AC source. */
  readonly conductorOhm: number
  readonly countIncidental: boolean
  readonly altered: readonly AlteredJoint[]
  readonly person: PersonInput | null
}

/** What is asked now; another object whenever anything of it, or of the site, has changed. */
export interface FaultQuestion {
  readonly site: Site
  /** With every joint as it is drawn, and with the change that is tried; null where none is. */
  readonly drawn: FaultInput
  readonly changed: FaultInput | null
}

/** Each pole against earth, and a microfarad of array: judgement, to be changed where it is known. */
export const firstSetup: FaultSetup = {
  at: null,
  source: null,
  moduleFromNegative: null,
  earthed: 'bar',
  earthingOhm: 0.1,
  second: null,
  insulationOhm: 1_000_000,
  capacitanceF: 1e-6,
  light: 1,
  conductorOhm: 0.1,
  countIncidental: true,
  altered: [],
  person: null,
}

/** A person with a hand on a part and both feet on the ground in reach. */
export const firstPerson: Omit<PersonInput, 'hand'> = {
  other: null,
  surface: null,
  shoeOhm: 0,
  isWet: false,
  armReachM: 1,
}

/** Where the circuit is referenced, as an address; null for remote earth. */
export function earthedPart({ earthed }: FaultSetup, firstBar: string | null): string | null {
  if (earthed === 'bar') return firstBar
  return earthed === 'remoteEarth' ? null : earthed.part
}

/** Modules from the negative pole, held within a string that may have become shorter. */
export function faultModule({ moduleFromNegative }: FaultSetup, modulesInSeries: number): number {
  return Math.min(moduleFromNegative ?? modulesInSeries, modulesInSeries)
}

function driveOf(setup: FaultSetup, source: FaultSource, firstBar: string | null): FaultDrive {
  if (source.form === 'ac') return { form: 'ac', source, conductorOhm: setup.conductorOhm }
  const { modulesInSeries, stringsInParallel } = source
  const { second } = setup
  return {
    form: 'pv',
    source,
    moduleFromNegative: faultModule(setup, modulesInSeries),
    earthedAt: earthedPart(setup, firstBar),
    earthingOhm: source.referencing === 'floating' ? 0 : setup.earthingOhm,
    second: second && {
      part: second.part,
      moduleFromNegative: Math.min(second.moduleFromNegative, modulesInSeries),
      sameString: second.sameString || stringsInParallel === 1,
    },
    insulationOhm: setup.insulationOhm,
    capacitanceF: setup.capacitanceF,
    light: setup.light,
  }
}

/** The question that a set-up puts to the engine; null while the fault is nowhere or has no source. */
export function faultInput(
  setup: FaultSetup,
  source: FaultSource | null,
  firstBar: string | null,
): FaultInput | null {
  if (setup.at === null || source === null) return null
  return {
    countIncidental: setup.countIncidental,
    asBuilt: true,
    at: setup.at,
    drive: driveOf(setup, source, firstBar),
    altered: setup.altered,
    person: setup.person,
  }
}
