import type { Neighbours } from './neighbours.ts'
import { Ring } from './ring.ts'

const longestMoved = 3
/** Shorter tours are solved outright; with so many stops a piece never meets itself. */
const fewest = 2 * longestMoved + 2
/** A gain below this is rounding. */
const leastGainM = 1e-7

/**
 * Shortens a closed tour until no exchange of two edges (2-opt) and no piece of up to three stops put elsewhere, as it
 * is or turned round (Or-opt), gains anything between near stops. Stops whose surroundings did not change are
 * not looked at again. After Bentley, "Fast algorithms for geometric traveling salesman problems", ORSA Journal
 * on Computing 4 (1992). The order is changed in place; the result is determinate. Yields the portion of stops at rest.
 */
export function* improveTour(
  order: Int32Array,
  distanceM: (a: number, b: number) => number,
  near: Neighbours,
): Generator<number, Int32Array> {
  const count = order.length
  if (count < fewest) return order
  const ring = new Ring(order)
  const isWaiting = new Uint8Array(count).fill(1)
  const queue = Int32Array.from(order)
  let head = 0
  let waiting = count
  const wake = (stop: number) => {
    if (isWaiting[stop] === 1) return
    isWaiting[stop] = 1
    queue[(head + waiting++) % count] = stop
  }
  let looks = 0
  while (waiting > 0) {
    const stop = queue[head]
    head = (head + 1) % count
    waiting--
    isWaiting[stop] = 0
    while (exchangeAt(ring, stop, distanceM, near, wake) || moveAt(ring, stop, distanceM, near, wake));
    if (++looks % 500 === 0) yield 1 - waiting / count
  }
  return ring.order
}

type Distance = (a: number, b: number) => number

function exchangeAt(
  ring: Ring,
  a: number,
  distanceM: Distance,
  near: Neighbours,
  wake: (stop: number) => void,
): boolean {
  for (const isOnwards of [true, false]) {
    const next = (stop: number) => (isOnwards ? ring.after(stop) : ring.before(stop))
    const b = next(a)
    const abM = distanceM(a, b)
    for (let k = a * near.width; k < (a + 1) * near.width; k++) {
      const c = near.stops[k]
      const gainM = abM - near.distanceM[k]
      if (c < 0 || gainM <= leastGainM) break
      const d = next(c)
      if (c === b || d === a) continue
      if (gainM + distanceM(c, d) - distanceM(b, d) <= leastGainM) continue
      ring.exchange(a, b, c, d)
      for (const stop of [a, b, c, d]) wake(stop)
      return true
    }
  }
  return false
}

/** Puts a piece that ends in `a` beside a near stop, `a` next to it. */
function moveAt(
  ring: Ring,
  a: number,
  distanceM: Distance,
  near: Neighbours,
  wake: (stop: number) => void,
): boolean {
  for (const isOnwards of [true, false]) {
    const next = (stop: number) => (isOnwards ? ring.after(stop) : ring.before(stop))
    const previous = (stop: number) => (isOnwards ? ring.before(stop) : ring.after(stop))
    const p = previous(a)
    let z = a
    for (let length = 1; length <= longestMoved; length++, z = next(z)) {
      const n = next(z)
      const takenM = distanceM(p, a) + distanceM(z, n) - distanceM(p, n)
      for (let k = a * near.width; k < (a + 1) * near.width; k++) {
        const c = near.stops[k]
        const gainM = takenM - near.distanceM[k]
        if (c < 0 || gainM <= leastGainM) break
        if (isInPiece(c, a, z, next)) continue
        for (const e of [next(c), previous(c)]) {
          if (isInPiece(e, a, z, next)) continue
          if (gainM - distanceM(z, e) + distanceM(c, e) <= leastGainM) continue
          move(ring, isOnwards, { p, a, z, n, c, e })
          for (const stop of [p, a, z, n, c, e]) wake(stop)
          return true
        }
      }
    }
  }
  return false
}

function isInPiece(stop: number, a: number, z: number, next: (stop: number) => number): boolean {
  for (let s = a; ; s = next(s)) {
    if (s === stop) return true
    if (s === z) return false
  }
}

interface Move {
  readonly p: number
  readonly a: number
  readonly z: number
  readonly n: number
  readonly c: number
  readonly e: number
}

/** p–a…z–n and c–e become p–n and c–a…z–e: two or three exchanges. */
function move(ring: Ring, isOnwards: boolean, { p, a, z, n, c, e }: Move): void {
  const isFirst = (isOnwards ? ring.after(c) : ring.before(c)) === e
  const [f, g] = isFirst ? [c, e] : [e, c]
  // p a…z n … f g becomes p f … n z…a g, then p n … f z…a g, then p n … f a…z g
  ring.exchange(p, a, f, g)
  if (f !== n) ring.exchange(p, f, n, z)
  if (f === c) ring.exchange(f, z, a, g)
}
