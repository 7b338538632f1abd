import fc from 'fast-check'
import type { Drawing } from '../../src/model/schema/drawing.ts'
import type { Row } from '../../src/model/schema/row.ts'
import type { TableType } from '../../src/model/schema/tableType.ts'
import { drawingOf, modulesOf, railOf, rowOf } from './smallDrawings.ts'

function someOf(most: number, least = 0): fc.Arbitrary<number[]> {
  return fc.uniqueArray(fc.integer({ min: 1, max: most }), { minLength: least, maxLength: 4 })
}

/** Any table type of at most 3 high × 5 across, with every choice that the schema offers. */
export function anyType(id: string): fc.Arbitrary<TableType> {
  const size = fc.record({ high: fc.integer({ min: 1, max: 3 }), across: fc.integer({ min: 1, max: 5 }) })
  return size.chain(({ high, across }) =>
    fc.record({
      id: fc.constant(id),
      name: fc.constant(id),
      mounting: fc.constantFrom('fixedTilt' as const, 'tracker' as const, 'flushRoof' as const),
      tiltDeg: fc.integer({ min: 0, max: 60 }),
      modules: fc
        .constantFrom('portrait' as const, 'landscape' as const)
        .map((orientation) => modulesOf({ high, across, orientation })),
      longMembers: fc.array(
        fc.record({ carries: someOf(high), spliceAfter: someOf(across) }).map((rail) => railOf(rail)),
        { minLength: 1, maxLength: 3 },
      ),
      crossMembers: fc.option(
        fc.record({ stations: someOf(across + 1, 1), bracketKind: fc.constant('bracket') }),
      ),
      posts: fc.option(
        fc.record({
          stations: someOf(across + 1, 1),
          lines: fc.constantFrom(1 as const, 2 as const),
          support: fc.constantFrom('fixed' as const, 'pivot' as const),
          bondKinds: fc.array(fc.constantFrom('bracket', 'jumper', 'incidental'), { maxLength: 3 }),
          soil: fc.option(fc.constant({ buriedM: 1.5, diameterM: 0.1 })),
        }),
      ),
      frameBond: fc.record({
        clamps: fc.option(
          fc.record({ perMember: fc.constantFrom(1 as const, 2 as const), kind: fc.constant('frameClamp') }),
        ),
        links: fc.option(
          fc.record({
            direction: fc.constantFrom('across' as const, 'high' as const, 'both' as const),
            kind: fc.constant('frameLink'),
          }),
        ),
      }),
    }),
  )
}

/** Rows whose runs are cut from 1 … n and shuffled, so that tables stand out of id order. */
function anyRow(id: number): fc.Arbitrary<Row> {
  return fc
    .record({
      lengths: fc.array(fc.record({ count: fc.integer({ min: 1, max: 3 }), skip: fc.nat(2) }), {
        minLength: 1,
        maxLength: 4,
      }),
      types: fc.array(fc.constantFrom('one', 'other'), { minLength: 4, maxLength: 4 }),
      order: fc.shuffledSubarray([0, 1, 2, 3], { minLength: 4 }),
      links: fc.constantFrom(0 as const, 1 as const, 2 as const),
    })
    .map(({ lengths, types, order, links }) => {
      let next = 1
      const runs = lengths.map(({ count, skip }, k) => {
        const run = { firstTable: next + skip, count, type: types[k] }
        next = run.firstTable + count
        return run
      })
      const shuffled = order.filter((k) => k < runs.length).map((k) => runs[k])
      return rowOf({
        id,
        runs: shuffled,
        originM: { x: 0, y: 10 * id },
        links: { count: links, kind: 'jumper' },
      })
    })
}

/** Up to three rows of two types of tables. */
export const anyDrawing: fc.Arbitrary<Drawing> = fc
  .record({
    one: anyType('one'),
    other: anyType('other'),
    rows: fc.tuple(anyRow(7), anyRow(2), anyRow(5)),
    rowCount: fc.integer({ min: 1, max: 3 }),
  })
  .map(({ one, other, rows, rowCount }) =>
    drawingOf({ tableTypes: [one, other], rows: rows.slice(0, rowCount) }),
  )
