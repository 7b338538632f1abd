import type { Belief } from '../belief.ts'
import type { TypedSite } from '../typedSite.ts'
import { judge, withCertainty, type JudgedReadings } from './passFail.ts'

/** A joint that carries half of a reading's current is taken to be shown by it. */
export const showsFrom = 0.25

/**
 * What halving has left: joints that all failed readings show and no passed one. A failed reading all of whose
 * joints are cleared by others is taken for a poor contact; where no joint is shown by all that remain, more than
 * one is bad, and the last of them is followed.
 */
export function halvingCandidates(
  { prepared, readings }: TypedSite,
  { fails }: Pick<JudgedReadings, 'fails'>,
): { readonly edges: readonly number[]; readonly followed: number | null } {
  const failed = new Set(fails)
  const { defectRate } = prepared.network
  const shows = (p: number, e: number) => readings[p].squared[e] >= showsFrom
  const free = [...defectRate.keys()].filter(
    (e) => defectRate[e] > 0 && readings.every((_, p) => failed.has(p) || !shows(p, e)),
  )
  const open = fails
    .map((p) => ({ p, edges: free.filter((e) => shows(p, e)) }))
    .filter(({ edges }) => edges.length > 0)
  const last = open.at(-1)
  if (!last) return { edges: [], followed: null }
  const shared = last.edges.filter((e) => open.every(({ p }) => shows(p, e)))
  return { edges: shared.length > 0 ? shared : last.edges, followed: last.p }
}

/** Half-splitting on readings that were taken already: the candidates it has left, each by its rate. */
export function halvedCandidates(typed: TypedSite): Belief {
  const { edges } = halvingCandidates(typed, judge(typed))
  if (edges.length === 0) return withCertainty(typed, 'nothing')
  const { defectRate } = typed.prepared.network
  return withCertainty(typed, new Map(edges.map((e) => [e, defectRate[e]])))
}
