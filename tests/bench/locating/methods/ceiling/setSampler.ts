import type { RandomStream } from '../../../../../src/base/random.ts'
import type { Fault } from '../../generator/drawOhms.ts'

/** A severity with its prior over the density by which it was proposed. */
export interface ProposedSeverity {
  readonly addedOhm: number
  readonly weight: number
}

/** A problem of none up to a few bad joints, by what can be computed of it. */
export interface SetProblem {
  /** Chance of no, one, two … bad joints. */
  readonly countPrior: readonly number[]
  /** Chance of each edge when a single bad joint is drawn; sets are drawn one after the other without replacement. */
  readonly shares: Float64Array
  /** Severities of one edge whose weights stand for its whole prior: their mean counts. */
  severitiesOf(edge: number, random: RandomStream): readonly ProposedSeverity[]
  /** Proportional to the chance of all readings; 1 for nothing bad is a good scale. */
  likelihood(faults: readonly Fault[]): number
  /** Adds a state's mass to what is asked for. */
  count(faults: readonly Fault[], mass: number): void
}

export interface SetEffort {
  /** Draws of sets of each size above one. */
  readonly setDraws: number
  /** Edges whose best single severity is followed up by a sweep over a second bad joint. */
  readonly followed: number
}

/** Masses of single faults, and for the heaviest the severity that carries most of it. */
interface Singles {
  readonly mass: Float64Array
  readonly best: readonly (ProposedSeverity | null)[]
}

function sweep(
  { shares, severitiesOf, likelihood }: SetProblem,
  first: readonly Fault[],
  random: RandomStream,
  use: (faults: readonly Fault[], mass: number) => void,
): Singles {
  const mass = new Float64Array(shares.length)
  const best: (ProposedSeverity | null)[] = []
  for (let e = 0; e < shares.length; e++) {
    best.push(null)
    if (shares[e] === 0 || first.some(({ edge }) => edge === e)) continue
    const severities = severitiesOf(e, random)
    let most = 0
    for (const severity of severities) {
      const faults = [...first, { edge: e, addedOhm: severity.addedOhm }]
      const each = (shares[e] * severity.weight * likelihood(faults)) / severities.length
      mass[e] += each
      use(faults, each)
      if (each > most) {
        most = each
        best[e] = severity
      }
    }
  }
  return { mass, best }
}

/** Part by what is likely, part by the prior, so that nothing is left out. */
function proposalFrom(mass: Float64Array, shares: Float64Array): Float64Array {
  const sum = mass.reduce((a, b) => a + b, 0)
  return shares.map((share, e) => (sum > 0 ? 0.4 * share + (0.6 * mass[e]) / sum : share))
}

function drawFrom(chance: Float64Array, random: RandomStream): number {
  let at = random.uniform() * chance.reduce((a, b) => a + b, 0)
  const found = chance.findIndex((p) => (at -= p) < 0)
  return found >= 0 ? found : chance.findLastIndex((p) => p > 0)
}

/** Where to look for a second bad joint; worked out once for arrays that are alike. */
export interface Guide {
  second: ReadonlyMap<number, Float64Array> | null
}

function followUp(
  problem: SetProblem,
  { mass, best }: Singles,
  { followed }: SetEffort,
  random: RandomStream,
): ReadonlyMap<number, Float64Array> {
  const second = new Map<number, Float64Array>()
  const order = [...mass.keys()].sort((a, b) => mass[b] - mass[a])
  for (const edge of order.slice(0, followed)) {
    const severity = best[edge]
    if (!severity) continue
    const pairs = sweep(problem, [{ edge, addedOhm: severity.addedOhm }], random, () => undefined)
    second.set(edge, proposalFrom(pairs.mass, problem.shares))
  }
  return second
}

/**
 * Masses of all states: none and one bad joint by going over all edges, more by importance sampling of ordered
 * sets. The first joint is proposed by the masses of single faults, flattened; the others by the masses of pairs
 * where the first was followed up. Every proposal keeps a part of the prior, so that weights stay bounded.
 */
export function addSetMasses(
  problem: SetProblem,
  effort: SetEffort,
  random: RandomStream,
  guide: Guide = { second: null },
): void {
  const { countPrior, shares, severitiesOf, likelihood, count } = problem
  count([], countPrior[0] * likelihood([]))
  const singles = sweep(problem, [], random, (faults, mass) => {
    count(faults, countPrior[1] * mass)
  })
  if (countPrior.length < 3) return
  guide.second ??= followUp(problem, singles, effort, random)
  const { second } = guide
  const first = proposalFrom(singles.mass.map(Math.sqrt), shares)
  const fallback = proposalFrom(singles.mass, shares)
  for (let size = 2; size < countPrior.length; size++) {
    for (let k = 0; k < effort.setDraws; k++) {
      const faults: Fault[] = []
      let weight = countPrior[size] / effort.setDraws
      let left = 1
      for (let n = 0; n < size; n++) {
        const chance = n === 0 ? first : (second.get(faults[0].edge) ?? fallback)
        const edge = drawFrom(chance, random)
        if (faults.some((fault) => fault.edge === edge)) {
          weight = 0
          break
        }
        const severities = severitiesOf(edge, random)
        const severity = severities[random.integer(severities.length)]
        weight *= ((shares[edge] / left) * severity.weight) / chance[edge]
        left -= shares[edge]
        faults.push({ edge, addedOhm: severity.addedOhm })
      }
      if (weight > 0) count(faults, weight * likelihood(faults))
    }
  }
}
