import { describe, expect, it } from 'vitest'
import { partIndexOf } from '../../src/layout/partIndex.ts'
import { middleOfPath, pathLengthM } from '../../src/layout/path.ts'
import { fillPartPositions, frameOutlineM, partPositionM } from '../../src/layout/positions.ts'
import type { SiteIndex } from '../../src/layout/siteIndex.ts'
import { parsePartAddress } from '../../src/model/address.ts'
import type { PointM } from '../../src/model/schema/primitives.ts'
import { exampleSite } from '../model/exampleSite.ts'
import { drawingOf, indexOf, rowOf, typeOf } from './smallDrawings.ts'

const partAt = (index: SiteIndex, text: string) => partIndexOf(index, parsePartAddress(text)!)
const nine = (m: number) => Number(m.toFixed(9)) + 0
const rounded = (at: PointM | null) => at && { x: nine(at.x), y: nine(at.y) }

// Tables of three modules 1 m wide with gaps of 0.2 m are 3.4 m long, 0.3 m apart: a new one every 3.7 m.
// The first frame's centre is 0.5 m along and 1 m up.
const at = (bearingDeg: number, firstTables: readonly number[] = [1]) =>
  indexOf(
    drawingOf({
      tableTypes: [typeOf({})],
      rows: [
        rowOf({
          originM: { x: 100, y: 50 },
          bearingDeg,
          runs: firstTables.map((firstTable) => ({ firstTable, count: 2, type: 'plain' })),
        }),
      ],
    }),
  )

describe('a row', () => {
  it.each([
    [90, { x: 100.5, y: 51 }, { x: 104.2, y: 51 }],
    [0, { x: 99, y: 50.5 }, { x: 99, y: 54.2 }],
    [270, { x: 99.5, y: 49 }, { x: 95.8, y: 49 }],
    [180, { x: 101, y: 49.5 }, { x: 101, y: 45.8 }],
  ])('runs at a bearing of %i° and its tables rise to its left', (bearingDeg, first, second) => {
    const index = at(bearingDeg)
    expect(rounded(partPositionM(index, partAt(index, 'R1/T1/F1.1')))).toEqual(first)
    expect(rounded(partPositionM(index, partAt(index, 'R1/T2/F1.1')))).toEqual(second)
  })

  it('places tables in row order, whatever their ids', () => {
    const index = at(90, [5, 1])
    const along = ['R1/T5/L1.1', 'R1/T6/L1.1', 'R1/T1/L1.1', 'R1/T2/L1.1'].map(
      (text) => rounded(partPositionM(index, partAt(index, text)))!.x,
    )
    expect(along).toEqual([100, 103.7, 107.4, 111.1])
  })

  it('at 30° turns along and up together', () => {
    const index = at(30)
    const [sin, cos] = [0.5, Math.sqrt(3) / 2]
    // the frame's centre lies 0.5 m along (sin, cos) and 1 m along (−cos, sin)
    expect(rounded(partPositionM(index, 0))).toEqual(
      rounded({ x: 100 + 0.5 * sin - cos, y: 50 + 0.5 * cos + sin }),
    )
  })
})

it('a frame is drawn from its lower outer corner', () => {
  const index = at(90)
  const { corner, alongEdge, upEdge } = frameOutlineM(index, partAt(index, 'R1/T1/F1.2'))
  expect(rounded(corner)).toEqual({ x: 101.2, y: 50 })
  expect(rounded(alongEdge)).toEqual({ x: 1, y: 0 })
  expect(rounded(upEdge)).toEqual({ x: 0, y: 2 })
  expect(() => frameOutlineM(index, partAt(index, 'R1/T1/L1.1'))).toThrow('not a frame')
})

it('all positions at once are those of the single parts, from another origin', () => {
  const index = indexOf(exampleSite().drawing)
  const originM = { x: -7, y: 3 }
  const filled = fillPartPositions(index, originM, new Float32Array(2 * index.partCount))
  for (let part = 0; part < index.partCount; part++) {
    const { x, y } = partPositionM(index, part)!
    expect(filled[2 * part]).toBeCloseTo(x + 7, 4)
    expect(filled[2 * part + 1]).toBeCloseTo(y - 3, 4)
  }
  expect(partPositionM(index, index.remoteEarth)).toBeNull()
  expect(partPositionM(index, partAt(index, 'C1.3'))).toEqual({ x: -3, y: 3 })
  expect(partPositionM(index, partAt(index, 'E1'))).toEqual({ x: -3, y: 1 })
})

describe('a path', () => {
  const corner = [
    { x: 0, y: 0 },
    { x: 3, y: 0 },
    { x: 3, y: 4 },
  ]
  it('has its length with or without the way back', () => {
    expect(pathLengthM(corner, false)).toBe(7)
    expect(pathLengthM(corner, true)).toBe(12)
  })
  it('has its middle half way along', () => {
    expect(middleOfPath(corner, false)).toEqual({ x: 3, y: 0.5 })
    expect(middleOfPath(corner, true)).toEqual({ x: 3, y: 3 })
    expect(middleOfPath([corner[1], corner[1]], false)).toEqual({ x: 3, y: 0 })
  })
})
