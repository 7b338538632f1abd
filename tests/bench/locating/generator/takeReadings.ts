import { randomStream, type RandomStream } from '../../../../src/base/random.ts'
import { partPositionM } from '../../../../src/layout/positions.ts'
import { assert, present } from '../../../../src/base/assert.ts'
import type { Network } from '../../../../src/network/compile.ts'
import type { Entry, EntryOf, Kit, Lead, OhmOrOver, Spot } from '../../../../src/model/schema/record.ts'
import { falseLowRate, pace } from '../../../generator/assumedValues.ts'
import type { LeadOffset } from '../../../generator/drawLead.ts'
import { drawUuid, startWatch, type Watch } from '../../../generator/identity.ts'
import { drawInstrument, type Instrument } from '../../../generator/instrument.ts'
import { spotOn } from '../../../generator/spotOn.ts'
import { assumed } from './assumed.ts'
import type { Pair } from './drawPairs.ts'
import { drawContactAt } from './drawContactAt.ts'
import { drawBreak, drawLeadState, drawOffset } from './drawSetUp.ts'
import { loopClamp } from './families.ts'
import { nodeOf, type Solved } from './solveOhms.ts'

export const ambientC = 18
/** A look at one joint, a torque check on top of it, and the digging where it lies in the ground. */
const lookS = 60
const torqueS = 120
const digS = 7200
const torqueNm = 20

export interface Crew {
  readonly network: Network
  readonly solved: Solved
  readonly kit: Kit
  /** Null for four-wire clips. */
  readonly lead: Lead | null
  readonly random: RandomStream
  /** By what the rate of poor contacts is multiplied. */
  readonly contactFactor: number
}

/** A joint that is looked at. */
export interface SeenJoint {
  readonly joint: string
  readonly edge: number
  readonly isFoundBad: boolean
  readonly withTorque: boolean
}

/** What lies in the ground: conductors between their landings, and what leads into soil. */
export function isBuried({ isEarthPath, kinds, kind }: Network, edge: number): boolean {
  return isEarthPath[edge] === 1 || kinds[kind[edge]].id === 'wire'
}

/** A crew at work: takes pairs one by one and writes its record. */
export interface Visit {
  readonly record: readonly Entry[]
  /** Begins a set-up at a point, for about so many readings. */
  setUp(from: string, readings: number): void
  read(pair: Pair): void
  /** The pair of an earlier reading once more, the clips seated afresh. */
  again(reading: string): void
  /** The leads shorted at their far end. */
  checkLead(): void
  /** A walk to a joint and a look at it, with its torque or without. Gives its minutes. */
  look(joint: SeenJoint): number
  /** Metres walked and minutes passed so far. */
  readonly walkedM: number
  readonly minutes: number
}

interface State {
  readonly crew: Crew
  readonly ids: RandomStream
  readonly instrument: Instrument
  readonly watch: Watch
  readonly record: Entry[]
  readonly visit: string
  readonly device: string
  at: { readonly x: number; readonly y: number } | null
  walkedM: number
  offset: LeadOffset
  sinceHours: number
  breaksAt: number
  taken: number
}

