import { showersOf, type CoverSets } from './coverSets.ts'
import { greedyCover, withoutSpare } from './greedyCover.ts'
import { provedBound } from './provedBound.ts'

/** Prices of joints and the bound that they prove, with the fewest candidates met on the way. */
export interface Relaxed {
  readonly price: Float64Array
  /** The relaxed value at these prices, with its rounding. */
  readonly value: number
  readonly bound: number
  readonly chosen: readonly number[]
}

/** Steps of the ascent; from here on its gains are below what a whole number can use. */
const ascentSteps = 400
/** Entries that all steps together may look at: about 2 s. */
const mostWork = 4e8

/**
 * Bound on the number of candidates by Lagrangian relaxation of the demands, prices found by subgradient ascent (Held,
 * Wolfe and Crowder 1974; for covering: Beasley 1990, Caprara, Fischetti and Toth 1999), choices by a greedy that counts
 * what a candidate costs above the prices of what it shows. `chosen`: a choice that meets all demands. Stops where
 * bound and choice meet.
 */
export function* relaxed(sets: CoverSets, chosen: readonly number[]): Generator<number, Relaxed> {
  const { joints, demand, joint } = sets
  const showers = showersOf(sets)
  const price = new Float64Array(joints)
  for (let e = 0; e < joints; e++) price[e] = startPrice(sets, showers, e)
  const best = { price: price.slice(), value: -Infinity, bound: 0, chosen }
  const slope = new Float64Array(joints)
  let pace = 1
  let idle = 0
  const steps = Math.min(ascentSteps, Math.floor(mostWork / (2 * joint.length + 1)))
  for (let step = 0; step < steps; step++) {
    const value = slopeAt(sets, price, slope)
    if (value > best.value + 1e-9) {
      if (value > best.value + 1e-3) idle = 0
      best.value = value
      best.price.set(price)
      if (Math.ceil(value - 1e-6) > best.bound) best.bound = Math.max(best.bound, provedBound(sets, price))
    }
    if (++idle > 15) {
      pace /= 2
      idle = 0
      price.set(best.price)
    }
    if (step % 20 === 10) {
      const tried = pricedCover(sets, price)
      if (tried.length < best.chosen.length) best.chosen = tried
    }
    if (best.bound >= best.chosen.length || pace < 1e-3) break
    let square = 0
    for (let e = 0; e < joints; e++) {
      if (slope[e] < 0 && price[e] === 0) slope[e] = 0
      square += slope[e] * slope[e]
    }
    if (square === 0) break
    const far = (pace * (best.chosen.length + 0.05 - value)) / square
    for (let e = 0; e < joints; e++)
      price[e] = Math.min(demand[e] + 1, Math.max(0, price[e] + far * slope[e]))
    yield step / steps
  }
  return best
}

function startPrice({ offset }: CoverSets, showers: ReturnType<typeof showersOf>, e: number): number {
  let least = Infinity
  for (let i = showers.offset[e]; i < showers.offset[e + 1]; i++) {
    const c = showers.candidate[i]
    least = Math.min(least, 1 / (offset[c + 1] - offset[c]))
  }
  return least
}

/** The relaxed value at these prices; fills in how it changes with each. */
function slopeAt(
  { joints, candidates, offset, joint, demand }: CoverSets,
  price: Float64Array,
  slope: Float64Array,
) {
  let value = 0
  for (let e = 0; e < joints; e++) {
    slope[e] = demand[e]
    value += demand[e] * price[e]
  }
  for (let c = 0; c < candidates; c++) {
    let rest = 1
    for (let i = offset[c]; i < offset[c + 1]; i++) rest -= price[joint[i]]
    if (rest >= 0) continue
    value += rest
    for (let i = offset[c]; i < offset[c + 1]; i++) slope[joint[i]]--
  }
  return value
}

/** A choice led by prices: candidates that pay for themselves first, the rest by the greedy with priced gains. */
function pricedCover(sets: CoverSets, price: Float64Array): number[] {
  const weight = price.map((y) => y + 1e-6)
  const need = sets.demand.slice()
  return withoutSpare(sets, sets.demand, greedyCover(sets, need, { weight }))
}
