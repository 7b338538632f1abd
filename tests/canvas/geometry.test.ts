import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { buildGeometry, tableCornersM, tablePointM, typeOfRun } from '../../src/canvas/geometry.ts'
import { toScreen, toWorld, visibleRectM, type View } from '../../src/canvas/mapTypes.ts'
import { jointPointM, jointWayM, partPointM, tableOfPart } from '../../src/canvas/markPoints.ts'
import { placesIn } from '../../src/canvas/placesIn.ts'
import { jointIndexOf } from '../../src/layout/jointIndex.ts'
import { partIndexOf, partInTable } from '../../src/layout/partIndex.ts'
import { frameOutlineM, partPositionM } from '../../src/layout/positions.ts'
import { parseJointAddress, parsePartAddress } from '../../src/model/address.ts'
import type { Conductor } from '../../src/model/schema/equipment.ts'
import { anyDrawing } from '../layout/anyDrawing.ts'
import { drawingOf, indexOf, modulesOf, railOf, rowOf, typeOf } from '../layout/smallDrawings.ts'
import { demoIndex } from './demoIndex.ts'

const view: View = { x: 100, y: 400, k: 8, widthPx: 800, heightPx: 500, dpr: 2 }

describe('views', () => {
  it('put north up and come back', () => {
    expect(toScreen(view, { x: 10, y: 5 })).toEqual({ x: 180, y: 360 })
    expect(toWorld(view, { x: 180, y: 360 })).toEqual({ x: 10, y: 5 })
    expect(visibleRectM(view)).toEqual({ minX: -12.5, minY: -12.5, maxX: 87.5, maxY: 50 })
  })
})

describe('tables', () => {
  it('stand where the layout has their parts, at any bearing', () => {
    fc.assert(
      fc.property(anyDrawing, fc.integer({ min: 0, max: 359 }), (drawing, bearingDeg) => {
        const rows = drawing.rows.map((row) => ({ ...row, bearingDeg }))
        const index = indexOf({ ...drawing, rows })
        const geometry = buildGeometry(index)
        const { minX, minY, maxX, maxY } = geometry.boundsM
        for (let part = 0; part < index.partCount; part++) {
          const { run, place, local } = partInTable(index, part)
          const { pattern } = typeOfRun(geometry, run)
          const at = tablePointM(geometry, { run, place }, pattern.xM[local], pattern.yM[local])
          const expected = partPositionM(index, part)!
          expect(Math.hypot(at.x - expected.x, at.y - expected.y)).toBeLessThan(1e-9)
          expect(partPointM(geometry, part)).toEqual(expected)
          expect(tableOfPart(geometry, part)).toEqual({ run, place })
          expect(at.x >= minX - 1e-9 && at.x <= maxX + 1e-9).toBe(true)
          expect(at.y >= minY - 1e-9 && at.y <= maxY + 1e-9).toBe(true)
        }
      }),
      { seed: 5, numRuns: 60 },
    )
  })

  it('have the corners of their outermost frames', () => {
    const index = demoIndex('field')
    const geometry = buildGeometry(index)
    const corners = tableCornersM(geometry, { run: 2, place: 3 })
    const first = frameOutlineM(index, partIndexOf(index, parsePartAddress('R3/T4/F1.1')!))
    const last = frameOutlineM(index, partIndexOf(index, parsePartAddress('R3/T4/F2.10')!))
    expect(corners[0].x).toBeCloseTo(first.corner.x, 9)
    expect(corners[0].y).toBeCloseTo(first.corner.y, 9)
    expect(corners[2].x).toBeCloseTo(last.corner.x + last.alongEdge.x + last.upEdge.x, 9)
    expect(corners[2].y).toBeCloseTo(last.corner.y + last.alongEdge.y + last.upEdge.y, 9)
  })

  it('are found by any rectangle that holds one of their parts', () => {
    const metres = fc.double({ min: -30, max: 30, noNaN: true })
    fc.assert(
      fc.property(
        anyDrawing,
        fc.integer({ min: 0, max: 359 }),
        metres,
        metres,
        (drawing, bearingDeg, x, y) => {
          const index = indexOf({ ...drawing, rows: drawing.rows.map((row) => ({ ...row, bearingDeg })) })
          const geometry = buildGeometry(index)
          const rect = { minX: x - 2, minY: y - 1, maxX: x + 2, maxY: y + 1 }
          for (let part = 0; part < index.partCount; part++) {
            const at = partPositionM(index, part)!
            if (at.x < rect.minX || at.x > rect.maxX || at.y < rect.minY || at.y > rect.maxY) continue
            const { run, place } = partInTable(index, part)
            const { first, last } = placesIn(geometry, run, rect)
            expect(place >= first && place <= last).toBe(true)
          }
        },
      ),
      { seed: 6, numRuns: 200 },
    )
  })

  it('are few numbers for each run, whatever the number of tables', () => {
    const one = drawingOf({ tableTypes: [typeOf({})], rows: [rowOf({})] })
    const many = drawingOf({
      tableTypes: [typeOf({})],
      rows: [rowOf({ runs: [{ firstTable: 1, count: 90_000, type: 'plain' }], nextTable: 90_001 })],
    })
    const sizeOf = (geometry: unknown) =>
      JSON.stringify(geometry, (key, value: unknown) => (key === 'index' ? undefined : value)).length
    const difference = sizeOf(buildGeometry(indexOf(many))) - sizeOf(buildGeometry(indexOf(one)))
    expect(Math.abs(difference)).toBeLessThan(100)
  })
})

