import { logSumExp } from '../base/logSum.ts'
import { jointAddressAt } from '../layout/jointIndex.ts'
import type { Network } from '../network/compile.ts'
import type { Choice } from './choices.ts'
import type { Candidates } from './levelModel.ts'

/**
 * One common cause of bad joints: all candidates, those of one kind, or those of one row are bad so many times as often
 * as the catalogue has it.
 */
export interface Batch {
  /** ln of its own prior, and of how much likelier none of the candidates is bad than by the catalogue. */
  readonly logWeight: number
  readonly lnFactor: number
  /** Per candidate the number that `of` is held against; null where all candidates are meant. */
  readonly scope: Int32Array | null
  readonly of: number
}

export interface Batches {
  readonly all: readonly Batch[]
  /** ln odds of each candidate to be bad, by the catalogue and what was found by looking, in ways that can be seen. */
  readonly logOdds: Float64Array
  /**
   * [k]: ln of how much likelier k bad joints are than by the catalogue alone, wherever on the site they are; from its
   * end on every further joint adds the same.
   */
  readonly crowding: Float64Array
}

/**
 * How far a site's rate of defects may lie from the catalogue's, and what shares a common cause. Judgement: catalogue
 * rates are those of work well done; a site on the coast after ten years has five to ten times as many.
 */
const siteShare = 0.85
const siteFactors = [
  { factor: 1 / 3, share: 0.4 },
  { factor: 1, share: 0.35 },
  { factor: 3, share: 0.15 },
  { factor: 10, share: 0.07 },
  { factor: 30, share: 0.025 },
  { factor: 100, share: 0.005 },
]
const kindShare = 0.1
const kindFactors = [10, 100]
const rowShare = 0.05
const rowFactors = [100]

/** Odds that no common cause goes beyond. */
const mostLogOdds = 0
const crowdingUpTo = 64

/** The number of a joint that is in no row. */
const outside = -1

function rowOf({ index, jointOfEdge }: Network, edge: number): number {
  const address = jointAddressAt(index, jointOfEdge[edge])
  return address.at === 'table' || address.at === 'row' ? address.row : outside
}

/** By how much a cause changes the odds of candidate k to be bad. */
export function factorAt({ all, logOdds }: Batches, b: number, k: number): number {
  const { scope, of, lnFactor } = all[b]
  if (scope !== null && scope[k] !== of) return 1
  return Math.exp(Math.min(lnFactor, Math.max(0, mostLogOdds - logOdds[k])))
}

/** ln Π 1/(1 + odds) over the candidates of one scope, against the catalogue's own. */
function logNoneBad(logOdds: Float64Array, scope: Int32Array | null, lnFactor: number): Map<number, number> {
  const sums = new Map<number, number>()
  logOdds.forEach((odds, k) => {
    const of = scope === null ? 0 : scope[k]
    const raised = Math.min(odds + lnFactor, Math.max(odds, mostLogOdds))
    const change = Math.log1p(Math.exp(odds)) - Math.log1p(Math.exp(raised))
    sums.set(of, (sums.get(of) ?? 0) + change)
  })
  return sums
}

/** The catalogue's rates alone: every joint for itself. */
export function noBatches(choices: readonly (readonly Choice[])[]): Batches {
  const logOdds = logOddsOf(choices)
  return {
    all: [{ logWeight: 0, lnFactor: 0, scope: null, of: 0 }],
    logOdds,
    crowding: new Float64Array(crowdingUpTo + 1),
  }
}

function logOddsOf(choices: readonly (readonly Choice[])[]): Float64Array {
  return Float64Array.from(choices, (severities) =>
    logSumExp(severities.map(({ logPrior, badShare }) => logPrior + Math.log(badShare))),
  )
}

/**
 * The common causes that a site may have, with their priors. Given the cause joints are bad independently of each
 * other; summed over the causes, one bad joint makes the next likelier (an exchangeable prior; Diaconis and Freedman
 * 1980). O(candidates × causes).
 */
export function batchesOf(
  network: Network,
  { edge }: Candidates,
  choices: readonly (readonly Choice[])[],
): Batches {
  const logOdds = logOddsOf(choices)
  const kind = Int32Array.from(edge, (e) => network.kind[e])
  const row = Int32Array.from(edge, (e) => rowOf(network, e))
  const all: Batch[] = []
  for (const { factor, share } of siteFactors) {
    const lnFactor = Math.log(factor)
    const none = logNoneBad(logOdds, null, lnFactor).get(0) ?? 0
    all.push({ logWeight: Math.log(siteShare * share) + none, lnFactor, scope: null, of: 0 })
  }
  const site = all.slice()
  const addScoped = (scope: Int32Array, share: number, factors: readonly number[]) => {
    const count = new Set(scope).size
    if (count === 0) return
    for (const factor of factors) {
      const lnFactor = Math.log(factor)
      const own = Math.log(share / factors.length / count)
      for (const [of, none] of logNoneBad(logOdds, scope, lnFactor)) {
        if (of !== outside) all.push({ logWeight: own + none, lnFactor, scope, of })
      }
    }
  }
  addScoped(kind, kindShare, kindFactors)
  addScoped(row, rowShare, rowFactors)
  return { all, logOdds, crowding: crowdingOf(site) }
}

function crowdingOf(site: readonly Batch[]): Float64Array {
  const logAt = (k: number) => logSumExp(site.map(({ logWeight, lnFactor }) => logWeight + k * lnFactor))
  const none = logAt(0)
  return Float64Array.from({ length: crowdingUpTo + 1 }, (_, k) => logAt(k) - none)
}

/** ln of how much likelier so many bad joints are than by the catalogue alone. */
export function crowdingAt({ crowding }: Batches, count: number): number {
  const last = crowding.length - 1
  if (count <= last) return crowding[count]
  return crowding[last] + (count - last) * (crowding[last] - crowding[last - 1])
}