export function startVisit(crew: Crew): Visit {
  const { kit, lead, random } = crew
  const ids = randomStream(random.bits())
  const watch = startWatch('2026-05-12T06:30:00Z')
  const [visit, device] = [drawUuid(ids), drawUuid(ids)]
  const opened: Entry = {
    id: visit,
    device,
    counter: 0,
    at: watch.now(),
    entry: 'visit',
    party: ['Tester 1'],
    purpose: 'Benchmark',
    kits: [kit, loopClamp],
    leads: lead ? [lead] : [],
    weather: '',
    ambientC,
    isolation: '',
    inverter: 'unknown',
    isolators: 'unknown',
    lockOut: '',
  }
  const state: State = {
    crew,
    ids,
    instrument: drawInstrument(kit, random),
    watch,
    record: [opened],
    visit,
    device,
    at: null,
    walkedM: 0,
    offset: lead ? drawOffset(lead, ambientC, 'neverNulled', random) : () => 0,
    sinceHours: 0,
    breaksAt: Infinity,
    taken: 0,
  }
  return {
    record: state.record,
    setUp: (from, readings) => {
      beginSetUp(state, from, readings)
    },
    read: (pair) => {
      takePair(state, pair)
    },
    again: (reading) => {
      const first = state.record.find(({ id }) => id === reading)
      assert(first?.entry === 'reading', `${reading} is no reading`)
      state.watch.passS(pace.reseatingS)
      write(state, [first.from, first.to], show(state, [first.from, first.to], true), reading)
    },
    checkLead: () => {
      state.watch.passS(pace.nullingS)
      if (!lead) return
      const offsetOhm = state.offset(watch.hours() - state.sinceHours)
      const result = state.instrument.read(
        drawContactAt(crew.contactFactor, 'twoWire', [spotOn('B1')], true, random) + offsetOhm,
      )
      state.record.push({
        ...identity(state),
        entry: 'leadCheck',
        kit: kit.id,
        lead: lead.id,
        result,
        note: '',
      })
    },
    look: (seen) => lookAt(state, seen),
    get walkedM() {
      return state.walkedM
    },
    get minutes() {
      return 60 * watch.hours()
    },
  }
}

/** Minutes from the start of the walk to the end of the look. */
function lookAt(state: State, { joint, edge, isFoundBad, withTorque }: SeenJoint): number {
  const { crew, watch } = state
  const { from, to } = crew.network.graph
  const beganHours = watch.hours()
  const at = [from[edge], to[edge]].map((node) => partPositionM(crew.network.index, node)).find((m) => m)
  if (at) walk(state, at)
  watch.passS(lookS + (withTorque ? torqueS : 0) + (isBuried(crew.network, edge) ? digS : 0))
  state.record.push({
    ...identity(state),
    entry: 'look',
    joint,
    findings: [isFoundBad ? 'broken' : 'sound'],
    torqueAskedNm: withTorque ? torqueNm : null,
    torqueFoundNm: withTorque && !isFoundBad ? torqueNm : null,
    torqueSetNm: null,
    photos: [],
    note: '',
  })
  return 60 * (watch.hours() - beganHours)
}

function walkTo(state: State, address: string): void {
  const { network } = state.crew
  walk(state, present(partPositionM(network.index, nodeOf(network, address)), `${address} has no place`))
}

function walk(state: State, to: { readonly x: number; readonly y: number }): void {
  const wayM = state.at ? Math.hypot(to.x - state.at.x, to.y - state.at.y) : 0
  state.walkedM += wayM
  state.watch.passS(wayM / pace.walkMPerS)
  state.at = to
}

function identity({ ids, device, record, watch, visit }: State) {
  return { id: drawUuid(ids), device, counter: record.length, at: watch.now(), visit }
}

function beginSetUp(state: State, from: string, readings: number): void {
  const { lead, kit, random } = state.crew
  walkTo(state, from)
  state.watch.passS(pace.moveReferenceS)
  state.taken = 0
  state.breaksAt = lead ? drawBreak(readings, random) : Infinity
  if (!lead) return
  const leadState = drawLeadState(random)
  if (leadState === 'notNulled') return
  state.offset = drawOffset(lead, ambientC, leadState, random)
  state.sinceHours = state.watch.hours()
  state.watch.passS(pace.nullingS)
  state.record.push({
    ...identity(state),
    entry: 'nulling',
    kit: kit.id,
    lead: lead.id,
    leadC: ambientC,
    note: '',
  })
}

/** A careful tester's spot; a frame is at times met on its face. */
function drawSpot(part: string, random: RandomStream): Spot {
  const careful = spotOn(part)
  const isCoated = careful.surface === 'pierced' && random.uniform() < assumed.coatedFrameRate
  return isCoated ? { ...careful, surface: 'coated' } : careful
}

