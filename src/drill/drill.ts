import { assert } from '../base/assert.ts'
import { randomStream, type RandomStream } from '../base/random.ts'
import type { DrillAsked, DrillCalled, DrillHiding, DrillQuestion, DrillReading } from '../model/drill.ts'
import type { Kit, Lead, OhmOrOver } from '../model/schema/record.ts'
import type { Network } from '../network/compile.ts'
import type { Factor } from '../network/factor.ts'
import { pairResistance } from '../network/pairResistance.ts'
import { leadOhm } from '../reading/leadOhm.ts'
import { leadOffsetOhm } from '../reading/nulling.ts'
import { effort, readingMin } from '../walk/effort.ts'
import { wayM } from '../walk/reach.ts'
import { seatClips, type Seating } from './drawContact.ts'
import { drillRules } from './drillRules.ts'
import { showOhm } from './showOhm.ts'
import type { HiddenJoint } from './trueArray.ts'

/** Two parts by their numbers. */
interface Ends {
  readonly a: number
  readonly b: number
}

/** A reading with what nobody sees of it. */
export interface TakenReading extends Ends, Seating {
  readonly how: DrillReading['how']
  readonly isNulled: boolean
  /** How often the leads had been nulled before it. */
  readonly nullings: number
  readonly result: OhmOrOver
  readonly minutes: number
}

/** A drill as it stands: replaced by every step, never changed. */
export interface Drill {
  readonly by: DrillHiding['by']
  readonly seed: number
  readonly kit: Kit
  readonly lead: Lead | null
  readonly network: Network
  /** The true array, and the joint that is bad in it. */
  readonly factor: Factor
  readonly hidden: HiddenJoint
  readonly gain: number
  /** Ohms that the lead adds now. */
  readonly leadOffsetOhm: number
  readonly isNulled: boolean
  readonly nullings: number
  readonly readings: readonly TakenReading[]
  readonly called: readonly DrillCalled[]
  readonly asked: readonly DrillAsked[]
  readonly minutes: number
  readonly isOver: boolean
  readonly isFound: boolean
}

/** Streams of one seed that do not hang on one another: what is read is the same whatever was called between. */
function streamOf(seed: number, purpose: number, number: number): RandomStream {
  return randomStream((Math.imul(seed, 0x9e3779b1) ^ Math.imul(purpose, 0x85ebca77) ^ number) >>> 0)
}
export const streams = {
  ohms: (seed: number) => streamOf(seed, 1, 0),
  hiding: (seed: number) => streamOf(seed, 2, 0),
  instrument: (seed: number) => streamOf(seed, 3, 0),
  reading: (seed: number, number: number) => streamOf(seed, 4, number),
  nulling: (seed: number, number: number) => streamOf(seed, 5, number),
} as const

type Begun = Pick<Drill, 'by' | 'seed' | 'kit' | 'lead' | 'network' | 'factor' | 'hidden'>

/** A drill before its first reading: the lead has not been nulled. */
export function beginDrill(begun: Begun): Drill {
  const { kit, lead, seed, network } = begun
  const isTwoWire = kit.method === 'twoWire'
  const ambientC = network.index.drawing.facts.ambientC
  return {
    ...begun,
    gain: 1 + kit.gainError * (2 * streams.instrument(seed).uniform() - 1),
    leadOffsetOhm: isTwoWire && lead ? leadOhm(lead, ambientC) : 0,
    isNulled: !isTwoWire || lead === null,
    nullings: 0,
    readings: [],
    called: [],
    asked: [],
    minutes: 0,
    isOver: false,
    isFound: false,
  }
}

/** Nulls the leads: what is left of their ohms is drawn, as `reading/nulling.ts` has it. */
export function nullLeads(drill: Drill): Drill {
  const { kit, lead, seed, nullings, network } = drill
  const minutes = drill.minutes + effort.renullMin
  if (kit.method !== 'twoWire' || lead === null) return { ...drill, minutes }
  const { mean, sd } = leadOffsetOhm(leadOhm(lead, network.index.drawing.facts.ambientC), true)
  const left = mean + sd * streams.nulling(seed, nullings).normal()
  return { ...drill, leadOffsetOhm: left, isNulled: true, nullings: nullings + 1, minutes }
}

/** Reads a pair of parts, seating both clips. */
export function readPair(drill: Drill, ends: Ends): Drill {
  const { network, readings } = drill
  const last = readings.at(-1)
  const way = last ? wayM(network.index, [last.b, ends.a, ends.b]) : wayM(network.index, [ends.a, ends.b])
  const movesReference = last?.a !== ends.a
  const minutes = readingMin({ wayM: way < Infinity ? way : 0, movesReference, changesLead: false })
  return take(drill, ends, 'new', minutes, (random) => seatClips(drill.kit, false, random))
}

/** Reads the last pair again: the clips stay as they are, or are taken off and seated afresh. */
export function repeatReading(drill: Drill, how: 'again' | 'reseat'): Drill {
  const last = drill.readings.at(-1)
  assert(last !== undefined, 'only what was read can be read again')
  if (how === 'again') return take(drill, last, how, drillRules.againMin, () => last)
  const minutes = readingMin({ wayM: 0, movesReference: false, changesLead: false })
  return take(drill, last, how, minutes, (random) => seatClips(drill.kit, true, random))
}

function take(
  drill: Drill,
  { a, b }: Ends,
  how: DrillReading['how'],
  minutes: number,
  seat: (random: RandomStream) => Seating,
): Drill {
  const { kit, seed, readings, gain, factor, isNulled, nullings } = drill
  const random = streams.reading(seed, readings.length)
  const { contactOhm, isPoor } = seat(random)
  const ohm = pairResistance(factor, a, b) + contactOhm + drill.leadOffsetOhm
  const result = showOhm(kit, gain, ohm, random)
  const reading: TakenReading = { a, b, contactOhm, isPoor, how, isNulled, nullings, result, minutes }
  return { ...drill, readings: [...readings, reading], minutes: drill.minutes + minutes }
}

/** Names a joint: the right one ends the drill. */
export function callJoint(drill: Drill, edge: number, joint: string): Drill {
  const isRight = edge === drill.hidden.edge
  const called = [...drill.called, { call: 'joint', joint, isRight } as const]
  return { ...drill, called, isFound: isRight, isOver: isRight }
}

/** The reading, by number from 1, with which the clips of a reading were seated: the same one unless it was read again. */
export function seatingOf({ readings }: Drill, number: number): number {
  let first = number
  while (readings[first - 1].how === 'again') first--
  return first
}

/** Says that the clips of a reading were at fault and not the array; once of each seating. */
export function callBadTest(drill: Drill, number: number): Drill {
  const reading = seatingOf(drill, number)
  const isRight = drill.readings[reading - 1].isPoor
  return { ...drill, called: [...drill.called, { call: 'badTest', reading, isRight }] }
}

/** Counts that something was asked. */
export function countAsked(drill: Drill, question: DrillQuestion): Drill {
  return { ...drill, asked: [...drill.asked, { question, readings: drill.readings.length }] }
}

/** Ends the drill without the joint. */
export function giveUp(drill: Drill): Drill {
  return { ...drill, isOver: true }
}
