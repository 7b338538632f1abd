import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { wholly } from '../../src/base/portion.ts'
import { randomStream } from '../../src/base/random.ts'
import { pathBoundM, tourBoundM } from '../../src/walk/tour/bound.ts'
import { greedyPath } from '../../src/walk/tour/construct.ts'
import { improveTour } from '../../src/walk/tour/improve.ts'
import { nearestStops } from '../../src/walk/tour/neighbours.ts'
import { lightestTree, lightestTreeAmong } from '../../src/walk/tour/oneTree.ts'
import { shortestTour } from '../../src/walk/tour/smallTour.ts'
import { someStops, straightStops, tabulated, type Stops } from '../../src/walk/tour/stops.ts'
import { lengthOfM, shortPath, shortTour } from '../../src/walk/tour/tour.ts'
import { allOrders, anyStops, isEveryOne, tryAllM } from './anyStops.ts'

function inSquare(count: number, sideM: number): Stops {
  const random = randomStream(count)
  const draw = () => Float64Array.from({ length: count }, () => random.uniform() * sideM)
  return straightStops(draw(), draw())
}

const boundOf = (stops: Stops, order: Int32Array) =>
  wholly(pathBoundM(stops, lengthOfM(order, stops, false), order))

describe('orders of a few stops', () => {
  it('tries each order once', () => {
    expect(new Set(allOrders(5).map(String)).size).toBe(120)
  })

  it('are the shortest there are, closed and open', () => {
    fc.assert(
      fc.property(anyStops(7, 1), (stops) => {
        const tour = shortestTour(stops.count, stops.distanceM)
        expect(isEveryOne(tour, stops.count)).toBe(true)
        expect(lengthOfM(tour, stops, true)).toBeCloseTo(tryAllM(stops, true), 9)
        const path = wholly(shortPath(stops))
        expect(isEveryOne(path, stops.count)).toBe(true)
        expect(lengthOfM(path, stops, false)).toBeCloseTo(tryAllM(stops, false), 9)
      }),
      { numRuns: 60 },
    )
  })
})

describe('orders of many stops', () => {
  it('hold every stop once, are never longer than the greedy one, and begin where they should', () => {
    fc.assert(
      fc.property(anyStops(60, 10), (stops) => {
        const greedy = greedyPath(stops)
        expect(isEveryOne(greedy, stops.count)).toBe(true)
        const tour = wholly(shortTour(stops))
        expect(isEveryOne(tour, stops.count)).toBe(true)
        expect(tour[0]).toBe(0)
        expect(lengthOfM(tour, stops, true)).toBeLessThanOrEqual(lengthOfM(greedy, stops, true) + 1e-9)
        const path = wholly(shortPath(stops))
        expect(isEveryOne(path, stops.count)).toBe(true)
        expect(lengthOfM(path, stops, false)).toBeLessThanOrEqual(lengthOfM(greedy, stops, false) + 1e-9)
      }),
      { numRuns: 100 },
    )
  })

  it('are left alone by no exchange of two edges and no short piece elsewhere that would gain', () => {
    const stops = inSquare(60, 100)
    const near = nearestStops(stops, 59)
    const tour = wholly(improveTour(greedyPath(stops), stops.distanceM, near))
    const lengthM = lengthOfM(tour, stops, true)
    const order = Array.from(tour)
    for (let i = 0; i < 60; i++) {
      for (let k = i + 1; k <= 60; k++) {
        const turned = [...order.slice(0, i), ...order.slice(i, k).reverse(), ...order.slice(k)]
        expect(lengthOfM(turned, stops, true)).toBeGreaterThan(lengthM - 1e-6)
      }
      for (const length of [1, 2, 3]) {
        const ring = [...order.slice(i), ...order.slice(0, i)]
        const piece = ring.slice(0, length)
        const rest = ring.slice(length)
        for (let k = 0; k <= rest.length; k++) {
          for (const moved of [piece, [...piece].reverse()]) {
            const other = [...rest.slice(0, k), ...moved, ...rest.slice(k)]
            expect(lengthOfM(other, stops, true)).toBeGreaterThan(lengthM - 1e-6)
          }
        }
      }
    }
  })

  it('come near to what a random square asks for, 0.7124 of the root of stops times area', () => {
    // constant of Johnson, McGeoch and Rothberg 1996, with their term for the edge: 0.7124 (1 + 0.33/n) on a torus
    const stops = inSquare(2000, 1000)
    const ratio = lengthOfM(wholly(shortTour(stops)), stops, true) / Math.sqrt(2000 * 1e6)
    expect(ratio).toBeGreaterThan(0.7124)
    expect(ratio).toBeLessThan(0.79)
  })

  it('are the same whenever they are asked for', () => {
    const stops = inSquare(300, 100)
    expect(wholly(shortPath(stops))).toEqual(wholly(shortPath(stops)))
  })
})

