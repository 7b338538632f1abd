import { newSite } from '../../src/model/newSite.ts'
import type { Drawing } from '../../src/model/schema/drawing.ts'
import type { Row } from '../../src/model/schema/row.ts'
import type { TableType } from '../../src/model/schema/tableType.ts'
import { trackerBars, trackerConductors, trackerElectrodes, trackerEnclosures } from './trackerEarthing.ts'
import {
  blocks,
  northM,
  rowCount,
  rowGapM,
  rowsPerBlock,
  rowX,
  shortRows,
  southM,
  tablesInRow,
} from './trackerGround.ts'
import { trackerPlan } from './trackerPlan.ts'

/*
 * A hundred rows of a hundred tables whose tubes lie north and south, in five blocks of twenty rows with a
 * service road between blocks. In a row one jumper joins each tube to the next; at the south end the tube is
 * bonded to its block's main conductor, which passes the block's earth bar. Halfway up, a drive shaft crosses
 * the block and is bolted to all of its tubes.
 *
 *        ║ ║ ║ ║     ║ ║ ║ ║
 *        ║ ║ ║ ║     ║ ║ ║ ║        ║ row of tables, north up
 *       ─╫─╫─╫─╫─   ─╫─╫─╫─╫─       ╫ drive shaft at table 50
 *        ║ ║ ║ ║     ║ ║ ║ ║
 *      G ┴─┴┬┴─┴ G G ┴─┴┬┴─┴ G      ┴ block's main conductor with a rod at either end
 *          B,E         B,E          pad with bar, inverter, transformer
 *           └───────────┴───…       ring main, round the whole plant
 */
const tiltDeg = 0

const tube: TableType['longMembers'][number] = {
  carries: [],
  upM: 2.3,
  material: 'galvanised-steel',
  areaMm2: 2300,
  spliceAfter: [],
}
const railAt = (upM: number, moduleRow: number): TableType['longMembers'][number] => ({
  carries: [moduleRow],
  upM,
  material: 'galvanised-steel',
  areaMm2: 380,
  spliceAfter: [],
})

/** The tube comes first: posts carry it, and the jumpers between tables are on it. */
const tableType: TableType = {
  id: 'tracker16',
  name: '2 high × 8, portrait, on a tube',
  mounting: 'tracker',
  tiltDeg,
  modules: {
    high: 2,
    across: 8,
    longSideM: 2.28,
    shortSideM: 1.13,
    orientation: 'portrait',
    gapAcrossM: 0.02,
    gapHighM: 0.04,
  },
  longMembers: [tube, railAt(0.5, 1), railAt(1.78, 1), railAt(2.82, 2), railAt(4.1, 2)],
  crossMembers: { stations: [2, 4, 6, 8], bracketKind: 'bracket' },
  posts: {
    stations: [3, 7],
    lines: 1,
    support: 'pivot',
    bondKinds: ['jumper'],
    soil: { buriedM: 1.8, diameterM: 0.12 },
  },
  frameBond: { clamps: { perMember: 2, kind: 'frameClamp' }, links: null },
}

const rowNumbers = Array.from({ length: rowCount }, (_, r) => r + 1)

const rows: readonly Row[] = rowNumbers.map((row) => {
  const block = Math.ceil(row / rowsPerBlock)
  const inBlock = row - (block - 1) * rowsPerBlock
  const count = tablesInRow(row)
  return {
    id: row,
    label: `Row ${block}-${String(inBlock).padStart(2, '0')}`,
    originM: { x: rowX(row).eastM, y: southM(row) },
    bearingDeg: 0,
    gapM: rowGapM,
    runs: [{ firstTable: 1, count, type: tableType.id }],
    nextTable: count + 1,
    links: { count: 1, kind: 'jumper' },
    tableLabels: {},
  }
})

/** Round the plant, and up every service road. */
const aisles = (() => {
  const west = rowX(1).westM - 6
  const east = rowX(rowCount).eastM + 6
  const north = northM + 8
  const roads = blocks.slice(1).map(({ firstRow }) => (rowX(firstRow - 1).eastM + rowX(firstRow).westM) / 2)
  const paths = [
    [
      { x: west, y: -6 },
      { x: west, y: north },
      { x: east, y: north },
      { x: east, y: -6 },
      { x: west, y: -6 },
    ],
    ...roads.map((x) => [
      { x, y: -6 },
      { x, y: north },
    ]),
  ]
  return paths.map((pathM, k) => ({
    id: k + 1,
    pathM: pathM.map(({ x, y }) => ({ x: Number(x.toFixed(2)), y })),
  }))
})()

/** The plant as it was meant to be built. */
export function trackerDrawing(ids: { readonly site: string; readonly revision: string }): Drawing {
  const { drawing } = newSite({ id: ids.site, revision: ids.revision, name: '', units: 'metric' })
  const [enclosures, earthBars] = [trackerEnclosures(), trackerBars()]
  const [electrodes, conductors] = [trackerElectrodes(), trackerConductors()]
  return {
    ...drawing,
    facts: {
      ...drawing.facts,
      soilOhmM: 200,
      soilSource: 'Sand over gravel, 150 to 300 ohm metres by the ground report',
      ambientC: 22,
      note:
        'Tubes lie north and south. Straps bridge the bearings on all posts. ' +
        `${shortRows.length} rows at the edges are shorter.`,
    },
    nextIds: {
      ...drawing.nextIds,
      row: rowCount + 1,
      enclosure: enclosures.length + 1,
      earthBar: earthBars.length + 1,
      electrode: electrodes.length + 1,
      conductor: conductors.length + 1,
      aisle: aisles.length + 1,
    },
    tableTypes: [tableType],
    rows,
    enclosures,
    earthBars,
    electrodes,
    conductors,
    access: drawing.access.map((access) =>
      access.part === 'electrode' ? { ...access, reachable: false } : access,
    ),
    aisles,
    plans: [trackerPlan],
  }
}
