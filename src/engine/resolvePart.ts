import { fail, ok, type Result } from '../base/result.ts'
import { partIndexOf } from '../layout/partIndex.ts'
import type { SiteIndex } from '../layout/siteIndex.ts'
import { parsePartAddress } from '../model/address.ts'
import { problem, type Problem } from '../model/problem.ts'
import { nearestKnown } from './nearestKnown.ts'

/** A pair of parts by their numbers. */
export interface Pair {
  readonly a: number
  readonly b: number
}

/** Two addresses as someone typed them; every problem with either is told, not only the first. */
export function resolvePair(index: SiteIndex, from: string, to: string): Result<Pair, readonly Problem[]> {
  const first = resolvePart(index, from)
  const second = resolvePart(index, to)
  if (!first.ok || !second.ok) return fail([first, second].flatMap((end) => (end.ok ? [] : [end.error])))
  if (first.value === second.value)
    return fail([problem('reference.samePart', { text: from }, { address: from })])
  return ok({ a: first.value, b: second.value })
}

/** The number of a part, or a problem that names the nearest part there is. */
export function resolvePart(index: SiteIndex, text: string): Result<number, Problem> {
  const address = parsePartAddress(text.trim())
  if (!address) return fail(problem('reference.badAddress', { text, expected: 'part' }))
  const part = partIndexOf(index, address)
  if (part >= 0) return ok(part)
  return fail(problem('reference.noSuchPart', { text, nearest: nearestKnown(index.drawing, address) }))
}