describe('the bound of a walk', () => {
  it('is never above the shortest path there is, and equals it where few stops leave no choice', () => {
    fc.assert(
      fc.property(anyStops(7, 2), (stops) => {
        const path = wholly(shortPath(stops))
        const bestM = tryAllM(stops, false)
        expect(boundOf(stops, path)).toBeLessThanOrEqual(bestM)
        if (stops.count <= 3) expect(boundOf(stops, path)).toBeCloseTo(bestM, 5)
      }),
      { numRuns: 100 },
    )
  })

  it('of a closed tour is never above the shortest there is', () => {
    fc.assert(
      fc.property(anyStops(7, 1), (stops) => {
        const tour = shortestTour(stops.count, stops.distanceM)
        const bestM = tryAllM(stops, true)
        expect(wholly(tourBoundM(stops, lengthOfM(tour, stops, true), tour))).toBeLessThanOrEqual(bestM)
        if (stops.count <= 3) {
          expect(wholly(tourBoundM(stops, bestM, tour))).toBeCloseTo(bestM, 5)
        }
      }),
      { numRuns: 100 },
    )
  })

  it('is the same whether the lightest tree is found with or without what a tree among near stops tells', () => {
    const stops = inSquare(120, 100)
    const random = randomStream(9)
    const price = Float64Array.from({ length: 120 }, () => 10 * random.uniform())
    const near = nearestStops(stops, 119)
    const start = Int32Array.from({ length: 121 }, (_, k) => 119 * k)
    const whole = { start, to: near.stops, wayM: near.distanceM }
    const free = wholly(lightestTree(stops, price))
    const among = lightestTreeAmong(whole, price)
    expect(among.weight).toBeCloseTo(free.weight, 9)
    expect(wholly(lightestTree(stops, price, among)).weight).toBeCloseTo(free.weight, 9)
  })

  it('holds whatever path sets its steps', () => {
    fc.assert(
      fc.property(anyStops(7, 2), fc.double({ min: 1, max: 10, noNaN: true }), (stops, factor) => {
        const bestM = tryAllM(stops, false)
        const order = Int32Array.from({ length: stops.count }, (_, k) => k)
        expect(wholly(pathBoundM(stops, factor * bestM, order))).toBeLessThanOrEqual(bestM + 1e-9)
      }),
      { numRuns: 60 },
    )
  })

  it('comes within a few per cent of the way on a random square, with few stops and with many', () => {
    for (const count of [50, 300, 600]) {
      const stops = inSquare(count, 1000)
      const path = wholly(shortPath(stops))
      const lengthM = lengthOfM(path, stops, false)
      const boundM = boundOf(stops, path)
      expect(boundM).toBeLessThanOrEqual(lengthM)
      expect(lengthM / boundM).toBeLessThan(1.1)
    }
  })

  it('is proved for many stops too: the same bound from a table of all distances and from near edges', () => {
    // the metric in plan understates what a wall between two halves makes of it
    const flat = inSquare(500, 100)
    const wallM = (a: number, b: number) => (flat.yM[a] < 50 === flat.yM[b] < 50 ? 0 : 100)
    const stops: Stops = { ...flat, distanceM: (a, b) => flat.distanceM(a, b) + wallM(a, b) }
    const path = wholly(shortPath(stops))
    const lengthM = lengthOfM(path, stops, false)
    expect(boundOf(stops, path)).toBeLessThanOrEqual(lengthM)
    expect(lengthM / boundOf(stops, path)).toBeLessThan(1.1)
  })
})

describe('near stops', () => {
  it('of few are exactly the nearest, nearest first', () => {
    fc.assert(
      fc.property(anyStops(40, 2), (stops) => {
        const near = nearestStops(stops, 5)
        for (let a = 0; a < stops.count; a++) {
          const all = [...Array(stops.count).keys()].filter((b) => b !== a).map((b) => stops.distanceM(a, b))
          all.sort((x, y) => x - y)
          const found = Array.from(near.stops.subarray(5 * a, 5 * a + 5)).filter((b) => b >= 0)
          expect(new Set(found).size).toBe(Math.min(5, stops.count - 1))
          expect(found.map((b) => stops.distanceM(a, b))).toEqual(all.slice(0, 5))
        }
      }),
      { numRuns: 60 },
    )
  })

  it('of many in the open are the nearest as well', () => {
    const stops = inSquare(600, 100)
    const near = nearestStops(stops, 8)
    for (let a = 0; a < stops.count; a++) {
      const all = [...Array(600).keys()].filter((b) => b !== a).map((b) => stops.distanceM(a, b))
      all.sort((x, y) => x - y)
      expect(Array.from(near.distanceM.subarray(8 * a, 8 * a + 8))).toEqual(all.slice(0, 8))
    }
  })

  it('of many hold those next along a line, however near others are in plan', () => {
    const count = 400
    const xM = Float64Array.from({ length: count }, (_, k) => (k >> 1) * 10)
    const yM = Float64Array.from({ length: count }, (_, k) => k & 1)
    const line = Int32Array.from({ length: count }, (_, k) => k & 1)
    const flat = straightStops(xM, yM)
    const stops: Stops = {
      ...flat,
      line,
      alongM: xM,
      distanceM: (a, b) => flat.distanceM(a, b) + (line[a] === line[b] ? 0 : 5000),
    }
    const near = nearestStops(stops, 2)
    for (let a = 2; a < count - 2; a++) {
      expect([near.stops[2 * a], near.stops[2 * a + 1]].sort((x, y) => x - y)).toEqual([a - 2, a + 2])
    }
  })
})

describe('stops', () => {
  it('are the same metric in a table, and chosen ones by their new numbers', () => {
    const stops = inSquare(20, 10)
    const table = tabulated(stops)
    const some = someStops(stops, Int32Array.from([7, 3, 19]))
    for (let a = 0; a < 20; a++) {
      for (let b = 0; b < 20; b++) expect(table.distanceM(a, b)).toBe(stops.distanceM(a, b))
    }
    expect(some.distanceM(0, 2)).toBe(stops.distanceM(7, 19))
    expect(some.xM[1]).toBe(stops.xM[3])
  })
})
