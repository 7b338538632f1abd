import type { PartAddress } from '../address.ts'
import type { Drawing } from '../schema/drawing.ts'
import type { Criterion } from '../schema/planning.ts'
import { byId } from './byId.ts'
import { earthBarAt } from './earthBarAt.ts'
import { findTable } from './tablePosition.ts'

/** The narrowest class of pairs first. */
const narrowestFirst: readonly Criterion['scope'][] = ['sameTable', 'neighbours', 'pathToEarthBar', 'anyPair']

/**
 * The criterion for a bonding reading between two parts: of the narrowest scope that the pair falls into; of
 * several of one scope the strictest, then the one that is listed first. A criterion for another quantity
 * applies only where someone chose to hold it against pairs, one without levels is passed over. Null where none is left, and
 * for a pair with remote earth.
 */
export function criterionFor(drawing: Drawing, from: PartAddress, to: PartAddress): Criterion | null {
  if (from.at === 'remoteEarth' || to.at === 'remoteEarth') return null
  const scopes = scopesOf(drawing, from, to)
  for (const scope of narrowestFirst) {
    if (!scopes.has(scope)) continue
    let strictest: Criterion | null = null
    for (const criterion of drawing.criteria) {
      if (!isForPairs(criterion) || criterion.scope !== scope) continue
      if (leastLevel(criterion) < (strictest ? leastLevel(strictest) : Infinity)) strictest = criterion
    }
    if (strictest) return strictest
  }
  return null
}

/** Whether pairs are held against it: a bonding criterion, or another one that someone chose to use so. */
export function isForPairs({ quantity, againstPairs }: Criterion): boolean {
  return quantity === 'bondingPath' || againstPairs
}

function leastLevel({ investigateAboveOhm, rejectAboveOhm }: Criterion): number {
  return Math.min(investigateAboveOhm ?? Infinity, rejectAboveOhm ?? Infinity)
}

function scopesOf(drawing: Drawing, from: PartAddress, to: PartAddress): ReadonlySet<Criterion['scope']> {
  const scopes = new Set<Criterion['scope']>(['anyPair'])
  if (earthBarAt(drawing, from) || earthBarAt(drawing, to)) scopes.add('pathToEarthBar')
  if (from.at !== 'table' || to.at !== 'table' || from.row !== to.row) return scopes
  if (from.table === to.table) return scopes.add('sameTable').add('neighbours')
  const row = byId(drawing.rows).get(from.row)
  const one = row && findTable(row, from.table)
  const other = row && findTable(row, to.table)
  if (one && other && Math.abs(one.position - other.position) === 1) scopes.add('neighbours')
  return scopes
}
