import { describe, expect, it } from 'vitest'
import { doTouch } from '../../src/canvas/overlayLabels.ts'
import {
  edgePoint,
  pointerRadiusPx,
  suspectPointers,
  suspectRings,
  type PlacedSuspect,
} from '../../src/canvas/overlaySuspects.ts'

const screen = { left: 0, top: 0, right: 800, bottom: 600 }
const room = { left: 30, top: 30, right: 770, bottom: 570 }
const suspect = (rank: number, x: number, y: number, probability = 0.5, joint = rank): PlacedSuspect => ({
  mark: { joint, probability, rank, isPicked: false },
  at: { x, y },
})

describe('rings', () => {
  it('stand around the suspects on screen, each with its rank', () => {
    const rings = suspectRings([suspect(2, 300, 300), suspect(1, 100, 100), suspect(3, 900, 100)], screen)
    expect(rings.map(({ mark }) => mark.rank)).toEqual([1, 2])
    expect(rings.every(({ plate }) => plate !== null)).toBe(true)
  })

  it('of a better rank hide those right below them', () => {
    expect(suspectRings([suspect(2, 102, 101), suspect(1, 100, 100)], screen)).toHaveLength(1)
  })

  it('have plates that touch neither rings nor plates', () => {
    const crowd = Array.from({ length: 40 }, (_, i) =>
      suspect(i + 1, 200 + 17 * (i % 8), 200 + 17 * Math.floor(i / 8)),
    )
    const rings = suspectRings(crowd, screen)
    const plates = rings.flatMap(({ plate }) => plate ?? [])
    expect(plates.length).toBeGreaterThan(5)
    plates.forEach((plate, i) => {
      for (const other of plates.slice(0, i)) expect(doTouch(plate, other)).toBe(false)
    })
  })

  it('of one group close together share one plate', () => {
    const group = [0, 20, 38].map((dx) => suspect(1, 200 + dx, 200, 0.3, dx))
    expect(suspectRings(group, screen).filter(({ plate }) => plate)).toHaveLength(1)
  })
})

describe('pointers', () => {
  it('show where a group out of sight lies, from the edge', () => {
    const [pointer] = suspectPointers([suspect(1, 2400, 300)], screen, room)
    expect(pointer.at).toEqual({ x: 770, y: 300 })
    expect(pointer.towards.x).toBeCloseTo(1)
  })

  it('are not needed where any joint of the group is seen', () => {
    expect(suspectPointers([suspect(1, 2400, 300, 0.6), suspect(1, 400, 300, 0.1)], screen, room)).toEqual([])
  })

  it('go to the likeliest joint of their group', () => {
    const [pointer] = suspectPointers(
      [suspect(1, -900, 300, 0.1, 5), suspect(1, 400, 2000, 0.4, 6)],
      screen,
      room,
    )
    expect(pointer.mark.joint).toBe(6)
    expect(pointer.at).toEqual({ x: 400, y: 570 })
  })

  it('stay clear of one another and inside', () => {
    const all = [1, 2, 3, 4, 5].map((rank) => suspect(rank, 3000, 2000 + rank))
    const pointers = suspectPointers(all, screen, room)
    expect(pointers).toHaveLength(5)
    pointers.forEach(({ at }, i) => {
      expect(at.x).toBeLessThanOrEqual(770)
      expect(at.y).toBeLessThanOrEqual(570)
      for (const other of pointers.slice(0, i)) {
        expect(Math.hypot(other.at.x - at.x, other.at.y - at.y)).toBeGreaterThanOrEqual(2 * pointerRadiusPx)
      }
    })
  })

  it('are for the first groups only', () => {
    expect(suspectPointers([suspect(9, 3000, 200)], screen, room)).toEqual([])
  })

  it('the edge is crossed on the line from the middle', () => {
    expect(edgePoint({ x: 400, y: -5000 }, room)).toEqual({ x: 400, y: 30 })
    expect(edgePoint({ x: 500, y: 310 }, room)).toEqual({ x: 500, y: 310 })
    const corner = edgePoint({ x: 400 + 3700, y: 300 + 2700 }, room)
    expect(corner.x).toBeCloseTo(770)
    expect(corner.y).toBeCloseTo(570)
  })
})
