import type { LongMember, TableType } from './schema/tableType.ts'
import { evenSplices, evenStations, quarterInsetM, railsUnderModule } from './typeSpacing.ts'
import { railStockM, toMillimetre, tubeStockM } from './typeSpacing.ts'

type Modules = TableType['modules']
type Metal = Pick<LongMember, 'material' | 'areaMm2'>

/** The few numbers from which a whole table type follows; null leaves it to the spacing of typeSpacing.ts. */
export interface TypeChoices {
  readonly mounting: TableType['mounting']
  readonly tiltDeg: number
  readonly modules: Modules
  readonly rails: Metal & {
    /** Rails under each module row. */
    readonly perRow: number
    /** From a module's edge to its outer rail; null for the quarter points. */
    readonly insetM: number | null
  }
  /** The torque tube of a tracker: in the middle, under the rails or, without them, under the modules. */
  readonly tube: Metal | null
  readonly spliceAfter: readonly number[] | null
  /** Of cross members and posts alike. */
  readonly stations: readonly number[] | null
  readonly bracketKind: string | null
  readonly posts: Omit<NonNullable<TableType['posts']>, 'stations'> | null
  readonly frameBond: TableType['frameBond']
}

/** A module's sides as they lie: along the table, and up it. */
export function moduleSides(modules: Modules): { readonly alongM: number; readonly upM: number } {
  const { longSideM, shortSideM, orientation } = modules
  return orientation === 'portrait'
    ? { alongM: shortSideM, upM: longSideM }
    : { alongM: longSideM, upM: shortSideM }
}

/** Height of the whole table in the plane of its modules. */
export function tableHeightM({ modules }: Pick<TableType, 'modules'>): number {
  return toMillimetre(modules.high * (moduleSides(modules).upM + modules.gapHighM) - modules.gapHighM)
}

/** Splices that a rail of this table needs when none are given, or its tube. */
export function splicesFor(modules: Modules, stockM = railStockM): readonly number[] {
  return evenSplices(modules.across, moduleSides(modules).alongM + modules.gapAcrossM, stockM)
}

/** A complete type from few numbers; every field can be edited afterwards. O(members + stations). */
export function tableTypeFrom(choices: TypeChoices, id: string, name: string): TableType {
  const { mounting, tiltDeg, modules, rails, tube, posts, frameBond, bracketKind } = choices
  const spliceAfter = choices.spliceAfter ?? splicesFor(modules)
  const stations = choices.stations ?? evenStations(modules.across, mounting)
  const rows = Array.from({ length: modules.high }, (_, h) => h + 1)
  const under = railPlaces(modules, rails.perRow, rails.insetM)
  const railMembers = under.map(({ row, upM }): LongMember => {
    return { carries: [row], upM, material: rails.material, areaMm2: rails.areaMm2, spliceAfter }
  })
  const tubes = tube ? [tubeMember(choices, tube, railMembers.length > 0 ? [] : rows)] : []
  return {
    id,
    name,
    mounting,
    tiltDeg,
    modules,
    longMembers: [...tubes, ...railMembers],
    crossMembers: bracketKind === null ? null : { stations, bracketKind },
    posts: posts && { stations, ...posts },
    frameBond,
  }
}

function tubeMember(choices: TypeChoices, tube: Metal, carries: readonly number[]): LongMember {
  const { modules } = choices
  const spliceAfter = choices.spliceAfter ?? splicesFor(modules, tubeStockM)
  const { material, areaMm2 } = tube
  return { carries, upM: toMillimetre(tableHeightM({ modules }) / 2), material, areaMm2, spliceAfter }
}

/** Every rail of a table, row by row from the lowest. */
export function railPlaces(
  modules: Modules,
  perRow: number,
  insetM: number | null,
): readonly { readonly row: number; readonly upM: number }[] {
  if (perRow === 0) return []
  const sideM = moduleSides(modules).upM
  const under = railsUnderModule(sideM, perRow, insetM ?? quarterInsetM(sideM, perRow))
  return Array.from({ length: modules.high }, (_, h) =>
    under.map((placeM) => ({ row: h + 1, upM: toMillimetre(h * (sideM + modules.gapHighM) + placeM) })),
  ).flat()
}
