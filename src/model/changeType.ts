import { limits } from './limits.ts'
import type { LongMember, TableType } from './schema/tableType.ts'
import { moduleSides, railPlaces, splicesFor, tableHeightM } from './typeChoices.ts'
import { evenStations, quarterInsetM, railStockM, toMillimetre, tubeStockM } from './typeSpacing.ts'

/*
 * Changes of a type while it is drawn. Each keeps what its author has set where that still exists, and lets what
 * was only derived follow: a table made longer gets its posts and splices spaced anew, unless someone placed them.
 * What comes out never names a module row or station that the type has not.
 */

const sameNumbers = (a: readonly number[], b: readonly number[]) =>
  a.length === b.length && a.every((number, k) => number === b[k])

/** Rails under every module row alike: how many, and how far in from its edges; null where they are not alike. */
export function railSpacing(
  type: TableType,
): { readonly perRow: number; readonly insetM: number; readonly isQuarter: boolean } | null {
  const rails = railsOf(type)
  const perRow = rails.length / type.modules.high
  if (rails.length === 0 || !Number.isInteger(perRow)) return null
  const sideM = moduleSides(type.modules).upM
  const insetM = perRow === 1 ? toMillimetre(sideM / 2) : rails[0].upM
  const isAlike = railPlaces(type.modules, perRow, insetM).every(
    ({ row, upM }, k) => rails[k].upM === upM && sameNumbers(rails[k].carries, [row]),
  )
  return isAlike ? { perRow, insetM, isQuarter: insetM === quarterInsetM(sideM, perRow) } : null
}

/** Members that carry exactly one module row; a torque tube carries none, or all. */
function railsOf({ longMembers, mounting }: TableType): readonly LongMember[] {
  if (mounting === 'tracker' && longMembers.length === 1) return []
  return longMembers.filter(({ carries }) => carries.length === 1)
}

/**
 * Sets the rails under every module row alike; what else runs along the table stays. Modules rest on the tube of
 * a tracker where no rails are left, and on rails where some are put in.
 */
export function withRails(type: TableType, perRow: number, insetM: number | null): TableType {
  const old = railsOf(type)
  const first = old[0] ?? type.longMembers[0]
  const rails = railPlaces(type.modules, perRow, insetM).map(({ row, upM }, k): LongMember => {
    const { material, areaMm2, spliceAfter } = old[k] ?? first
    return { carries: [row], upM, material, areaMm2, spliceAfter }
  })
  const others = type.longMembers.filter((member) => !old.includes(member))
  if (rails.length === 0 && others.length === 0) return type
  if (type.mounting !== 'tracker' || others.length !== 1)
    return { ...type, longMembers: [...others, ...rails] }
  const carries = rails.length > 0 ? [] : Array.from({ length: type.modules.high }, (_, h) => h + 1)
  return { ...type, longMembers: [{ ...others[0], carries }, ...rails] }
}

/** Stations that cross members and posts share; null where they differ, or where there are neither. */
export function sharedStations({ crossMembers, posts }: TableType): readonly number[] | null {
  if (!crossMembers || !posts) return crossMembers?.stations ?? posts?.stations ?? null
  return sameNumbers(crossMembers.stations, posts.stations) ? posts.stations : null
}

/** Puts cross members and posts at the same stations. */
export function withSharedStations(type: TableType, stations: readonly number[]): TableType {
  return {
    ...type,
    crossMembers: type.crossMembers && { ...type.crossMembers, stations },
    posts: type.posts && { ...type.posts, stations },
  }
}

/** Splices that all rails share; null where they differ. Of a tracker's tube only where it is all there is. */
export function sharedSplices(type: TableType): readonly number[] | null {
  const [first, ...others] = splicedMembers(type)
  return others.every(({ spliceAfter }) => sameNumbers(spliceAfter, first.spliceAfter))
    ? first.spliceAfter
    : null
}

export function withSharedSplices(type: TableType, spliceAfter: readonly number[]): TableType {
  return changeMembers(type, splicedMembers(type), { spliceAfter })
}

