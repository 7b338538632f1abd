import { solve } from 'yalps'
import type { CoverSets } from './coverSets.ts'
import { provedBound } from './provedBound.ts'

/** Prices of the relaxed choice, its value with their rounding, and the bound that they prove. */
export interface Priced {
  readonly price: Float64Array
  readonly value: number
  readonly bound: number
}

/** Where a dense tableau takes longer than a second or so. */
const mostJoints = 400
const mostRows = 1500
const mostRounds = 12
const mostWork = 1e9
/** By how much of itself the ascent's value falls short of the programme's, at most and as a rule. */
const ascentGap = 0.01

/**
 * Raises a bound by the linear programme of the relaxed choice, in its dual form: prices y ≥ 0 of joints with the largest
 * Σ demand·y − Σ u, the prices of what a candidate shows no more than 1 + u. Candidates whose price is broken
 * are added until none is (cutting planes; to the relaxed choice: column generation). The solver is trusted with nothing:
 * what it answers are prices, and `provedBound` says what those prove. Pieces that are too large keep their prices.
 */
export function* linearProgramme(
  sets: CoverSets,
  start: Priced,
  chosen: readonly number[],
): Generator<number, Priced> {
  let best = start
  if (sets.joints > mostJoints || best.bound >= chosen.length) return best
  if (Math.ceil(start.value * (1 + ascentGap)) <= best.bound) return best
  const rows = new Set(chosen)
  const tightFirst = ordered(sets, start.price, (sum) => sum > 0.999)
  for (const c of tightFirst.slice(0, 2 * sets.joints)) rows.add(c)
  for (let round = 0; round < mostRounds && rows.size <= mostRows; round++) {
    yield round / mostRounds
    const price = dualPrices(sets, rows)
    if (!price) return best
    const { value, most } = valueOf(sets, rows, price)
    for (const tried of [price, price.map((y) => y / Math.max(1, most))]) {
      const bound = provedBound(sets, tried)
      if (bound > best.bound) best = { price: tried, value, bound }
    }
    // With fewer candidates priced the value is above that of the whole programme.
    if (Math.ceil(value - 1e-7) <= best.bound) return best
    const broken = ordered(sets, price, (sum, c) => sum > 1 + 1e-7 && !rows.has(c))
    if (broken.length === 0) return best
    for (const c of broken.slice(0, Math.max(20, sets.joints))) rows.add(c)
  }
  return best
}

/** Candidates for which `isMeant` holds of the price of what they show, the dearest first. */
function ordered(
  { candidates, offset, joint }: CoverSets,
  price: ArrayLike<number>,
  isMeant: (sum: number, c: number) => boolean,
): number[] {
  const found: { readonly c: number; readonly sum: number }[] = []
  for (let c = 0; c < candidates; c++) {
    let sum = 0
    for (let i = offset[c]; i < offset[c + 1]; i++) sum += price[joint[i]]
    if (isMeant(sum, c)) found.push({ c, sum })
  }
  return found.sort((a, b) => b.sum - a.sum || a.c - b.c).map(({ c }) => c)
}

/** What the solver says of the programme over these candidates; null where it found no way through. */
function dualPrices(sets: CoverSets, rows: ReadonlySet<number>): Float64Array | null {
  const { joints, offset, joint, demand } = sets
  const columns: Map<string, number>[] = Array.from(demand, (d) => new Map([['value', d]]))
  const constraints = new Map<string, { max: number }>()
  const variables: [string, Map<string, number>][] = columns.map((column, e) => [`y${e}`, column])
  const isManifold = demand.some((d) => d > 1)
  for (const c of rows) {
    constraints.set(`c${c}`, { max: 1 })
    for (let i = offset[c]; i < offset[c + 1]; i++) columns[joint[i]].set(`c${c}`, 1)
    if (isManifold)
      variables.push([
        `u${c}`,
        new Map([
          ['value', -1],
          [`c${c}`, -1],
        ]),
      ])
  }
  const { status, variables: found } = solve(
    { direction: 'maximize', objective: 'value', constraints, variables },
    { maxPivots: Math.ceil(mostWork / (rows.size * variables.length)) },
  )
  if (status !== 'optimal') return null
  const price = new Float64Array(joints)
  for (const [name, value] of found) if (name.startsWith('y')) price[Number(name.slice(1))] = value
  return price
}

function valueOf(
  { offset, joint, demand, candidates }: CoverSets,
  rows: ReadonlySet<number>,
  price: Float64Array,
) {
  let value = 0
  let most = 0
  price.forEach((y, e) => (value += demand[e] * y))
  for (let c = 0; c < candidates; c++) {
    let sum = 0
    for (let i = offset[c]; i < offset[c + 1]; i++) sum += price[joint[i]]
    if (rows.has(c)) value -= Math.max(0, sum - 1)
    most = Math.max(most, sum)
  }
  return { value, most }
}
