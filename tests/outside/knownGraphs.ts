import type { Graph } from '../../src/network/graph.ts'
import { graphOf } from '../network/patchedNetworks.ts'

type Pairs = [number, number][]

/** Joins every two of n nodes for which the test holds. */
export function joinWhere(n: number, joined: (u: number, v: number) => boolean): Graph {
  const edges: Pairs = []
  for (let v = 0; v < n; v++) for (let u = 0; u < v; u++) if (joined(u, v)) edges.push([u, v])
  return graphOf(n, edges)
}

export const complete = (n: number) => joinWhere(n, () => true)
export const path = (n: number) => joinWhere(n, (u, v) => v - u === 1)
export const cycle = (n: number) => joinWhere(n, (u, v) => v - u === 1 || (u === 0 && v === n - 1))
/** Hub n, rim 0 … n − 1. */
export const wheel = (n: number) =>
  joinWhere(n + 1, (u, v) => v === n || v - u === 1 || (u === 0 && v === n - 1))
export const completeBipartite = (n: number) => joinWhere(2 * n, (u, v) => u < n && v >= n)
/** K_{2n} without a perfect matching. */
export const cocktailParty = (n: number) => joinWhere(2 * n, (u, v) => u >> 1 !== v >> 1)
/** Nodes are corners; bits that differ count the steps between them. */
export const hypercube = (dimension: number) =>
  joinWhere(1 << dimension, (u, v) => ((u ^ v) & ((u ^ v) - 1)) === 0)
/** Two-element subsets of five, joined when they have nothing in common (Kneser graph). */
export const petersen = () => {
  const sets: number[] = []
  for (let a = 0; a < 5; a++) for (let b = 0; b < a; b++) sets.push((1 << a) | (1 << b))
  return joinWhere(10, (u, v) => (sets[u] & sets[v]) === 0)
}

const PHI = (1 + Math.sqrt(5)) / 2

/** Corners (0, ±1, ±φ) and their cyclic shifts, joined at edge length 2. */
export function icosahedron(): Graph {
  return nearestJoined(cyclicShifts([0, 1, PHI]), 2)
}

/** Corners (±1, ±1, ±1) and (0, ±1/φ, ±φ) and shifts, joined at edge length 2/φ. */
export function dodecahedron(): Graph {
  return nearestJoined([...signed([1, 1, 1]), ...cyclicShifts([0, 1 / PHI, PHI])], 2 / PHI)
}

function cyclicShifts([x, y, z]: number[]): number[][] {
  return [...signed([x, y, z]), ...signed([z, x, y]), ...signed([y, z, x])]
}

function signed(point: number[]): number[][] {
  return point.reduce<number[][]>(
    (points, c) =>
      points.flatMap((p) =>
        c === 0
          ? [[...p, 0]]
          : [
              [...p, c],
              [...p, -c],
            ],
      ),
    [[]],
  )
}

function nearestJoined(points: number[][], length: number): Graph {
  const distance = (u: number, v: number) => Math.hypot(...points[u].map((c, k) => c - points[v][k]))
  return joinWhere(points.length, (u, v) => Math.abs(distance(u, v) - length) < 1e-9)
}

/** Node x + width·y; edges to the right, then upward; round the ends where it wraps. */
export function lattice(width: number, height: number, wrapX = false, wrapY = false): Graph {
  const edges: Pairs = []
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      if (x + 1 < width || wrapX) edges.push([x + width * y, ((x + 1) % width) + width * y])
      if (y + 1 < height || wrapY) edges.push([x + width * y, x + width * ((y + 1) % height)])
    }
  }
  return graphOf(width * height, edges)
}

/** Number of edges on the shortest way from node 0 to every node. */
export function stepsFrom(graph: Graph, first = 0): Int32Array {
  const steps = new Int32Array(graph.nodeCount).fill(-1)
  steps[first] = 0
  for (let s = 0, found = true; found; s++) {
    found = false
    for (let e = 0; e < graph.from.length; e++) {
      for (const [u, v] of [
        [graph.from[e], graph.to[e]],
        [graph.to[e], graph.from[e]],
      ]) {
        if (steps[u] !== s || steps[v] >= 0) continue
        steps[v] = s + 1
        found = true
      }
    }
  }
  return steps
}
