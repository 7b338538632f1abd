import { jointAddressAt } from '../../../src/layout/jointIndex.ts'
import { indexSite } from '../../../src/layout/siteIndex.ts'
import { assert, present } from '../../../src/base/assert.ts'
import { writeJointAddress } from '../../../src/model/address.ts'
import type { EntryOf, Kit } from '../../../src/model/schema/record.ts'
import type { Site } from '../../../src/model/schema/site.ts'
import type { PreparedNetwork } from '../../../src/network/prepare.ts'
import { pairPotentials } from '../../../src/network/solve.ts'
import { contact } from '../../generator/assumedValues.ts'
import { drawnNetwork } from '../../generator/drawnNetwork.ts'
import { preparedOf } from '../../generator/locateIn.ts'
import { nodeOf } from './generator/solveOhms.ts'

/** A two-point reading as typed, with what the drawn network makes of its pair. */
export interface TypedReading {
  readonly entry: EntryOf<'reading'>
  readonly kit: Kit
  readonly a: number
  readonly b: number
  /** Shown ohms; Infinity for over range. */
  readonly shownOhm: number
  /** Of the drawn network at its medians. */
  readonly networkOhm: number
  /** Squared current in every edge per ampere through the pair. */
  readonly squared: Float64Array
  /** Standard deviation of instrument and sound clips together. */
  readonly ownSdOhm: number
  /** Number of its nulling interval; whether it began with a nulling. */
  readonly interval: number
  readonly isNulled: boolean
}

/** What a method may see of a site, worked out once for all of them. */
export interface TypedSite {
  readonly site: Site
  readonly prepared: PreparedNetwork
  /** Address of the joint of each edge, and back. */
  readonly address: readonly string[]
  readonly edgeOf: ReadonlyMap<string, number>
  readonly readings: readonly TypedReading[]
}

/** Mean and variance of what two sound clips add: log-normal. */
export const contactMeanOhm = contact.medianOhm * Math.exp(contact.lnSpread ** 2 / 2)
const contactVariance = contactMeanOhm ** 2 * (Math.exp(contact.lnSpread ** 2) - 1)

/** Instrument errors spread evenly within their bounds, a rounding, and for two-wire readings the clips. */
export function ownSdOhm(kit: Kit, networkOhm: number): number {
  const digits = (kit.digits * kit.resolutionOhm) ** 2 / 3
  const gain = Number.isFinite(networkOhm) ? (kit.gainError * networkOhm) ** 2 / 3 : 0
  const rounding = kit.resolutionOhm ** 2 / 12
  return Math.sqrt(digits + gain + rounding + (kit.method === 'twoWire' ? contactVariance : 0))
}

/** Squared current in every edge per ampere through a pair, and the ohms of the pair. */
export function currentsSquared({ network, conductanceS, solver }: PreparedNetwork, a: number, b: number) {
  const volts = new Float64Array(network.graph.nodeCount)
  const squared = new Float64Array(network.edgeCount)
  const { of } = network.electrical.islands
  if (of[a] !== of[b]) return { squared, networkOhm: Infinity }
  pairPotentials(solver.factor, a, b, volts)
  const { from, to } = network.graph
  for (let e = 0; e < squared.length; e++) {
    const i = conductanceS[e] * (volts[from[e]] - volts[to[e]])
    squared[e] = i * i < 1e-14 ? 0 : i * i
  }
  return { squared, networkOhm: volts[a] - volts[b] }
}

export function typedSite(site: Site): TypedSite {
  const prepared = preparedOf(site)
  const { network } = prepared
  const index = indexSite(drawnNetwork(site.drawing).index.drawing)
  assert(index.ok, 'the drawing has problems')
  const address = Array.from(network.jointOfEdge.subarray(0, network.edgeCount), (joint) =>
    writeJointAddress(jointAddressAt(index.value, joint)),
  )
  const kits = new Map(
    site.record.flatMap((e) => (e.entry === 'visit' ? e.kits : [])).map((kit) => [kit.id, kit]),
  )
  let interval = 0
  let isNulled = false
  const readings: TypedReading[] = []
  for (const entry of site.record) {
    if (entry.entry === 'nulling') {
      interval++
      isNulled = true
    }
    if (entry.entry !== 'reading' || entry.method === 'loopClamp') continue
    const kit = present(kits.get(entry.kit), 'a reading has a kit')
    const [a, b] = [nodeOf(network, entry.from.part), nodeOf(network, entry.to.part)]
    const { squared, networkOhm } = currentsSquared(prepared, a, b)
    readings.push({
      entry,
      kit,
      a,
      b,
      shownOhm: entry.result.form === 'over' ? Infinity : entry.result.ohm,
      networkOhm,
      squared,
      ownSdOhm: ownSdOhm(kit, networkOhm),
      interval,
      isNulled,
    })
  }
  return { site, prepared, address, edgeOf: new Map(address.map((text, e) => [text, e])), readings }
}
