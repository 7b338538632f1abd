import fc from 'fast-check'
import { randomStream } from '../../../src/base/random.ts'
import type { DrawnItem } from '../../../src/model/drawnItem.ts'
import { allDrawn } from '../../../src/model/drawnItem.ts'
import { newSite } from '../../../src/model/newSite.ts'
import type { Drawing } from '../../../src/model/schema/drawing.ts'
import type { Site } from '../../../src/model/schema/site.ts'
import { anyDrawing } from '../../layout/anyDrawing.ts'
import { deepFreeze } from '../deepFreeze.ts'
import { uuid } from '../exampleSite.ts'

/** Rows of any tables with equipment, wires between all of it, extra and differing joints; places to 0.1 mm. */
function furnished(drawing: Drawing, seed: number): Drawing {
  const random = randomStream(seed)
  const place = () => ({ x: random.integer(400_000) / 10_000, y: random.integer(400_000) / 10_000 })
  const tables = drawing.rows.flatMap(({ id, runs }) =>
    runs.flatMap(({ firstTable, count }) =>
      Array.from({ length: count }, (_, k) => ({ row: id, table: firstTable + k })),
    ),
  )
  const oneTable = () => tables[random.integer(tables.length)]
  const tablePart = () => {
    const { row, table } = oneTable()
    return `R${row}/T${table}/L1.${1 + random.integer(2)}`
  }
  const anyPart = () =>
    ['E1', 'E3', 'B2', 'G1', 'G4', 'C1.1', 'C5.2', tablePart(), tablePart()][random.integer(9)]
  const point = (conductor: number) => (id: number) => {
    const part = anyPart()
    const isOwn = part.startsWith(`C${conductor}.`)
    const landing = isOwn || random.uniform() < 0.3 ? null : { part, kind: 'crimpLug' }
    return { id, atM: place(), landing }
  }
  const conductor = (id: number, ids: readonly number[]) => ({
    id,
    label: `wire ${id}`,
    material: 'copper' as const,
    areaMm2: 16,
    size: null,
    closed: random.uniform() < 0.3,
    points: ids.map(point(id)),
    nextPoint: 9,
    lengthM: null,
  })
  const jumpers = drawing.rows.flatMap(({ id, runs, links }) =>
    links.count > 0 && runs[0].count > 1
      ? [
          {
            joint: `R${id}/T${runs[0].firstTable}+T${runs[0].firstTable + 1}~1`,
            change: 'absent' as const,
            kind: null,
            medianOhm: null,
          },
        ]
      : [],
  )
  const rod = { label: 'rod', form: 'rod' as const, lengthM: 2, diameterM: 0.016 }
  return {
    ...drawing,
    rows: drawing.rows.map((row) => ({
      ...row,
      label: `Row ${row.id}`,
      originM: place(),
      bearingDeg: random.integer(360),
      tableLabels: { [row.runs[0].firstTable]: 'painted' },
    })),
    enclosures: [1, 3].map((id) => ({
      id,
      label: `inverter ${id}`,
      atM: place(),
      widthM: 1,
      depthM: 0.5,
      bearingDeg: random.integer(360),
    })),
    earthBars: [{ id: 2, label: '', atM: place() }],
    electrodes: [
      { ...rod, id: 1, measuredOhm: 40, atM: place() },
      {
        id: 4,
        label: 'strip',
        measuredOhm: null,
        form: 'strip',
        pathM: [place(), place(), place()],
        closed: true,
        diameterM: 0.01,
        depthM: 0.6,
      },
    ],
    conductors: [conductor(1, [1, 4, 2]), conductor(5, [2, 7])],
    aisles: [{ id: 1, pathM: [place(), place()] }],
    obstacles: [{ id: 1, name: 'ditch', outlineM: [place(), place(), place()] }],
    extraJoints: [
      { id: 2, label: 'tray', from: 'E1', to: tablePart(), kind: 'bracket', medianOhm: null },
      { id: 3, label: 'fence 9', from: 'G1', to: 'B2', kind: 'bracket', medianOhm: 0.2 },
    ],
    differingJoints: [...jumpers, { joint: 'C1.1~wire', change: 'other', kind: null, medianOhm: 0.5 }],
  }
}

/** A site of any drawing with its furniture, deep frozen. */
export const anySite: fc.Arbitrary<Site> = fc
  .record({ drawing: anyDrawing, seed: fc.integer({ min: 1, max: 1_000_000 }) })
  .map(({ drawing, seed }) => {
    const site = newSite({ id: uuid(1), revision: uuid(2), name: 'any', units: 'metric' })
    return deepFreeze({ ...site, drawing: furnished(drawing, seed) })
  })

/** Such a site and some of its drawn things. */
export const anySiteAndItems: fc.Arbitrary<{ site: Site; items: readonly DrawnItem[] }> = anySite.chain(
  (site) =>
    fc.record({
      site: fc.constant(site),
      items: fc.subarray([...allDrawn(site.drawing)], { minLength: 1 }),
    }),
)
