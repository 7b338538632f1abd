import type { Row } from './schema/row.ts'
import type { Drawing } from './schema/drawing.ts'
import type { Conductor, EarthBar, Electrode, Enclosure } from './schema/equipment.ts'
import type { Aisle, Obstacle } from './schema/planning.ts'

/** What is drawn on the plan with a place of its own. A table belongs to its row, an extra joint to its two parts. */
export const drawnSorts = [
  'row',
  'enclosure',
  'earthBar',
  'electrode',
  'conductor',
  'aisle',
  'obstacle',
] as const
export type DrawnSort = (typeof drawnSorts)[number]

/** One drawn thing by its stored id. */
export interface DrawnItem {
  readonly sort: DrawnSort
  readonly id: number
}

/** What is stored of each sort. */
export interface BySort {
  readonly row: Row
  readonly enclosure: Enclosure
  readonly earthBar: EarthBar
  readonly electrode: Electrode
  readonly conductor: Conductor
  readonly aisle: Aisle
  readonly obstacle: Obstacle
}

/** The list of the drawing that holds things of a sort. */
export const listOfSort = {
  row: 'rows',
  enclosure: 'enclosures',
  earthBar: 'earthBars',
  electrode: 'electrodes',
  conductor: 'conductors',
  aisle: 'aisles',
  obstacle: 'obstacles',
} as const satisfies Record<DrawnSort, keyof Drawing>

/** The list of things of a sort. */
export function drawnOfSort<S extends DrawnSort>(
  drawing: Pick<Drawing, (typeof listOfSort)[DrawnSort]>,
  sort: S,
): readonly BySort[S][] {
  return drawing[listOfSort[sort]] as unknown as readonly BySort[S][]
}

/** The thing itself; null where the drawing has it no more. O(things of its sort). */
export function findDrawn<S extends DrawnSort>(drawing: Drawing, sort: S, id: number): BySort[S] | null {
  const list = drawing[listOfSort[sort]] as readonly { readonly id: number }[]
  return (list.find((item) => item.id === id) as BySort[S] | undefined) ?? null
}

export function isSameItem(a: DrawnItem, b: DrawnItem): boolean {
  return a.sort === b.sort && a.id === b.id
}

/** All drawn things, rows first, in the order of their lists. */
export function allDrawn(drawing: Drawing): readonly DrawnItem[] {
  return drawnSorts.flatMap((sort) => drawing[listOfSort[sort]].map(({ id }) => ({ sort, id })))
}
