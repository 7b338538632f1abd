import { fits } from '../layout/findTokens.ts'
import type { Fit } from '../layout/findTokens.ts'

/** Something on the map that a search leads to. */
export type FoundPlace =
  | { readonly kind: 'row'; readonly row: number }
  | { readonly kind: 'table'; readonly row: number; readonly table: number }
  | { readonly kind: 'part'; readonly address: string }
  | { readonly kind: 'joint'; readonly address: string }
  | { readonly kind: 'reading'; readonly entry: string; readonly number: number }

/** What has been found of one sort: the best few, and how many there are. */
export interface Catch {
  readonly count: number
  readonly best: readonly { readonly fit: Fit; readonly place: FoundPlace }[]
}

export const nothing: Catch = { count: 0, best: [] }

/** What was typed, as it stands. */
export function sure(places: readonly FoundPlace[]): Catch {
  return { count: places.length, best: places.map((place) => ({ fit: fits.exact, place })) }
}

/** Of two ways to read the same words the one whose best fits better; the first where they are equal. */
export function better(one: Catch, other: Catch): Catch {
  const fitOfBest = ({ best }: Catch) => best[0]?.fit ?? fits.none
  return fitOfBest(other) < fitOfBest(one) ? other : one
}

export function byFit<T extends { readonly fit: Fit }>(found: readonly T[]): T[] {
  return [fits.exact, fits.same, fits.begins, fits.holds].flatMap((fit) =>
    found.filter((each) => each.fit === fit),
  )
}

/** One step less well. */
export function weaker(fit: Fit): Fit {
  return fit === fits.none ? fit : (Math.min(fit + 1, fits.holds) as Fit)
}
