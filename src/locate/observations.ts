import type { ReadingAnswer } from '../model/answers.ts'
import { parseJointAddress, parsePartAddress } from '../model/address.ts'
import { changesJoint } from '../model/record/changesJoint.ts'
import { effectiveRecord } from '../model/record/effectiveRecord.ts'
import type { Entry, EntryOf, Kit } from '../model/schema/record.ts'
import type { Site } from '../model/schema/site.ts'
import { jointIndexOf } from '../layout/jointIndex.ts'
import { partIndexOf } from '../layout/partIndex.ts'
import type { Network } from '../network/compile.ts'
import type { PreparedNetwork } from '../network/prepare.ts'
import { pairPotentials } from '../network/solve.ts'
import { assumptions } from '../reading/assumptions.ts'
import { falseLowRate, isLowCurrent, poorAtLowCurrent, poorContactRate } from '../reading/contact.ts'
import { digitsSdOhm } from '../reading/kitError.ts'
import { bookIntervals, kitOf, type IntervalBook } from '../reading/nulling.ts'
import { shownOhm, type Shown } from '../reading/shownOhm.ts'

type Reading = EntryOf<'reading'>

/** A repaired joint that carried less than this share of a reading's current did not spoil it. */
const leastShareForRepair = 0.05

/** A reading or lead check in the form the inference works on. */
export interface Observation extends Shown {
  readonly entry: string
  readonly method: Reading['method'] | 'leadCheck'
  /**
   * Nodes of the two ends; equal for a lead check, which has no network between its clips. Of an electrode test the
   * second is remote earth, of a loop clamp the two are the ends of the joint in its jaws.
   */
  readonly a: number
  readonly b: number
  /** The edge in the jaws of a loop clamp; −1 for every other reading. */
  readonly around: number
  readonly kit: Kit
  /** For over range: the reading is at least this. */
  readonly atLeastOhm: number
  /** Nulling interval, or −1 where the lead drops out. */
  readonly interval: number
  /** Hours since nulling, counted no further than the lead's ohms drift with them. */
  readonly hoursAfterNulling: number
  /** Two clips in series with what is measured. */
  readonly hasContact: boolean
  readonly poorRate: number
  /** Chance that it is too low. */
  readonly falseLowRate: number
  /** Taken with less current than the method asks for: films add to it. */
  readonly lowCurrent: boolean
  /** When it was taken, for repairs; milliseconds of the epoch. */
  readonly atMs: number
}

export interface Observed {
  readonly observations: readonly Observation[]
  readonly intervals: IntervalBook['intervals']
  /** Every reading of the record in canonical order, with the reason where it is not counted. */
  readonly readings: readonly { readonly reading: Reading; readonly setAside: ReadingAnswer['setAside'] }[]
  /** Repairs that may have changed a joint: edge and time. */
  readonly repairs: readonly { readonly edge: number; readonly atMs: number }[]
}

/** A reading of what lies between two parts, with clips on both: no clamp, no electrode test, no lead check. */
export function isBetweenParts({ method }: Observation): boolean {
  return method === 'twoWire' || method === 'fourWire'
}

/** Node of an address text, or −1 when there is no such part. */
function nodeOf(network: Network, text: string): number {
  const address = parsePartAddress(text)
  return address ? partIndexOf(network.index, address) : -1
}

/** Edge of a joint's address text, or −1 when there is no such joint. */
function edgeOf(network: Network, text: string): number {
  const address = parseJointAddress(text)
  const joint = address ? jointIndexOf(network.index, address) : -1
  return joint >= 0 ? network.edgeOfJoint[joint] : -1
}

type Ends = Pick<Observation, 'a' | 'b' | 'around'>

/** Where a reading was taken; −1 for what the network does not have. */
function endsOf({ method, from, to, around }: Reading, network: Network): Ends {
  if (method !== 'loopClamp')
    return { a: nodeOf(network, from.part), b: nodeOf(network, to.part), around: -1 }
  const edge = around === null ? -1 : edgeOf(network, around)
  const { graph } = network
  return edge < 0 ? { a: -1, b: -1, around: -1 } : { a: graph.from[edge], b: graph.to[edge], around: edge }
}

function reasonToSetAside(
  { method, around }: Reading,
  withdrawn: boolean,
  kit: Kit | undefined,
  { a, b }: Ends,
  { electrical }: Network,
): ReadingAnswer['setAside'] {
  if (withdrawn) return 'withdrawn'
  if (!kit) return 'unknownKit'
  if (method === 'loopClamp' && around === null) return 'loopClamp'
  if (a < 0 || b < 0) return 'noSuchPart'
  if (a === b) return 'samePart'
  // what has no earth path as drawn has nothing to be held against
  if (method === 'earthElectrode' && electrical.islands.of[a] !== electrical.islands.of[b])
    return 'electrodeTest'
  const isBond = method === 'twoWire' || method === 'fourWire'
  if (isBond && kit.testCurrentA < assumptions.leastTestCurrentA) return 'kitNotFit'
  return null
}

