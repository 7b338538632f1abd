import { fail, ok, type Result } from '../base/result.ts'
import type { AlteredJoint, FaultDrive, FaultInput, PersonInput } from '../model/faultAnswers.ts'
import type { FaultSource } from '../model/schema/faults.ts'
import { quoted } from '../text/where.ts'
import type { Call, OptionSpec } from './command.ts'

/** What a question about a fault takes. */
export const faultOptions: readonly OptionSpec[] = [
  { name: 'at', value: 'PART', help: 'the part that the fault touches' },
  {
    name: 'source',
    value: 'ID',
    help: 'the source of the drawing that drives it; its only one where left out',
  },
  {
    name: 'module',
    value: 'N',
    help: 'of a string: modules from the negative pole to the fault; the pole that is not earthed where left out',
  },
  {
    name: 'earthed',
    value: 'PART',
    help: 'part where the source is referenced, or where a.c. returns; else as drawn, or remote earth',
  },
  { name: 'earthing-ohm', value: 'OHM', help: 'ohms in that connection; 0 where left out' },
  { name: 'insulation', value: 'OHM', help: 'insulation of each pole to earth; 1e6 where left out' },
  { name: 'capacitance', value: 'FARAD', help: 'of the array to earth; 0 where left out' },
  { name: 'light', value: 'PERCENT', help: 'of standard light; 100 where left out' },
  {
    name: 'conductor-ohm',
    value: 'OHM',
    help: 'of an a.c. source: fault and live conductor; 0 where left out',
  },
  {
    name: 'second',
    value: 'PART:N',
    help: 'a second fault of the same string, N modules from its negative pole',
  },
  { name: 'second-string', value: 'PART:N', help: 'a second fault, of another string' },
  { name: 'open', value: 'JOINTS', help: 'joints that are open in this question, with commas between them' },
  { name: 'raise', value: 'JOINTS', help: 'joints at other ohms: JOINT=OHM, with commas between them' },
  { name: 'touch', value: 'PART', help: 'somebody touches this part' },
  { name: 'and', value: 'PART', help: 'with the other hand on this one; feet on the ground where left out' },
  { name: 'reach', value: 'M', help: 'metres from the part to the feet; 1 where left out' },
  { name: 'shoes', value: 'OHM', help: 'ohms of each shoe; 0 where left out' },
  {
    name: 'ground',
    value: 'OHMM:M',
    help: 'layer that the feet stand on, ohm metre and thickness; soil where left out',
  },
  { name: 'wet', value: null, help: 'the skin is wet' },
]

type Question = Pick<FaultInput, 'at' | 'drive' | 'altered' | 'person'>

/** No measured value is known: judgement, stated with the answer. */
const usualInsulationOhm = 1e6

/** The question that was typed about a source, or what is wrong with what was typed. */
export function readQuestion(options: Call['options'], source: FaultSource): Result<Question, string> {
  const read = reader(options)
  const at = read.text('at')
  const asked: Question = {
    at: at ?? '',
    drive: readDrive(read, source),
    altered: readAltered(read),
    person: readPerson(read),
  }
  if (at === null) return fail('--at is missing: the part that the fault touches')
  return read.wrong.length > 0 ? fail(read.wrong[0]) : ok(asked)
}

interface Reader {
  readonly wrong: string[]
  readonly text: (name: string) => string | null
  readonly number: (name: string, otherwise: number) => number
  readonly has: (name: string) => boolean
}

function reader(options: Call['options']): Reader {
  const wrong: string[] = []
  const text = (name: string) => {
    const value = options.get(name)
    return typeof value === 'string' ? value.trim() : null
  }
  const number = (name: string, otherwise: number) => {
    const value = text(name)
    if (value === null) return otherwise
    const read = toNumber(value)
    if (read === null) wrong.push(`--${name} takes a number, not ${quoted(value)}`)
    return read ?? otherwise
  }
  return { wrong, text, number, has: (name) => options.has(name) }
}

function toNumber(text: string): number | null {
  return /^[0-9]+(\.[0-9]+)?([eE][-+]?[0-9]+)?$/.test(text) ? Number(text) : null
}

function readDrive(read: Reader, source: FaultSource): FaultDrive {
  const earthed = read.text('earthed')
  if (source.form === 'ac') {
    const returnPart = earthed ?? source.returnPart
    return { form: 'ac', source: { ...source, returnPart }, conductorOhm: read.number('conductor-ohm', 0) }
  }
  const farPole = source.referencing === 'earthedPositive' ? 0 : source.modulesInSeries
  const same = read.text('second')
  const other = read.text('second-string')
  return {
    form: 'pv',
    source,
    moduleFromNegative: read.number('module', farPole),
    earthedAt: earthed,
    earthingOhm: read.number('earthing-ohm', 0),
    second: same !== null ? secondOf(read, same, true) : other !== null ? secondOf(read, other, false) : null,
    insulationOhm: read.number('insulation', usualInsulationOhm),
    capacitanceF: read.number('capacitance', 0),
    light: read.number('light', 100) / 100,
  }
}

function secondOf(read: Reader, text: string, sameString: boolean) {
  const [part, module] = text.split(':')
  const moduleFromNegative = toNumber(module ?? '')
  if (moduleFromNegative === null)
    read.wrong.push(`a second fault is PART:N, N modules from the negative pole, not ${quoted(text)}`)
  return { part, moduleFromNegative: moduleFromNegative ?? 0, sameString }
}

function readAltered(read: Reader): readonly AlteredJoint[] {
  const items = (name: string) => (read.text(name) ?? '').split(',').filter((joint) => joint !== '')
  const raised = items('raise').map((text) => {
    const [joint, value] = text.split('=')
    const ohm = toNumber(value ?? '')
    if (ohm === null) read.wrong.push(`--raise takes joints as JOINT=OHM, not ${quoted(text)}`)
    return { joint, ohm }
  })
  return [...items('open').map((joint) => ({ joint, ohm: null })), ...raised]
}

function readPerson(read: Reader): PersonInput | null {
  const hand = read.text('touch')
  if (hand === null) {
    const alone = ['and', 'reach', 'shoes', 'ground', 'wet'].find((name) => read.has(name))
    if (alone) read.wrong.push(`--${alone} says how somebody touches: --touch PART is missing`)
    return null
  }
  const ground = read.text('ground')
  const [ohmM, thicknessM] = (ground ?? '').split(':').map(toNumber)
  if (ground !== null && (ohmM === null || thicknessM === null || thicknessM === undefined))
    read.wrong.push(`--ground takes ohm metres and metres as 3000:0.1, not ${quoted(ground)}`)
  return {
    hand,
    other: read.text('and'),
    surface: ground === null ? null : { ohmM: ohmM ?? 0, thicknessM: thicknessM ?? 0 },
    shoeOhm: read.number('shoes', 0),
    isWet: read.has('wet'),
    armReachM: read.number('reach', 1),
  }
}
