import { nearestStops } from './neighbours.ts'
import { someStops, type Stops } from './stops.ts'

/** Ends of so few pieces are all held against each other. */
const mostComplete = 150

/**
 * A path through all stops: the shortest edges between near stops that make no branch and no ring, then the same
 * between the ends of the pieces until one piece is left (greedy edges; Bentley 1992). Ties by number. About
 * O(count log count) after the neighbours.
 */
export function greedyPath(stops: Stops, width = 10): Int32Array {
  const { count } = stops
  if (count === 0) return new Int32Array(0)
  const links = new Int32Array(2 * count).fill(-1)
  const degree = new Uint8Array(count)
  const pieceOf = Int32Array.from({ length: count }, (_, k) => k)
  const find = (stop: number): number => {
    while (pieceOf[stop] !== stop) stop = pieceOf[stop] = pieceOf[pieceOf[stop]]
    return stop
  }
  let pieces = count
  while (pieces > 1) {
    const ends = Int32Array.from(Array.from(degree.keys()).filter((stop) => degree[stop] < 2))
    for (const [a, b] of shortestFirst(someStops(stops, ends), ends, width)) {
      if (degree[a] === 2 || degree[b] === 2 || find(a) === find(b)) continue
      links[2 * a + degree[a]++] = b
      links[2 * b + degree[b]++] = a
      pieceOf[find(a)] = find(b)
      pieces--
    }
  }
  return unroll(links, degree)
}

/** Edges between near ones of some stops, shortest first. */
function shortestFirst(
  some: Stops,
  numbers: Int32Array,
  width: number,
): readonly (readonly [number, number])[] {
  const wide = some.count <= mostComplete ? Math.max(some.count - 1, 1) : width
  const near = nearestStops(some, wide)
  const edges: { readonly a: number; readonly b: number; readonly wayM: number }[] = []
  for (let a = 0; a < some.count; a++) {
    for (let k = a * wide; k < (a + 1) * wide && near.stops[k] >= 0; k++) {
      edges.push({ a: numbers[a], b: numbers[near.stops[k]], wayM: near.distanceM[k] })
    }
  }
  edges.sort((one, other) => one.wayM - other.wayM || one.a - other.a || one.b - other.b)
  return edges.map(({ a, b }) => [a, b])
}

function unroll(links: Int32Array, degree: Uint8Array): Int32Array {
  const count = degree.length
  const order = new Int32Array(count)
  let before = -1
  let at = degree.findIndex((links) => links < 2)
  for (let k = 0; k < count; k++) {
    order[k] = at
    const next = links[2 * at] === before && before >= 0 ? links[2 * at + 1] : links[2 * at]
    before = at
    at = next
  }
  return order
}
