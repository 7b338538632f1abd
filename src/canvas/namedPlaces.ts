import { findId } from '../layout/idLookup.ts'
import { tableById, type TableSpot } from '../layout/rowIndex.ts'
import type { MapMarks } from '../state/mapMarks.ts'
import type { Picked } from '../state/picked.ts'
import type { MapGeometry } from './geometry.ts'
import { tableOfPart } from './markPoints.ts'
import { jointNumber, partNumber } from './overlayOutlines.ts'
import { tablesOfJoint } from './overlayTableNames.ts'

/** Tables and rows whose names stand at every zoom. */
export interface NamedPlaces {
  readonly tables: readonly TableSpot[]
  readonly rows: ReadonlySet<number>
}

/** Nobody is sent to groups of later ranks from afar. */
const lastRank = 3
const mostTables = 12

/** Of what is chosen and of the first suspects: their tables, and the rows of those. O(suspects). */
export function namedPlaces(
  geometry: MapGeometry,
  marks: Pick<MapMarks, 'picked' | 'suspects'>,
): NamedPlaces {
  const found = [
    ...tablesOf(geometry, marks.picked),
    ...marks.suspects.flatMap(({ joint, rank }) => (rank <= lastRank ? tablesOfJoint(geometry, joint) : [])),
  ]
  const tables = new Map(found.map((spot) => [`${spot.run} ${spot.place}`, spot]))
  const { row } = geometry.index.rows.runs
  return {
    tables: [...tables.values()].slice(0, mostTables),
    rows: new Set([...tables.values()].map(({ run }) => row[run])),
  }
}

function tablesOf(geometry: MapGeometry, picked: Picked | null): readonly TableSpot[] {
  switch (picked?.kind) {
    case undefined:
    case 'reading':
      return []
    case 'part':
      return [tableOfPart(geometry, partNumber(geometry, picked.address)) ?? []].flat()
    case 'joint':
    case 'suspect':
      return tablesOfJoint(
        geometry,
        jointNumber(geometry, picked.kind === 'joint' ? picked.address : picked.joint),
      )
    case 'table': {
      const { index } = geometry
      const row = findId(index.rows.ids, picked.row)
      return row < 0 ? [] : [tableById(index.rows, row, picked.table) ?? []].flat()
    }
  }
}
