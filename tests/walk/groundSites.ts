import type { Drawing } from '../../src/model/schema/drawing.ts'
import type { PointM } from '../../src/model/schema/primitives.ts'
import { drawingOf, rowOf, typeOf } from '../layout/smallDrawings.ts'

export interface DrawnGround {
  readonly rows: readonly {
    readonly originM: PointM
    readonly bearingDeg: number
    readonly gapM: number
    readonly count: number
  }[]
  readonly aisles: readonly (readonly PointM[])[]
  /** Lower left corner, width and height. */
  readonly obstacles: readonly (readonly [PointM, number, number])[]
  readonly bars: readonly PointM[]
}

export function rowsOnGround({ rows, aisles, obstacles, bars }: DrawnGround): Drawing {
  return drawingOf({
    tableTypes: [typeOf({})],
    rows: rows.map(({ count, ...row }, k) =>
      rowOf({ ...row, id: k + 1, runs: [{ firstTable: 1, count, type: 'plain' }], nextTable: count + 1 }),
    ),
    aisles: aisles.map((pathM, k) => ({ id: k + 1, pathM: [...pathM] })),
    obstacles: obstacles.map(([{ x, y }, widthM, heightM], k) => ({
      id: k + 1,
      name: '',
      outlineM: [
        { x, y },
        { x: x + widthM, y },
        { x: x + widthM, y: y + heightM },
        { x, y: y + heightM },
      ],
    })),
    earthBars: bars.map((atM, k) => barAt(k + 1, atM)),
  })
}

export function barAt(id: number, atM: PointM): Drawing['earthBars'][number] {
  return { id, label: '', atM }
}
