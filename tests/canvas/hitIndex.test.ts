import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { buildGeometry, typeOfRun, type MapGeometry } from '../../src/canvas/geometry.ts'
import { HitIndex } from '../../src/canvas/hitIndex.ts'
import { jointPointM, partPointM } from '../../src/canvas/markPoints.ts'
import { bodySort, soilSort } from '../../src/layout/jointPlaces.ts'
import { jointAddressAt, jointIndexOf } from '../../src/layout/jointIndex.ts'
import { partIndexOf, partInTable, partKindAt } from '../../src/layout/partIndex.ts'
import {
  conductorEndCode,
  crossMemberCode,
  earthBarCode,
  electrodeCode,
  enclosureCode,
  frameCode,
  longMemberCode,
  postCode,
} from '../../src/layout/partKinds.ts'
import { frameOutlineM } from '../../src/layout/positions.ts'
import { parseJointAddress, parsePartAddress, writeJointAddress } from '../../src/model/address.ts'
import type { Electrode } from '../../src/model/schema/equipment.ts'
import { anyDrawing } from '../layout/anyDrawing.ts'
import { drawingOf, indexOf, rowOf, typeOf } from '../layout/smallDrawings.ts'
import { demoIndex } from './demoIndex.ts'

/** From the ground up, as things are drawn. */
const layer = new Map([
  [frameCode, 0],
  [crossMemberCode, 1],
  [longMemberCode, 2],
  [postCode, 3],
  [electrodeCode, 4],
  [conductorEndCode, 4],
  [enclosureCode, 4],
  [earthBarCode, 4],
])

function placeOf(geometry: MapGeometry, part: number): number {
  return layer.get(partKindAt(geometry.index, part))!
}

/** Parts at whose mark another one of the same layer or a lower one is hit. */
function misses(geometry: MapGeometry, toleranceM: number): number[] {
  const hits = new HitIndex(geometry)
  return Array.from({ length: geometry.index.partCount }, (_, part) => part).filter((part) => {
    const at = partPointM(geometry, part)!
    const hit = hits.partAt(at.x, at.y, toleranceM)
    if (hit < 0) return true
    const other = partPointM(geometry, hit)!
    // two of one sort that are drawn at the very same place cannot be told apart by pointing
    const isSamePlace = Math.hypot(other.x - at.x, other.y - at.y) < 1e-9
    const isAbove = placeOf(geometry, hit) > placeOf(geometry, part)
    return !isAbove && !(isSamePlace && placeOf(geometry, hit) === placeOf(geometry, part))
  })
}

describe.each(['field', 'roof'] as const)('pointing at the %s demo', (name) => {
  const index = demoIndex(name)
  const geometry = buildGeometry(index)
  const hits = new HitIndex(geometry)

  it.each([0, 0.05, 0.5])(
    'finds every part at its mark, or one drawn above it, within %f m',
    (toleranceM) => {
      expect(misses(geometry, toleranceM)).toEqual([])
    },
  )

  it('finds most parts themselves', () => {
    let own = 0
    for (let part = 0; part < index.partCount; part++) {
      const at = partPointM(geometry, part)!
      if (hits.partAt(at.x, at.y, 0.05) === part) own++
    }
    expect(own / index.partCount).toBeGreaterThan(0.85)
  })

  it('finds every equipment part and conductor end itself', () => {
    for (let part = index.enclosureStart; part < index.partCount; part++) {
      const at = partPointM(geometry, part)!
      expect(hits.partAt(at.x, at.y, 0.05)).toBe(part)
    }
  })

  it('finds every joint that is marked at its mark', () => {
    for (let joint = 0; joint < index.jointCount; joint++) {
      const address = jointAddressAt(index, joint)
      if (address.at === 'earthPath' || address.at === 'wire') continue
      const at = jointPointM(geometry, joint)
      const isBody = address.at === 'table' && isUnmarked(joint)
      const hit = hits.jointAt(at.x, at.y, 0.02)
      if (!isBody) expect(hit, writeJointAddress(address)).toBe(joint)
    }
  })

  it('finds wires along their way where no joint is marked', () => {
    const wire = jointIndexOf(index, parseJointAddress('C1.1~wire')!)
    const at = jointPointM(geometry, wire)
    expect(hits.jointAt(at.x + 0.05, at.y, 0.1)).toBe(wire)
    expect(hits.jointAt(at.x + 5, at.y - 50, 0.1)).toBe(-1)
  })

  it('finds the table under each of its parts', () => {
    for (let part = 0; part < index.enclosureStart; part += 7) {
      const at = partPointM(geometry, part)!
      const { run, place } = partInTable(index, part)
      expect(hits.tableAt(at.x, at.y)).toEqual({ run, place })
    }
    expect(hits.tableAt(-50, -50)).toBeNull()
  })

  function isUnmarked(joint: number): boolean {
    const { runs } = index.rows
    const run = runs.jointStart.findLastIndex((start) => start <= joint)
    const { pattern, jointSort } = typeOfRun(geometry, run)
    const sort = jointSort[(joint - runs.jointStart[run]) % pattern.jointCount]
    return sort === bodySort || sort === soilSort
  }
})

