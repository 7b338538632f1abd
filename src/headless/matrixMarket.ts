import type { NetworkAnswer } from '../engine/networkAnswer.ts'
import type { Output } from './output.ts'

/** The largest electrical island and its unknowns: its nodes in ascending order, the reference left out. */
export interface GroundedIsland {
  readonly island: number
  readonly reference: number
  /** Node of matrix row k + 1. */
  readonly nodes: Int32Array
}

/** The island with most nodes, the first of equals; remote earth is its reference where it belongs to it. */
export function largestIsland({
  electricalIsland,
  islandSize,
  references,
  nodeCount,
}: NetworkAnswer): GroundedIsland {
  let island = 0
  islandSize.forEach((size, k) => {
    if (size > islandSize[island]) island = k
  })
  const reference = references[island]
  const nodes = new Int32Array(islandSize[island] - 1)
  let at = 0
  for (let v = 0; v < nodeCount; v++) if (electricalIsland[v] === island && v !== reference) nodes[at++] = v
  return { island, reference, nodes }
}

/**
 * Writes the Laplacian of an island in siemens with row and column of the reference removed: positive
 * definite, diagonal = all conductances at the node, elsewhere − the conductances between two nodes (parallel
 * joints added up). Matrix Market, coordinate real symmetric: lower triangle, column by column, counted from
 * 1 (Boisvert, Pozo, Remington 1996, "The Matrix Market Exchange Formats"). O(joints · log degree).
 */
export async function writeGroundedLaplacian(
  answer: NetworkAnswer,
  { nodes }: GroundedIsland,
  comments: readonly string[],
  output: Output,
): Promise<void> {
  const { diagonal, start, row, value } = lowerTriangle(answer, nodes)
  const size = nodes.length
  await output.write('%%MatrixMarket matrix coordinate real symmetric\n')
  for (const comment of comments) await output.write(`% ${comment}\n`)
  await output.write(`${size} ${size} ${size + countDistinct(start, row, size)}\n`)
  for (let j = 0; j < size; j++) {
    await output.write(`${j + 1} ${j + 1} ${diagonal[j]}\n`)
    const column = mergedColumn(row, value, start[j], start[j + 1])
    for (const [i, siemens] of column) await output.write(`${i + 1} ${j + 1} ${siemens}\n`)
  }
}

/** Entries that are left when parallel joints are added up. */
function countDistinct(start: Int32Array, row: Int32Array, size: number): number {
  const seenIn = new Int32Array(size).fill(-1)
  let count = 0
  for (let j = 0; j < size; j++) {
    for (let s = start[j]; s < start[j + 1]; s++) {
      if (seenIn[row[s]] !== j) count++
      seenIn[row[s]] = j
    }
  }
  return count
}

/** Conductances below the diagonal by column, parallel joints still apart; and the whole diagonal. */
function lowerTriangle({ nodeCount, from, to, edgeOhm }: NetworkAnswer, nodes: Int32Array) {
  const place = new Int32Array(nodeCount).fill(-1)
  nodes.forEach((node, k) => (place[node] = k))
  const diagonal = new Float64Array(nodes.length)
  const start = new Int32Array(nodes.length + 1)
  for (let e = 0; e < edgeOhm.length; e++) {
    const a = place[from[e]]
    const b = place[to[e]]
    if (a >= 0) diagonal[a] += 1 / edgeOhm[e]
    if (b >= 0) diagonal[b] += 1 / edgeOhm[e]
    if (a >= 0 && b >= 0) start[Math.min(a, b) + 1]++
  }
  for (let j = 0; j < nodes.length; j++) start[j + 1] += start[j]
  const next = start.slice()
  const row = new Int32Array(start[nodes.length])
  const value = new Float64Array(row.length)
  for (let e = 0; e < edgeOhm.length; e++) {
    const a = place[from[e]]
    const b = place[to[e]]
    if (a < 0 || b < 0) continue
    const slot = next[Math.min(a, b)]++
    row[slot] = Math.max(a, b)
    value[slot] = -1 / edgeOhm[e]
  }
  return { diagonal, start, row, value }
}

function mergedColumn(row: Int32Array, value: Float64Array, from: number, to: number): [number, number][] {
  const sums = new Map<number, number>()
  for (let s = from; s < to; s++) sums.set(row[s], (sums.get(row[s]) ?? 0) + value[s])
  return [...sums].sort((a, b) => a[0] - b[0])
}
