import { fail } from '../../base/result.ts'
import { limits } from '../limits.ts'
import { problem } from '../problem.ts'
import type { Drawing, NextIds } from '../schema/drawing.ts'
import type { EarthBar, Electrode, Enclosure } from '../schema/equipment.ts'
import type { Row } from '../schema/row.ts'
import type { AddConductor } from './conductors.ts'
import { asEdit, commitDrawing } from './edit.ts'
import type { WithoutId } from './listEdits.ts'

/** A row with its tables in runs, which are numbered from 1 in the order given. */
export type NewRow = Omit<Row, 'id' | 'runs' | 'nextTable'> & {
  readonly runs: readonly { readonly count: number; readonly type: string }[]
}

/** Much at once, as an import brings it; what came first gets the lower id. */
export interface DrawnItems {
  readonly anchor: Drawing['facts']['anchor']
  readonly rows: readonly NewRow[]
  readonly enclosures: readonly WithoutId<Enclosure>[]
  readonly earthBars: readonly WithoutId<EarthBar>[]
  readonly electrodes: readonly WithoutId<Electrode>[]
  readonly conductors: readonly AddConductor[]
  readonly aisles: readonly WithoutId<Drawing['aisles'][number]>[]
  readonly obstacles: readonly WithoutId<Drawing['obstacles'][number]>[]
}

export const noItems: DrawnItems = {
  anchor: null,
  rows: [],
  enclosures: [],
  earthBars: [],
  electrodes: [],
  conductors: [],
  aisles: [],
  obstacles: [],
}

/**
 * Adds items to what is drawn, in one edit. All or nothing. `anchor` is taken where the drawing has none; one
 * that the drawing has stays.
 */
export const { can: canAddDrawn, edit: addDrawn } = asEdit<DrawnItems>((site, items) => {
  const { drawing } = site
  // told before anything is numbered: a list as long as this would not be looked through one by one
  if (drawing.rows.length + items.rows.length > limits.rows) {
    const found = drawing.rows.length + items.rows.length
    return fail(problem('size.tooMany', { what: 'rows', found, most: limits.rows }))
  }
  const nextIds = { ...drawing.nextIds }
  const numbered = <T>(counter: keyof NextIds, list: readonly T[]) =>
    list.map((item) => ({ id: nextIds[counter]++, ...item }))
  const added = {
    rows: [...drawing.rows, ...numbered('row', items.rows.map(withTables))],
    enclosures: [...drawing.enclosures, ...numbered('enclosure', items.enclosures)],
    earthBars: [...drawing.earthBars, ...numbered('earthBar', items.earthBars)],
    electrodes: [...drawing.electrodes, ...numbered('electrode', items.electrodes)] as Drawing['electrodes'],
    conductors: [...drawing.conductors, ...numbered('conductor', items.conductors.map(withPoints))],
    aisles: [...drawing.aisles, ...numbered('aisle', items.aisles)],
    obstacles: [...drawing.obstacles, ...numbered('obstacle', items.obstacles)],
  }
  const changes: Partial<Drawing> = Object.fromEntries(
    Object.entries(added).filter(
      ([name, list]) => list.length !== drawing[name as keyof typeof added].length,
    ),
  )
  const { facts } = drawing
  const anchored = facts.anchor === null && items.anchor !== null
  return commitDrawing(site, {
    ...changes,
    ...(Object.keys(changes).length > 0 ? { nextIds } : {}),
    ...(anchored ? { facts: { ...facts, anchor: items.anchor } } : {}),
  })
})

function withTables({ runs, ...fields }: NewRow): Omit<Row, 'id'> {
  let nextTable = 1
  const placed = runs.map(({ count, type }) => {
    const firstTable = nextTable
    nextTable += count
    return { firstTable, count, type }
  })
  return { ...fields, runs: placed, nextTable }
}

function withPoints({ points, ...fields }: AddConductor) {
  return {
    ...fields,
    points: points.map((point, k) => ({ id: k + 1, ...point })),
    nextPoint: points.length + 1,
  }
}
