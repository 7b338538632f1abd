import type { Conductor, EarthBar, Electrode, Enclosure } from '../../src/model/schema/equipment.ts'
import type { PointM } from '../../src/model/schema/primitives.ts'
import { blocks, northM, rowCount, rowsPerBlock, rowX, tableSouthM, type Block } from './trackerGround.ts'

type Point = Omit<Conductor['points'][number], 'id'>

/** The table at whose south end the drive shaft crosses a block. */
export const shaftTable = 50

const round = (m: number) => Number(m.toFixed(2))
const lastRow = ({ firstRow }: Block) => firstRow + rowsPerBlock - 1
const rowsOf = ({ firstRow }: Block) => Array.from({ length: rowsPerBlock }, (_, k) => firstRow + k)

/** Middle of the block, where its pad stands south of the rows. */
const padX = (block: Block) => round((rowX(block.firstRow).westM + rowX(lastRow(block)).eastM) / 2)
const barAt = (block: Block): PointM => ({ x: padX(block), y: block.southM - 12 })
const inverterAt = (block: Block): PointM => ({ x: round(padX(block) - 5), y: block.southM - 14 })
const transformerAt = (block: Block): PointM => ({ x: round(padX(block) + 5), y: block.southM - 14 })

/** Switchgear in the south-east corner: an earth bar and its enclosure. */
const switchgearAt: PointM = { x: round(rowX(rowCount).eastM + 20), y: -14 }
const lastBlock = blocks[blocks.length - 1]
export const switchgearBar = blocks.length + 1
/** Enclosures count on in pairs: inverter and transformer of block 1, of block 2, and so on. */
const inverterOf = (block: Block) => 2 * block.number - 1
const transformerOf = (block: Block) => 2 * block.number

export function trackerEnclosures(): Enclosure[] {
  const box = (id: number, label: string, atM: PointM, widthM: number): Enclosure => ({
    id,
    label,
    atM,
    widthM,
    depthM: 2.4,
    bearingDeg: 90,
  })
  return [
    ...blocks.flatMap((block) => [
      box(inverterOf(block), `Inverter ${block.number}`, inverterAt(block), 6),
      box(transformerOf(block), `Transformer ${block.number}`, transformerAt(block), 4),
    ]),
    box(2 * blocks.length + 1, 'Switchgear', { ...switchgearAt, y: -18 }, 8),
  ]
}

export function trackerBars(): EarthBar[] {
  return [
    ...blocks.map((block) => ({
      id: block.number,
      label: `Earth bar ${block.number}`,
      atM: barAt(block),
    })),
    { id: switchgearBar, label: 'Switchgear bar', atM: switchgearAt },
  ]
}

/** A rod at either end of each block's main conductor, then a strip laid round each pad. */
const rodsOf = (block: Block) => {
  const y = block.southM - 2
  return [
    { x: round(rowX(block.firstRow).westM - 3), y },
    { x: round(rowX(lastRow(block)).eastM + 3), y },
  ]
}
const rodOf = (block: Block, end: 0 | 1) => 2 * block.number - 1 + end
const stripOf = (block: Block) => 2 * blocks.length + block.number

export function trackerElectrodes(): Electrode[] {
  const rods = blocks.flatMap((block) =>
    rodsOf(block).map((atM, end): Electrode => ({
      id: 2 * block.number - 1 + end,
      label: `Rod ${block.number} ${end === 0 ? 'west' : 'east'}`,
      measuredOhm: null,
      form: 'rod',
      atM,
      lengthM: 3,
      diameterM: 0.016,
    })),
  )
  const strips = blocks.map((block): Electrode => {
    const [x, y] = [padX(block), block.southM - 14]
    return {
      id: stripOf(block),
      label: `Strip round pad ${block.number}`,
      measuredOhm: null,
      form: 'strip',
      pathM: [
        { x: round(x - 10), y: y - 4 },
        { x: round(x + 10), y: y - 4 },
        { x: round(x + 10), y: y + 4 },
        { x: round(x - 10), y: y + 4 },
      ],
      closed: true,
      diameterM: 0.02,
      depthM: 0.7,
    }
  })
  return [...rods, ...strips]
}