describe('marks of joints', () => {
  it('lie on their table, each joint of its own place, clamps on their own module', () => {
    const index = demoIndex('field')
    const geometry = buildGeometry(index)
    const { pattern, jointX, jointY } = typeOfRun(geometry, 0)
    const places = new Set<string>()
    for (let j = 0; j < pattern.jointCount; j++) {
      places.add(`${jointX[j].toFixed(3)} ${jointY[j].toFixed(3)}`)
      const isClamp = pattern.from[j] < pattern.longStart
      if (!isClamp) continue
      const frame = pattern.from[j]
      expect(Math.abs(jointX[j] - pattern.xM[frame])).toBeLessThan(pattern.size.frameAlongM / 2)
      expect(Math.abs(jointY[j] - pattern.yM[frame])).toBeLessThan(pattern.size.frameUpM / 2)
      expect(Math.abs(jointX[j] - pattern.xM[pattern.to[j]])).toBeLessThan(0.2)
    }
    expect(places.size).toBe(pattern.jointCount)
  })

  it('of jumpers hang in the gap, of wires on the wire, of lugs beside the landing', () => {
    const index = demoIndex('field')
    const geometry = buildGeometry(index)
    const markOf = (text: string) => jointPointM(geometry, jointIndexOf(index, parseJointAddress(text)!))
    const endOf = (text: string) => partPositionM(index, partIndexOf(index, parsePartAddress(text)!))!
    const jumper = markOf('R2/T3+T4~1')
    expect(jumper.x).toBeCloseTo((endOf('R2/T3/L1.11').x + endOf('R2/T4/L1.1').x) / 2, 9)
    expect(markOf('C1.2~lug').x).toBe(0)
    expect(markOf('C1.2~lug').y).toBeCloseTo(0.453 + 0.55 * 0.5, 9)
    expect(markOf('C1.1~wire').y).toBeCloseTo((-3 + 0.453) / 2, 9)
    expect(markOf('G1~earth')).toEqual({ x: 0, y: -3 })
  })

  it('ways of current run from the first end to the second', () => {
    const index = demoIndex('field')
    const geometry = buildGeometry(index)
    const way = jointWayM(geometry, jointIndexOf(index, parseJointAddress('R1/T1/F1.3~L1.4')!))
    const endOf = (text: string) => partPositionM(index, partIndexOf(index, parsePartAddress(text)!))!
    expect(way).toHaveLength(3)
    expect(way[0].x).toBeCloseTo(endOf('R1/T1/F1.3').x, 9)
    expect(way[2].x).toBeCloseTo(endOf('R1/T1/L1.4').x, 9)
    for (let joint = 0; joint < index.jointCount; joint++) {
      for (const { x, y } of jointWayM(geometry, joint)) expect(Number.isFinite(x + y)).toBe(true)
    }
  })

  it('of a closed conductor come back to its first point', () => {
    const point = (id: number, x: number, y: number): Conductor['points'][number] => ({
      id,
      atM: { x, y },
      landing: null,
    })
    const ring: Conductor = {
      id: 4,
      label: '',
      material: 'copper',
      areaMm2: 50,
      size: null,
      closed: true,
      points: [point(1, 0, 0), point(2, 10, 0), point(3, 10, 10)],
      nextPoint: 4,
      lengthM: null,
    }
    const index = indexOf(drawingOf({ conductors: [ring] }))
    const geometry = buildGeometry(index)
    const wayOf = (text: string) => jointWayM(geometry, jointIndexOf(index, parseJointAddress(text)!))
    expect(wayOf('C4.1~wire')).toEqual([
      { x: 0, y: 0 },
      { x: 10, y: 0 },
      { x: 10, y: 10 },
    ])
    expect(wayOf('C4.3~wire')).toEqual([
      { x: 10, y: 10 },
      { x: 0, y: 0 },
    ])
    expect(geometry.boundsM).toEqual({ minX: 0, minY: 0, maxX: 10, maxY: 10 })
  })
})

describe('absent joints', () => {
  it('are those that design or findings take away', () => {
    const type = typeOf({
      modules: modulesOf({ across: 2 }),
      longMembers: [railOf({})],
      frameBond: { clamps: { perMember: 2, kind: 'frameClamp' }, links: null },
    })
    const drawing = drawingOf({
      tableTypes: [type],
      rows: [rowOf({})],
      differingJoints: [{ joint: 'R1/T1/F1.1~L1.1', change: 'absent', kind: null, medianOhm: null }],
      asBuilt: [{ id: 1, found: { form: 'jointAbsent', joint: 'R1/T1/F1.2~L1.3' }, on: null, note: '' }],
    })
    const index = indexOf(drawing)
    const numberOf = (text: string) => jointIndexOf(index, parseJointAddress(text)!)
    const expected = new Set(['R1/T1/F1.1~L1.1', 'R1/T1/F1.2~L1.3'].map(numberOf))
    const { absentJoints, missingJoints } = buildGeometry(index)
    expect(absentJoints).toEqual(expected)
    expect([...missingJoints]).toEqual([numberOf('R1/T1/F1.2~L1.3')])
  })
})

it('a site without anything has bounds to look at', () => {
  const { boundsM, shortSideM } = buildGeometry(indexOf(drawingOf({})))
  expect(boundsM.maxX).toBeGreaterThan(boundsM.minX)
  expect(shortSideM).toBe(1)
})