/** Metal that all rails share; null where they differ. */
export function sharedMetal(type: TableType): Pick<LongMember, 'material' | 'areaMm2'> | null {
  const [first, ...others] = splicedMembers(type)
  const { material, areaMm2 } = first
  return others.every((member) => member.material === material && member.areaMm2 === areaMm2)
    ? { material, areaMm2 }
    : null
}

export function withSharedMetal(
  type: TableType,
  metal: Partial<Pick<LongMember, 'material' | 'areaMm2'>>,
): TableType {
  return changeMembers(type, splicedMembers(type), metal)
}

function splicedMembers(type: TableType): readonly LongMember[] {
  const rails = railsOf(type)
  return rails.length > 0 ? rails : type.longMembers
}

function changeMembers(
  type: TableType,
  chosen: readonly LongMember[],
  changes: Partial<LongMember>,
): TableType {
  const longMembers = type.longMembers.map((member) =>
    chosen.includes(member) ? { ...member, ...changes } : member,
  )
  return { ...type, longMembers }
}

/** Changes the modules: derived rails, stations and splices follow, placed ones stay where they still exist. */
export function withModules(old: TableType, changes: Partial<TableType['modules']>): TableType {
  const modules = { ...old.modules, ...changes }
  const spacing = railSpacing(old)
  const scaled = {
    ...old,
    modules,
    longMembers: old.longMembers.map((member) => moved(member, old, modules)),
  }
  const railed = spacing ? withRails(scaled, ...fittingRails(spacing, modules)) : scaled
  const last = modules.across + 1
  const keep = (stations: readonly number[]) => {
    const kept = stations.filter((station) => station <= last)
    const wasDerived = sameNumbers(stations, evenStations(old.modules.across, old.mounting))
    return wasDerived || kept.length === 0 ? evenStations(modules.across, old.mounting) : kept
  }
  const keepSplices = ({ carries, spliceAfter }: LongMember) => {
    const isTube = old.mounting === 'tracker' && (carries.length === 0 || old.longMembers.length === 1)
    const stockM = isTube ? tubeStockM : railStockM
    const wasDerived = sameNumbers(spliceAfter, splicesFor(old.modules, stockM))
    // None at all was perhaps wanted so, but a table made longer cannot go without.
    return wasDerived ? splicesFor(modules, stockM) : spliceAfter.filter((station) => station < last)
  }
  return {
    ...railed,
    longMembers: railed.longMembers.map((member) => ({
      ...member,
      carries: carriedRows(member.carries, old, modules.high),
      spliceAfter: keepSplices(member),
    })),
    crossMembers: railed.crossMembers && {
      ...railed.crossMembers,
      stations: keep(railed.crossMembers.stations),
    },
    posts: railed.posts && { ...railed.posts, stations: keep(railed.posts.stations) },
  }
}

/** A tube keeps to the middle of its table; other members stay where they were placed. */
function moved(member: LongMember, old: TableType, modules: TableType['modules']): LongMember {
  const middleM = toMillimetre(tableHeightM(old) / 2)
  const isTube = old.mounting === 'tracker' && member.upM === middleM
  return isTube ? { ...member, upM: toMillimetre(tableHeightM({ modules }) / 2) } : member
}

/** A member that carried every row goes on to: of one row only the tube, for the rails of a row are its own. */
function carriedRows(carries: readonly number[], old: TableType, high: number): readonly number[] {
  const isTube = old.mounting === 'tracker' && old.longMembers.length === 1
  const isAll = carries.length === old.modules.high && (carries.length > 1 || isTube)
  if (isAll) return Array.from({ length: high }, (_, h) => h + 1)
  return carries.filter((row) => row <= high)
}

/** Rails keep inside their modules when these become smaller, and within the members that a table may have. */
function fittingRails(
  { perRow, insetM, isQuarter }: { perRow: number; insetM: number; isQuarter: boolean },
  modules: TableType['modules'],
): [number, number | null] {
  const isInside = perRow === 1 || 2 * insetM < moduleSides(modules).upM
  const most = Math.floor(limits.longMembers / modules.high)
  return [Math.min(perRow, most), isQuarter || !isInside ? null : insetM]
}
