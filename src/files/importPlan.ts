import type { DrawnItems } from '../model/edits/addDrawn.ts'
import { canAddDrawn } from '../model/edits/addDrawn.ts'
import { countJoints } from '../model/countJoints.ts'
import type { Problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'

/** A line or thing of the file as it is understood, for a look before it is taken. */
export interface PreviewLine {
  /** Line of a table, or number of a feature, from 1. */
  readonly number: number
  readonly what: 'row' | 'table' | 'conductor' | 'electrode' | 'enclosure' | 'earthBar' | 'aisle' | 'obstacle'
  readonly label: string
  readonly x: number
  readonly y: number
  readonly bearingDeg: number | null
  readonly tables: number | null
  /** Id of the table type. */
  readonly type: string | null
}

/** What an import would add, and what of the file is wrong. */
export interface ImportPlan {
  /** Only of what is right. */
  readonly items: DrawnItems
  readonly preview: readonly PreviewLine[]
  /** At most `mostTroubles`, in the order of the file. */
  readonly troubles: readonly Problem[]
  /** Lines or things with something wrong. */
  readonly wrong: number
  /** Lines or things that were looked at. */
  readonly total: number
  /** Left out by choice, or because they have no place. */
  readonly passedOver: number
  /** How far the table is moved that is moved furthest to stand in an even row. */
  readonly largestMoveM: number
}

export const mostTroubles = 200
export const mostPreview = 8

export interface ImportCounts {
  readonly rows: number
  readonly tables: number
  readonly joints: number
  readonly equipment: number
}

export function countsOf(site: Site, { items }: ImportPlan): ImportCounts {
  const { enclosures, earthBars, electrodes, conductors, aisles, obstacles, rows } = items
  const runs = rows.map((row) => ({
    ...row,
    id: 1,
    runs: row.runs.map((run) => ({ ...run, firstTable: 1 })),
    nextTable: 1,
  }))
  return {
    rows: rows.length,
    tables: rows.reduce((sum, row) => sum + row.runs.reduce((all, { count }) => all + count, 0), 0),
    joints: countJoints({
      ...site.drawing,
      rows: runs,
      electrodes: [],
      conductors: [],
      extraJoints: [],
      asBuilt: [],
    }),
    equipment:
      enclosures.length +
      earthBars.length +
      electrodes.length +
      conductors.length +
      aisles.length +
      obstacles.length,
  }
}

/** Whether the drawing takes what the plan adds: its size above all, computed before anything is expanded. */
export function canImport(site: Site, { items }: ImportPlan): true | Problem {
  return canAddDrawn(site, items)
}