describe('pointing at tables of any kind and bearing', () => {
  it('finds every part or one drawn above it', () => {
    fc.assert(
      fc.property(anyDrawing, fc.integer({ min: 0, max: 359 }), (drawing, bearingDeg) => {
        const rows = drawing.rows.map((row) => ({
          ...row,
          bearingDeg,
          originM: { x: 100 * row.id, y: 100 * row.id },
        }))
        expect(misses(buildGeometry(indexOf({ ...drawing, rows })), 0.001)).toEqual([])
      }),
      { seed: 7, numRuns: 100 },
    )
  })

  it('finds nothing beside a frame beyond the tolerance, and the frame within it', () => {
    const drawing = drawingOf({ tableTypes: [typeOf({})], rows: [rowOf({ bearingDeg: 30 })] })
    const index = indexOf(drawing)
    const hits = new HitIndex(buildGeometry(index))
    const frame = partIndexOf(index, parsePartAddress('R1/T1/F1.1')!)
    const { corner, alongEdge, upEdge } = frameOutlineM(index, frame)
    // 0.2 m before the short edge of the first frame, half way up
    const x = corner.x + 0.75 * upEdge.x - 0.2 * alongEdge.x
    const y = corner.y + 0.75 * upEdge.y - 0.2 * alongEdge.y
    expect(hits.partAt(x, y, 0.19)).toBe(-1)
    expect(hits.partAt(x, y, 0.21)).toBe(frame)
  })
})

describe('levels', () => {
  const index = demoIndex('field')
  const hits = new HitIndex(buildGeometry(index))
  const geometry = buildGeometry(index)
  const member = partIndexOf(index, parsePartAddress('R2/T2/L2.5')!)
  const at = partPointM(geometry, member)!

  it('hide from the pointer what they do not show', () => {
    expect(hits.partAt(at.x, at.y, 0.05, 'joints')).toBe(member)
    expect(hits.partAt(at.x, at.y, 0.05, 'members')).toBe(member)
    expect(partKindAt(index, hits.partAt(at.x, at.y, 0.05, 'frames'))).toBe(frameCode)
    expect(hits.partAt(at.x, at.y, 0.05, 'tables')).toBe(-1)
    const bar = partIndexOf(index, parsePartAddress('B1')!)
    expect(hits.partAt(-1.2, 16.6, 0.5, 'tables')).toBe(bar)
  })

  it('leave the middle of a module to the module, however large the tolerance', () => {
    const frame = partIndexOf(index, parsePartAddress('R2/T2/F1.5')!)
    const middle = partPointM(geometry, frame)!
    expect(hits.partAt(middle.x, middle.y, 3)).toBe(frame)
  })
})

describe('rectangles', () => {
  it('hold exactly the parts whose marks lie inside', () => {
    const geometry = buildGeometry(demoIndex('field'))
    const { index } = geometry
    const rect = { minX: -5, minY: 5, maxX: 13, maxY: 17 }
    const inside = Array.from({ length: index.partCount }, (_, part) => part).filter((part) => {
      const { x, y } = partPointM(geometry, part)!
      return x >= rect.minX && x <= rect.maxX && y >= rect.minY && y <= rect.maxY
    })
    expect(inside.length).toBeGreaterThan(100)
    expect(new HitIndex(geometry).partsIn(rect, 1e6)).toEqual(inside)
    expect(new HitIndex(geometry).partsIn(rect, 10)).toEqual(inside.slice(0, 10))
  })
})

describe('electrodes', () => {
  it('are hit on their plate, rod, or anywhere along their strip', () => {
    const base = { label: '', measuredOhm: null }
    const electrodes: Electrode[] = [
      { ...base, id: 1, form: 'plate', atM: { x: 0, y: 0 }, areaM2: 1, depthM: 1 },
      {
        ...base,
        id: 2,
        form: 'strip',
        pathM: [
          { x: 5, y: 0 },
          { x: 15, y: 0 },
          { x: 15, y: 10 },
        ],
        closed: true,
        diameterM: 0.01,
        depthM: 0.6,
      },
      { ...base, id: 3, form: 'rod', atM: { x: 15, y: 5 }, lengthM: 2, diameterM: 0.02 },
    ]
    const index = indexOf(drawingOf({ electrodes }))
    const hits = new HitIndex(buildGeometry(index))
    const numberOf = (text: string) => partIndexOf(index, parsePartAddress(text)!)
    expect(hits.partAt(0.45, -0.45, 0)).toBe(numberOf('G1'))
    expect(hits.partAt(0.55, 0, 0)).toBe(-1)
    expect(hits.partAt(12, 0.1, 0.2)).toBe(numberOf('G2'))
    // the closing leg from (15, 10) back to (5, 0)
    expect(hits.partAt(10, 5.1, 0.2)).toBe(numberOf('G2'))
    expect(hits.partAt(15, 5.1, 0.2)).toBe(numberOf('G3'))
  })
})