const via = (x: number, y: number): Point => ({ atM: { x: round(x), y: round(y) }, landing: null })
const onBar = (block: Block): Point => ({
  atM: barAt(block),
  landing: { part: `B${block.number}`, kind: 'crimpLug' },
})
const onRod = (block: Block, end: 0 | 1): Point => ({
  atM: rodsOf(block)[end],
  landing: { part: `G${rodOf(block, end)}`, kind: 'rodClamp' },
})
const onRow = (row: number): Point => ({
  atM: { x: rowX(row).tubeM, y: tableSouthM(row, 1) },
  landing: { part: `R${row}/T1/L1.1`, kind: 'crimpLug' },
})

/** From rod to rod past the south ends of all rows, by way of the bar in the middle. */
function blockMain(block: Block): Point[] {
  const rows = rowsOf(block)
  const middle = rows.length / 2
  return [
    onRod(block, 0),
    ...rows.slice(0, middle).map(onRow),
    onBar(block),
    ...rows.slice(middle).map(onRow),
    onRod(block, 1),
  ]
}

/** Past all bars to the switchgear, and back round the north of the plant. */
function ringMain(): Point[] {
  const [west, east, north] = [rowX(1).westM - 8, rowX(rowCount).eastM + 20, northM + 10]
  return [
    ...blocks.map(onBar),
    { atM: switchgearAt, landing: { part: `B${switchgearBar}`, kind: 'crimpLug' } },
    via(east, north),
    via(west, north),
    via(west, -12),
  ]
}

/** Bolted to every tube of the block; its straps bridge the universal joints. */
function driveShaft(block: Block): Point[] {
  return rowsOf(block).map((row) => ({
    atM: { x: rowX(row).tubeM, y: tableSouthM(row, shaftTable) },
    landing: { part: `R${row}/T${shaftTable}/L1.1`, kind: 'bracket' },
  }))
}

interface Run {
  readonly label: string
  readonly material?: Conductor['material']
  readonly areaMm2: number
  readonly size?: string | null
  readonly closed?: boolean
  readonly points: readonly Point[]
}

export function trackerConductors(): Conductor[] {
  const toPart = (block: Block, label: string, part: string, atM: PointM, kind: string): Run => ({
    label,
    areaMm2: 70,
    points: [onBar(block), { atM, landing: { part, kind } }],
  })
  const runs: readonly Run[] = [
    ...blocks.map((block) => ({
      label: `Main conductor of block ${block.number}`,
      areaMm2: 70,
      points: blockMain(block),
    })),
    { label: 'Ring main', areaMm2: 95, closed: true, points: ringMain() },
    ...blocks.map((block) => ({
      label: `Drive shaft of block ${block.number}`,
      material: 'galvanised-steel' as const,
      areaMm2: 600,
      size: null,
      points: driveShaft(block),
    })),
    ...blocks.flatMap((block) => {
      const n = block.number
      return [
        toPart(block, `Inverter ${n} to bar`, `E${inverterOf(block)}`, inverterAt(block), 'crimpLug'),
        toPart(
          block,
          `Transformer ${n} to bar`,
          `E${transformerOf(block)}`,
          transformerAt(block),
          'crimpLug',
        ),
        toPart(
          block,
          `Strip ${n} to bar`,
          `G${stripOf(block)}`,
          { x: padX(block), y: block.southM - 10 },
          'weld',
        ),
      ]
    }),
    {
      label: 'Switchgear to bar',
      areaMm2: 95,
      points: [
        { atM: switchgearAt, landing: { part: `B${switchgearBar}`, kind: 'crimpLug' } },
        {
          atM: { ...switchgearAt, y: -18 },
          landing: { part: `E${2 * lastBlock.number + 1}`, kind: 'crimpLug' },
        },
      ],
    },
  ]
  return runs.map((run, k) => ({
    id: k + 1,
    label: run.label,
    material: run.material ?? 'copper',
    areaMm2: run.areaMm2,
    size: run.size === undefined ? `mm2-${run.areaMm2}` : run.size,
    closed: run.closed ?? false,
    points: run.points.map((point, p) => ({ id: p + 1, ...point })),
    nextPoint: run.points.length + 1,
    lengthM: null,
  }))
}
