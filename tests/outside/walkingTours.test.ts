import { describe, expect, it } from 'vitest'
import { wholly } from '../../src/base/portion.ts'
import { pathBoundM, tourBoundM } from '../../src/walk/tour/bound.ts'
import { shortestTour } from '../../src/walk/tour/smallTour.ts'
import { straightStops, type Stops } from '../../src/walk/tour/stops.ts'
import { lengthOfM, shortPath, shortTour } from '../../src/walk/tour/tour.ts'

/*
 * Instances and optima of G. Reinelt, "TSPLIB – a traveling salesman problem library", ORSA Journal on Computing 3
 * (1991), 376–384. Numbers typed from memory; that the exact method finds the printed optimum, and no method beats
 * it, speaks for them.
 */

/** gr17: seventeen places, lower triangle of distances. Shortest tour 2085. */
const gr17 = `
633
257 390
91 661 228
412 227 169 383
150 488 112 120 267
80 572 196 77 351 63
134 530 154 105 309 34 29
259 555 372 175 338 264 232 249
505 289 262 476 196 360 444 402 495
353 282 110 324 61 208 292 250 352 154
324 638 437 240 421 329 297 314 95 578 435
70 567 191 27 346 83 47 68 189 439 287 254
211 466 74 182 243 105 150 108 326 336 184 391 145
268 420 53 239 199 123 207 165 383 240 140 448 202 57
246 745 472 237 528 364 332 349 202 685 542 157 289 426 483
121 518 142 84 297 35 29 36 236 390 238 301 55 96 153 336`

/**
 * berlin52: 52 places by their coordinates. Shortest tour 7542 with each distance rounded to whole numbers, the same tour
 * 7544.37 without rounding.
 */
const berlin52 =
  '565 575 25 185 345 750 945 685 845 655 880 660 25 230 525 1000 580 1175 650 1130 1605 620 1220 580 1465 200 ' +
  '1530 5 845 680 725 370 145 665 415 635 510 875 560 365 300 465 520 585 480 415 835 625 975 580 1215 245 1320 315 ' +
  '1250 400 660 180 410 250 420 555 575 665 1150 1160 700 580 685 595 685 610 770 610 795 645 720 635 760 650 ' +
  '475 960 95 260 875 920 700 500 555 815 830 485 1170 65 830 610 605 625 595 360 1340 725 1740 245'

function tableStops(text: string): Stops {
  const rows = text
    .trim()
    .split('\n')
    .map((line) => line.split(' ').map(Number))
  const count = rows.length + 1
  // all in one place: no distance in plan is above a distance in the table
  const flat = straightStops(new Float64Array(count), new Float64Array(count))
  return { ...flat, distanceM: (a, b) => (a === b ? 0 : a > b ? rows[a - 1][b] : rows[b - 1][a]) }
}

function planStops(text: string): Stops {
  const numbers = text.split(' ').map(Number)
  const take = (first: number) => Float64Array.from(numbers.filter((_, k) => k % 2 === first))
  return straightStops(take(0), take(1))
}

describe('tours with a known optimum', () => {
  it('gr17: the exact method finds 2085, the quick one no less and hardly more, and no bound is above it', () => {
    const stops = tableStops(gr17)
    expect(stops.count).toBe(17)
    expect(lengthOfM(shortestTour(17, stops.distanceM), stops, true)).toBe(2085)
    const tour = wholly(shortTour(stops))
    const lengthM = lengthOfM(tour, stops, true)
    expect(lengthM).toBeGreaterThanOrEqual(2085)
    expect(lengthM).toBeLessThanOrEqual(1.05 * 2085)
    const boundM = wholly(tourBoundM(stops, lengthM, tour))
    expect(boundM).toBeLessThanOrEqual(2085)
    expect(boundM).toBeGreaterThan(0.97 * 2085)
  })

  it('berlin52: between the bound and 5 % above the optimum of 7544.37', () => {
    const stops = planStops(berlin52)
    expect(stops.count).toBe(52)
    const tour = wholly(shortTour(stops))
    const lengthM = lengthOfM(tour, stops, true)
    expect(lengthM).toBeGreaterThan(7544.36)
    expect(lengthM).toBeLessThan(1.05 * 7544.37)
    const boundM = wholly(tourBoundM(stops, lengthM, tour))
    expect(boundM).toBeLessThan(7544.37)
    expect(boundM).toBeGreaterThan(0.98 * 7544.37)
  })

  it('an open walk through berlin52 is shorter than the shortest tour, and never below its bound', () => {
    const stops = planStops(berlin52)
    const path = wholly(shortPath(stops))
    const lengthM = lengthOfM(path, stops, false)
    expect(lengthM).toBeLessThan(7544.37)
    expect(wholly(pathBoundM(stops, lengthM, path))).toBeLessThanOrEqual(lengthM)
  })
})
