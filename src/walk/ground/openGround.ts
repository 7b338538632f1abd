import type { PointM } from '../../model/schema/primitives.ts'
import { betweenM, type GraphInMaking } from './graph.ts'
import type { Sight } from './sight.ts'

/** Corners are linked across open ground with the nearest in each of eight directions, up to so far. */
const mostAcrossM = 80
const directions = 8
const triesInEach = 3
const cellM = 20

/**
 * Links corners that see each other: from each the nearest in eight directions (a graph after Yao, "On constructing
 * minimum spanning trees in k-dimensional spaces and related problems", SIAM Journal on Computing 11 (1982)), so that a
 * way along the links is little longer than the straight one. `mayLink` can forbid a pair. Yields its fraction done.
 */
export function* linkAcross(
  graph: GraphInMaking,
  corners: readonly number[],
  sight: Sight,
  mayLink: (a: number, b: number) => boolean,
): Generator<number, void> {
  const { pointsM } = graph
  const cells = new Map<string, number[]>()
  const cellOf = ({ x, y }: PointM) => [Math.floor(x / cellM), Math.floor(y / cellM)] as const
  for (const node of corners) {
    const key = cellOf(pointsM[node]).join()
    const cell = cells.get(key)
    if (cell) cell.push(node)
    else cells.set(key, [node])
  }
  const rings = Math.ceil(mostAcrossM / cellM)
  for (const [k, node] of corners.entries()) {
    if (k % 32 === 31) yield k / corners.length
    const at = pointsM[node]
    const [cx, cy] = cellOf(at)
    const sectors: { readonly node: number; readonly farM: number }[][] = Array.from(
      { length: directions },
      () => [],
    )
    for (let x = cx - rings; x <= cx + rings; x++) {
      for (let y = cy - rings; y <= cy + rings; y++) {
        for (const other of cells.get(`${x},${y}`) ?? []) {
          const farM = betweenM(at, pointsM[other])
          if (other === node || farM > mostAcrossM) continue
          sectors[sectorOf(at, pointsM[other])].push({ node: other, farM })
        }
      }
    }
    for (const sector of sectors) {
      const near = sector
        .sort((one, other) => one.farM - other.farM || one.node - other.node)
        .slice(0, triesInEach)
      const seen = near.find(({ node: other }) => sight.isClear(at, pointsM[other]))
      if (seen && mayLink(node, seen.node)) graph.link(node, seen.node)
    }
  }
}

/** Directions begin between the axes, along which corners of one site mostly lie. */
function sectorOf(from: PointM, to: PointM): number {
  const turns = Math.atan2(to.y - from.y, to.x - from.x) / (2 * Math.PI) + 0.5 / directions + 1
  return Math.floor((turns % 1) * directions) % directions
}

/**
 * Links what still does not hang together: the smallest part each time, from the node of it that is nearest to another
 * part, straight on, through whatever stands there; nothing better is known. Returns the number of such links.
 */
export function joinParts(graph: GraphInMaking): number {
  const { pointsM } = graph
  const parent = Int32Array.from(pointsM, (_, k) => k)
  const find = (node: number): number => {
    while (parent[node] !== node) node = parent[node] = parent[parent[node]]
    return node
  }
  const members = new Map<number, number[]>()
  graph.a.forEach((a, e) => (parent[find(a)] = find(graph.b[e])))
  pointsM.forEach((_, node) => {
    const root = find(node)
    const own = members.get(root)
    if (own) own.push(node)
    else members.set(root, [node])
  })
  let joins = 0
  const groups = [...members.values()].sort((one, other) => one.length - other.length || one[0] - other[0])
  for (const group of groups.slice(0, -1)) {
    let best = { from: -1, to: -1, farM: Infinity }
    const root = find(group[0])
    for (const from of group) {
      for (let to = 0; to < pointsM.length; to++) {
        const farM = betweenM(pointsM[from], pointsM[to])
        if (farM < best.farM && find(to) !== root) best = { from, to, farM }
      }
    }
    if (best.from < 0) continue
    graph.link(best.from, best.to)
    parent[root] = find(best.to)
    joins++
  }
  return joins
}
