import { parsePartAddress, type PartAddress } from '../model/address.ts'
import type { JudgedReading } from '../model/answers.ts'
import { catalogueRowOf } from '../model/criteriaCatalogue.ts'
import { byId } from '../model/queries/byId.ts'
import { findTable } from '../model/queries/tablePosition.ts'
import { effectiveRecord } from '../model/record/effectiveRecord.ts'
import type { Drawing } from '../model/schema/drawing.ts'
import type { Criterion } from '../model/schema/planning.ts'
import type { Entry, EntryOf, Kit, OhmOrOver } from '../model/schema/record.ts'
import { partIndexOf } from '../layout/partIndex.ts'
import type { PreparedNetwork } from '../network/prepare.ts'
import { pairResistance } from '../network/pairResistance.ts'
import { earthBarAt } from './earthBarAt.ts'

/** A criterion held against a pair, its levels with the conductors added; all null where none applies. */
export type Levels = Omit<JudgedReading, 'entry' | 'verdict' | 'lowCurrent'>

const noLevels: Levels = {
  criterion: null,
  investigateOhm: null,
  rejectOhm: null,
  conductorOhm: 0,
  otherQuantity: false,
}

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

/**
 * The test current that a criterion asks and the lower one that was used, in amperes; null where enough was used, none is
 * asked, or the ohms lie outside the range in which it is asked. What was used is not known: taken as enough.
 */
export function lowCurrentOf(
  criterion: Criterion | null,
  usedA: number | null,
  result: OhmOrOver,
): JudgedReading['lowCurrent'] {
  const askedA = criterion?.testCurrentA ?? null
  if (!criterion || askedA === null || usedA === null || usedA >= askedA) return null
  const within = catalogueRowOf(criterion)?.currentAskedWithinOhm ?? null
  const ohm = result.form === 'ohm' ? result.ohm : result.atLeastOhm
  return within !== null && (ohm < within.from || ohm > within.to) ? null : { askedA, usedA }
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

/**
 * Levels for a pair of parts, given by their numbers:
 *
 *     level = criterion's own + R_p   where conductors are to be added, R_p the pair's median network
 *
 * Nothing is added to a pair that no metal joins: soil is no conductor of the path. O(columns on two paths).
 */
export function levelsFor(
  prepared: PreparedNetwork,
  criterion: Criterion | null,
  a: number,
  b: number,
): Levels {
  if (!criterion) return noLevels
  const { metal } = prepared.network
  const isJoined = metal.islands.of[a] === metal.islands.of[b]
  const conductorOhm = criterion.addConductor && isJoined ? pairResistance(prepared.solver.factor, a, b) : 0
  const added = (ohm: number | null) => (ohm === null ? null : ohm + conductorOhm)
  return {
    criterion: criterion.id,
    investigateOhm: added(criterion.investigateAboveOhm),
    rejectOhm: added(criterion.rejectAboveOhm),
    conductorOhm,
    otherQuantity: criterion.quantity !== 'bondingPath',
  }
}

/**
 * One reading against the criterion of its pair. Only two-wire and four-wire readings between two parts of the
 * drawing are bonding readings; a loop clamp's or an electrode test's ohms are another quantity. A level is exceeded by
 * more ohms than it has, and by over range. `kit` is the instrument that the reading names, whose current counts where the
 * reading has none of its own.
 */
export function judgeReading(
  prepared: PreparedNetwork,
  reading: EntryOf<'reading'>,
  kit: Kit | null = null,
): JudgedReading {
  const { index } = prepared.network
  const none: JudgedReading = { entry: reading.id, ...noLevels, lowCurrent: null, verdict: 'none' }
  if (reading.method !== 'twoWire' && reading.method !== 'fourWire') return none
  const from = parsePartAddress(reading.from.part)
  const to = parsePartAddress(reading.to.part)
  if (!from || !to) return none
  const a = partIndexOf(index, from)
  const b = partIndexOf(index, to)
  if (a < 0 || b < 0 || a === b) return none
  const criterion = criterionFor(index.drawing, from, to)
  const levels = levelsFor(prepared, criterion, a, b)
  if (levels.criterion === null) return none
  const { result } = reading
  const exceeds = (level: number | null) => level !== null && (result.form === 'over' || result.ohm > level)
  const verdict = exceeds(levels.rejectOhm)
    ? 'reject'
    : exceeds(levels.investigateOhm)
      ? 'investigate'
      : 'within'
  const lowCurrent = lowCurrentOf(criterion, reading.testCurrentA ?? kit?.testCurrentA ?? null, result)
  return { entry: reading.id, ...levels, lowCurrent, verdict }
}

/** Every reading of a record in canonical order, as corrected; one that is withdrawn is held against nothing. */
export function judgeReadings(prepared: PreparedNetwork, record: readonly Entry[]): readonly JudgedReading[] {
  const effective = effectiveRecord(record)
  const kits = new Map(
    effective.flatMap(({ entry }) => (entry.entry === 'visit' ? [[entry.id, entry.kits] as const] : [])),
  )
  return effective.flatMap(({ entry, withdrawnBy }): JudgedReading[] => {
    if (entry.entry !== 'reading') return []
    if (withdrawnBy) return [{ entry: entry.id, ...noLevels, lowCurrent: null, verdict: 'none' }]
    const kit = kits.get(entry.visit)?.find(({ id }) => id === entry.kit) ?? null
    return [judgeReading(prepared, entry, kit)]
  })
}
