import fc from 'fast-check'
import { straightStops, type Stops } from '../../src/walk/tour/stops.ts'

/** Stops on a lattice, so that many ways are equally long and some stops lie on each other, or anywhere. */
export function anyStops(most: number, least = 0): fc.Arbitrary<Stops> {
  const lattice = fc.integer({ min: 0, max: 6 })
  const anywhere = fc.double({ min: 0, max: 100, noNaN: true })
  return fc
    .oneof(
      fc.array(fc.tuple(lattice, lattice), { minLength: least, maxLength: most }),
      fc.array(fc.tuple(anywhere, anywhere), { minLength: least, maxLength: most }),
    )
    .map((points) =>
      straightStops(
        Float64Array.from(points, ([x]) => x),
        Float64Array.from(points, ([, y]) => y),
      ),
    )
}

/** All orders of 0 … count − 1. */
export function allOrders(count: number): readonly (readonly number[])[] {
  if (count === 0) return [[]]
  return allOrders(count - 1).flatMap((order) =>
    Array.from({ length: count }, (_, k) => [...order.slice(0, k), count - 1, ...order.slice(k)]),
  )
}

/** Shortest way over all orders, by trying them: open, or closed. */
export function tryAllM({ count, distanceM }: Stops, isClosed: boolean): number {
  let bestM = Infinity
  for (const order of allOrders(count)) {
    let wayM = isClosed && count > 1 ? distanceM(order[count - 1], order[0]) : 0
    for (let k = 1; k < count && wayM < bestM; k++) wayM += distanceM(order[k - 1], order[k])
    bestM = Math.min(bestM, wayM)
  }
  return count === 0 ? 0 : bestM
}

/** 0 … count − 1, each once. */
export function isEveryOne(order: ArrayLike<number>, count: number): boolean {
  return (
    order.length === count &&
    new Set(Array.from(order)).size === count &&
    Array.from(order).every((k) => k >= 0 && k < count)
  )
}