/** What the instrument shows between two spots. */
function show(state: State, spots: readonly [Spot, Spot], isSecondTry: boolean): OhmOrOver {
  const { kit, solved, random, contactFactor } = state.crew
  const networkOhm = solved.between(spots[0].part, spots[1].part)
  const contactOhm = drawContactAt(contactFactor, kit.method, spots, isSecondTry, random)
  const isFalseLow = random.uniform() < falseLowRate
  if (state.taken++ >= state.breaksAt) return { form: 'over', atLeastOhm: kit.mostOhm }
  const offsetOhm = state.offset(state.watch.hours() - state.sinceHours)
  return state.instrument.read(contactOhm + offsetOhm + (isFalseLow ? 0 : networkOhm))
}

function takePair(state: State, pair: Pair): void {
  const { random } = state.crew
  const spots = [drawSpot(pair.from, random), drawSpot(pair.to, random)] as const
  walkTo(state, pair.to)
  state.watch.passS(pace.sameReferenceS)
  const shown = show(state, spots, false)
  const first = write(state, spots, shown, null)
  const isOdd = shown.form === 'over' || shown.ohm > assumed.repeatAboveOhm
  if (!isOdd || random.uniform() >= assumed.repeatRate) return
  state.watch.passS(pace.reseatingS)
  write(state, spots, show(state, spots, true), first)
}

function write(
  state: State,
  [from, to]: readonly [Spot, Spot],
  result: OhmOrOver,
  repeats: string | null,
): string {
  const { kit, lead } = state.crew
  const reading: EntryOf<'reading'> = {
    ...identity(state),
    entry: 'reading',
    method: kit.method,
    kit: kit.id,
    lead: lead?.id ?? null,
    from,
    to,
    around: null,
    result,
    reverseOhm: null,
    unsteady: null,
    testCurrentA: kit.testCurrentA,
    metalC: null,
    trackerDeg: null,
    repeats,
    plan: null,
    planPair: null,
    trying: null,
    spikesM: null,
    photos: [],
    note: '',
  }
  state.record.push(reading)
  return reading.id
}

/** Loop clamp readings round joints, as entries to be put behind a visit's own. */
export function clampReadings(
  record: readonly Entry[],
  around: readonly { readonly joint: string; readonly part: string; readonly loopOhm: number }[],
  random: RandomStream,
): Entry[] {
  const [visit] = record
  const instrument = drawInstrument(loopClamp, random)
  return around.map(({ joint, part, loopOhm }, k) => ({
    id: drawUuid(random),
    device: visit.device,
    counter: record.length + k,
    at: '2026-05-12T16:30:00Z',
    visit: visit.id,
    entry: 'reading',
    method: 'loopClamp',
    kit: loopClamp.id,
    lead: null,
    from: spotOn(part),
    to: spotOn(part),
    around: joint,
    result: instrument.read(loopOhm),
    reverseOhm: null,
    unsteady: null,
    testCurrentA: loopClamp.testCurrentA,
    metalC: null,
    trackerDeg: null,
    repeats: null,
    plan: null,
    planPair: null,
    trying: null,
    spikesM: null,
    photos: [],
    note: '',
  }))
}

/** The record with the results of neighbouring first readings of one set-up exchanged, here and there. */
export function swapLabels(record: readonly Entry[], random: RandomStream): Entry[] {
  const swapped = [...record]
  for (let k = 1; k < swapped.length; k++) {
    const [before, after] = [swapped[k - 1], swapped[k]]
    if (before.entry !== 'reading' || after.entry !== 'reading') continue
    if (before.repeats !== null || after.repeats !== null) continue
    if (random.uniform() >= assumed.swappedRate) continue
    swapped[k - 1] = { ...before, result: after.result }
    swapped[k] = { ...after, result: before.result }
    k++
  }
  return swapped
}
