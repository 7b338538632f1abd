import { expect } from 'vitest'
import type { SiteIndex } from '../../src/layout/siteIndex.ts'
import { indexSite } from '../../src/layout/siteIndex.ts'
import { newSite } from '../../src/model/newSite.ts'
import type { Drawing } from '../../src/model/schema/drawing.ts'
import type { Row } from '../../src/model/schema/row.ts'
import type { TableType } from '../../src/model/schema/tableType.ts'

const empty = newSite({
  id: '00000000-0000-4000-8000-000000000001',
  revision: '00000000-0000-4000-8000-000000000002',
  name: 'test',
  units: 'metric',
}).drawing

const manyIds = {
  row: 1000,
  enclosure: 1000,
  earthBar: 1000,
  electrode: 1000,
  conductor: 1000,
  extraJoint: 1000,
  asBuilt: 1000,
  aisle: 1000,
  obstacle: 1000,
}

/** A drawing with nothing but what is given; ids up to 999 are free to use. */
export function drawingOf(drawn: Partial<Drawing>): Drawing {
  return { ...empty, nextIds: manyIds, ...drawn }
}

/** Index of a drawing that must be in order. */
export function indexOf(drawing: Drawing): SiteIndex {
  const result = indexSite(drawing)
  expect(result).toMatchObject({ ok: true })
  if (!result.ok) throw new Error('unreachable')
  return result.value
}

/**
 * A table of plain numbers: modules 1 m along, 2 m up, gaps 0.2 m along and 0.1 m up, one rail that carries all
 * module rows, no bonds.
 */
export function typeOf(change: Partial<TableType>): TableType {
  const high = change.modules?.high ?? 1
  return {
    id: 'plain',
    name: 'plain',
    mounting: 'fixedTilt',
    tiltDeg: 0,
    modules: modulesOf({}),
    longMembers: [railOf({ carries: Array.from({ length: high }, (_, h) => h + 1) })],
    crossMembers: null,
    posts: null,
    frameBond: { clamps: null, links: null },
    ...change,
  }
}

export function modulesOf(change: Partial<TableType['modules']>): TableType['modules'] {
  return {
    high: 1,
    across: 3,
    longSideM: 2,
    shortSideM: 1,
    orientation: 'portrait',
    gapAcrossM: 0.2,
    gapHighM: 0.1,
    ...change,
  }
}

export function railOf(change: Partial<TableType['longMembers'][number]>): TableType['longMembers'][number] {
  return { carries: [1], upM: 0.5, material: 'aluminium-extrusion', areaMm2: 400, spliceAfter: [], ...change }
}

/** A row of one run, eastwards from the origin, tables 0.3 m apart and not linked. */
export function rowOf(change: Partial<Row>): Row {
  return {
    id: 1,
    label: '',
    originM: { x: 0, y: 0 },
    bearingDeg: 90,
    gapM: 0.3,
    runs: [{ firstTable: 1, count: 1, type: 'plain' }],
    nextTable: 1000,
    links: { count: 0, kind: 'jumper' },
    tableLabels: {},
    ...change,
  }
}