function driftHours(nulledAt: string, atMs: number): number {
  const hours = (atMs - Date.parse(nulledAt)) / 3_600_000
  return Math.min(Math.max(0, hours), assumptions.lead.mostDriftHours)
}

/**
 * Goes through the record in canonical order and turns what can be counted into observations: two-wire and four-wire
 * readings between two parts, loop clamps round a joint, electrode tests, and checks of the leads. The rest is kept
 * with its reason.
 */
export function observe(site: Site, network: Network): Observed {
  const record = effectiveRecord(site.record)
  const live: Entry[] = record.filter((item) => !item.withdrawnBy).map((item) => item.entry)
  const book = bookIntervals(live, site.drawing.facts.ambientC)
  const visits = new Map<string, EntryOf<'visit'>>()
  for (const entry of live) if (entry.entry === 'visit') visits.set(entry.id, entry)

  const observations: Observation[] = []
  const readings: { reading: Reading; setAside: ReadingAnswer['setAside'] }[] = []
  const repairs: { edge: number; atMs: number }[] = []
  const base = (entry: EntryOf<'reading'> | EntryOf<'leadCheck'>, kit: Kit) => {
    const interval = book.intervalOf(entry.id)
    const atMs = Date.parse(entry.at)
    return {
      entry: entry.id,
      kit,
      atLeastOhm: entry.result.form === 'over' ? entry.result.atLeastOhm : 0,
      interval,
      hoursAfterNulling: interval < 0 ? 0 : driftHours(book.intervals[interval].startedAt, atMs),
      atMs,
    }
  }
  for (const { entry, withdrawnBy } of record) {
    const withdrawn = withdrawnBy !== null
    if (entry.entry === 'reading') {
      const kit = kitOf(visits.get(entry.visit), entry.kit)
      const ends = endsOf(entry, network)
      const setAside = reasonToSetAside(entry, withdrawn, kit, ends, network)
      readings.push({ reading: entry, setAside })
      if (setAside !== null || !kit) continue
      const lowCurrent = isLowCurrent(entry, kit)
      const poorRate = poorContactRate(entry)
      observations.push({
        ...base(entry, kit),
        ...ends,
        ...shownOhm(entry, kit),
        method: entry.method,
        hasContact: entry.method === 'twoWire',
        poorRate: lowCurrent ? poorAtLowCurrent(poorRate) : poorRate,
        falseLowRate: falseLowRate(entry),
        lowCurrent,
      })
    } else if (entry.entry === 'leadCheck' && !withdrawn) {
      const kit = kitOf(visits.get(entry.visit), entry.kit)
      if (!kit || entry.result.form !== 'ohm') continue
      observations.push({
        ...base(entry, kit),
        method: 'leadCheck',
        a: 0,
        b: 0,
        around: -1,
        ohm: entry.result.ohm,
        digitsSdOhm: digitsSdOhm(kit),
        extraSdOhm: 0,
        hasContact: false,
        poorRate: 0,
        falseLowRate: assumptions.falseLow,
        lowCurrent: false,
      })
    } else if (entry.entry === 'repair' && !withdrawn && changesJoint(entry)) {
      const edge = edgeOf(network, entry.joint)
      if (edge >= 0) repairs.push({ edge, atMs: Date.parse(entry.at) })
    }
  }
  return { observations, intervals: book.intervals, readings, repairs }
}

/**
 * Leaves out the readings that a repaired joint may have spoiled: taken before the repair, with some of
 * their current through the joint. What they said was about an array that no longer exists.
 */
export function countedObservations(
  observed: Observed,
  prepared: PreparedNetwork,
): { readonly observations: readonly Observation[]; readonly beforeRepair: ReadonlySet<string> } {
  const beforeRepair = new Set<string>()
  const { network, conductanceS, slack, solver } = prepared
  const { from, to } = network.graph
  for (const { edge, atMs } of observed.repairs) {
    const island = network.electrical.islands.of[from[edge]]
    const potentialV = pairPotentials(
      solver.factor,
      from[edge],
      to[edge],
      new Float64Array(network.graph.nodeCount),
    )
    for (const o of observed.observations) {
      if (o.a === o.b || o.atMs >= atMs || network.electrical.islands.of[o.a] !== island) continue
      // by reciprocity: the share of the pair's current in the joint is g (x_a - x_b) with 1 A across the joint
      const ampere = Math.abs(conductanceS[edge] * (potentialV[o.a] - potentialV[o.b]))
      // of the ampere that a clamp drives round a loop, all goes through the joint in its jaws
      const loop = o.around < 0 ? 1 : slack[o.around]
      const share = o.around === edge ? 1 : ampere === 0 ? 0 : ampere / loop
      if (share > leastShareForRepair) beforeRepair.add(o.entry)
    }
  }
  return { observations: observed.observations.filter((o) => !beforeRepair.has(o.entry)), beforeRepair }
}
