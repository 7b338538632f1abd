import { present } from '../../../../src/base/assert.ts'
import type { RandomStream } from '../../../../src/base/random.ts'
import type { Network } from '../../../../src/network/compile.ts'
import { metalLnSpread, soil, soundJoints } from '../../../generator/assumedValues.ts'
import { drawSoilFactor } from '../../../generator/drawTruth.ts'
import { assumed, defectRates } from './assumed.ts'
import type { PossibleNetwork } from './possibleNetwork.ts'

/** A joint that is bad, and by how much; Infinity for open. */
export interface Fault {
  readonly edge: number
  readonly addedOhm: number
}

/** Ohms of every edge where nothing is bad; Infinity for what was not built. */
export function drawSoundOhms(possible: PossibleNetwork, random: RandomStream): Float64Array {
  return drawSound(possible, random).ohm
}

/** As `drawSoundOhms`, with the factor of the catalogue's level for each kind. */
export function drawSound(
  { network, undrawn }: PossibleNetwork,
  random: RandomStream,
): { readonly ohm: Float64Array; readonly levels: readonly number[] } {
  const soilFactor = drawSoilFactor(random)
  const asBuiltRate = assumed.mostAsBuiltRate * random.uniform()
  const levels = network.kinds.map(() => Math.exp(assumed.kindLevelLnSd * random.normal()))
  const ohm = Float64Array.from({ length: network.edgeCount }, (_, e) => {
    const kind = network.kinds[network.kind[e]].id
    const z = random.normal()
    const otherMake =
      random.uniform() < asBuiltRate ? assumed.otherMakeFactor ** (2 * random.uniform() - 1) : 1
    if (network.isEarthPath[e] === 1) return network.medianOhm[e] * soilFactor * Math.exp(soil.lnSpread * z)
    if (kind in metalLnSpread) return network.medianOhm[e] * Math.exp(metalLnSpread[kind] * z)
    const { medianOhm, lnSpread } = present(soundJoints[kind], `no figures for the joint kind ${kind}`)
    return network.fixedOhm[e] + medianOhm * levels[network.kind[e]] * otherMake * Math.exp(lnSpread * z)
  })
  for (const e of undrawn) if (random.uniform() >= asBuiltRate) ohm[e] = Infinity
  return { ohm, levels }
}

/**
 * Chance that a joint is the one when a single bad joint is drawn; 0 for soil, solid metal and what is not drawn.
 * One half falls on all joints by their rates, the other by rates on those that a reading's current crosses.
 */
export function faultShares({ network, undrawn }: PossibleNetwork, crossed: Uint8Array): Float64Array {
  const rate = Float64Array.from(network.kind, (k, e) =>
    network.isEarthPath[e] === 1 ? 0 : (defectRates[network.kinds[k].id] ?? 0),
  )
  for (const e of undrawn) rate[e] = 0
  const all = rate.reduce((a, b) => a + b, 0)
  const onTheWay = rate.reduce((sum, r, e) => sum + (crossed[e] === 1 ? r : 0), 0)
  const share = onTheWay > 0 ? assumed.crossedShare : 0
  return rate.map(
    (r, e) => ((1 - share) * r) / all + (crossed[e] === 1 && share > 0 ? (share * r) / onTheWay : 0),
  )
}

/** The least that a joint gains when it is raised. */
export function leastAdded(network: Network, e: number): number {
  const { kind, kinds } = network
  const sound = soundJoints[kinds[kind[e]].id]
  return Math.max(assumed.leastAddedOhm, sound ? sound.medianOhm : network.medianOhm[e])
}

export function drawFaultCount(random: RandomStream): number {
  return random.uniform() < assumed.healthyShare ? 0 : 1 + random.integer(assumed.mostFaults)
}

/** Different joints, one after the other by their shares; each open or raised. */
export function drawFaults(
  network: Network,
  shares: Float64Array,
  count: number,
  random: RandomStream,
): Fault[] {
  const left = shares.slice()
  return Array.from({ length: count }, () => {
    const total = left.reduce((a, b) => a + b, 0)
    let at = random.uniform() * total
    let edge = left.findIndex((share) => (at -= share) < 0)
    if (edge < 0) edge = left.findLastIndex((share) => share > 0)
    left[edge] = 0
    const isOpen = random.uniform() < assumed.openShare
    return { edge, addedOhm: isOpen ? Infinity : drawAddedOhm(network, edge, random) }
  })
}

/** What a raised joint gains. */
export function drawAddedOhm(network: Network, edge: number, random: RandomStream): number {
  const from = leastAdded(network, edge)
  return from * (assumed.mostAddedOhm / from) ** random.uniform()
}
