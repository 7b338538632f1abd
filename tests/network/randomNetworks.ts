import type { RandomStream } from '../../src/base/random.ts'
import type { Graph } from '../../src/network/graph.ts'

/** A graph with its conductances, its islands and a reference node for each. */
export interface Network {
  readonly graph: Graph
  readonly conductanceS: Float64Array
  readonly islandOf: Int32Array
  readonly reference: Int32Array
}

type Edge = readonly [from: number, to: number, conductanceS: number]

/** One island, reference node `reference`. */
export function networkOf(nodeCount: number, edges: readonly Edge[], reference = 0): Network {
  return {
    graph: {
      nodeCount,
      from: Int32Array.from(edges, ([u]) => u),
      to: Int32Array.from(edges, ([, v]) => v),
    },
    conductanceS: Float64Array.from(edges, ([, , g]) => g),
    islandOf: new Int32Array(nodeCount),
    reference: nodeCount === 0 ? new Int32Array(0) : Int32Array.of(reference),
  }
}

/** Log-uniform between 10^−decades and 10^decades siemens. */
export function wideConductance(random: RandomStream, decades: number): number {
  return 10 ** (decades * (2 * random.uniform() - 1))
}

export function randomTree(random: RandomStream, nodeCount: number, decades = 1): Network {
  const name = shuffled(random, nodeCount)
  const edges: Edge[] = []
  for (let v = 1; v < nodeCount; v++) {
    edges.push([name[v], name[random.integer(v)], wideConductance(random, decades)])
  }
  return networkOf(nodeCount, edges, random.integer(nodeCount))
}

/** A random tree with `extra` more edges, some of them parallel to others. */
export function randomConnected(
  random: RandomStream,
  nodeCount: number,
  extra: number,
  decades = 1,
): Network {
  const tree = randomTree(random, nodeCount, decades)
  const edges: Edge[] = edgesOf(tree)
  for (let k = 0; k < extra && nodeCount > 1; k++) {
    const g = wideConductance(random, decades)
    const [u, v] = edges[random.integer(edges.length)]
    if (random.uniform() < 0.2) edges.push([v, u, g])
    else {
      const a = random.integer(nodeCount)
      const b = (a + 1 + random.integer(nodeCount - 1)) % nodeCount
      edges.push([a, b, g])
    }
  }
  return networkOf(nodeCount, edges, tree.reference[0])
}

/** Two rails of `rungs` nodes with a rung at each. */
export function ladder(rungs: number, railS: number, rungS: number): Network {
  const edges: Edge[] = []
  for (let k = 0; k < rungs; k++) {
    edges.push([2 * k, 2 * k + 1, rungS])
    if (k > 0) edges.push([2 * k - 2, 2 * k, railS], [2 * k - 1, 2 * k + 1, railS])
  }
  return networkOf(2 * rungs, edges)
}

export function grid(width: number, height: number, conductance: () => number = () => 1): Network {
  const edges: Edge[] = []
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const v = y * width + x
      if (x > 0) edges.push([v - 1, v, conductance()])
      if (y > 0) edges.push([v - width, v, conductance()])
    }
  }
  return networkOf(width * height, edges)
}

/**
 * Rows of tables. A table has two rails, split where modules land, and modules clamped to both rails; tables
 * of a row hang together by jumpers; the rows join a trench, which is closed to a ring.
 */
export function arrayRows(
  random: RandomStream,
  rows: number,
  tablesPerRow: number,
  modulesPerTable: number,
): Network {
  const near = (g: number) => g * Math.exp(0.3 * random.normal())
  const edges: Edge[] = []
  let next = rows
  for (let row = 0; row < rows; row++) {
    if (rows > 1 && (row > 0 || rows > 2)) edges.push([row, (row + 1) % rows, near(200)])
    let end = row
    for (let table = 0; table < tablesPerRow; table++) {
      const base = next
      next += 3 * modulesPerTable
      edges.push([end, base, near(500)])
      for (let m = 0; m < modulesPerTable; m++) {
        const [top, bottom, module] = [base + m, base + modulesPerTable + m, base + 2 * modulesPerTable + m]
        if (m > 0) edges.push([top - 1, top, near(3000)], [bottom - 1, bottom, near(3000)])
        edges.push([top, module, near(1000)], [bottom, module, near(1000)])
        if (random.uniform() < 0.5) edges.push([top, module, near(1000)])
      }
      end = base + modulesPerTable - 1
    }
  }
  return networkOf(next, edges)
}

/** The networks side by side, nodes of each renumbered behind those of the one before. */
export function sideBySide(networks: readonly Network[]): Network {
  const edges: Edge[] = []
  const islandOf: number[] = []
  const reference: number[] = []
  for (const [island, network] of networks.entries()) {
    const base = islandOf.length
    for (const [u, v, g] of edgesOf(network)) edges.push([base + u, base + v, g])
    reference.push(base + network.reference[0])
    for (let v = 0; v < network.graph.nodeCount; v++) islandOf.push(island)
  }
  const { graph, conductanceS } = networkOf(islandOf.length, edges)
  return { graph, conductanceS, islandOf: Int32Array.from(islandOf), reference: Int32Array.from(reference) }
}

/** The same network with node v called name[v]. */
export function renamed(network: Network, name: Int32Array): Network {
  const islandOf = new Int32Array(name.length)
  for (let v = 0; v < name.length; v++) islandOf[name[v]] = network.islandOf[v]
  return {
    graph: {
      nodeCount: name.length,
      from: network.graph.from.map((v) => name[v]),
      to: network.graph.to.map((v) => name[v]),
    },
    conductanceS: network.conductanceS,
    islandOf,
    reference: network.reference.map((v) => name[v]),
  }
}

export function shuffled(random: RandomStream, count: number): Int32Array {
  const result = Int32Array.from({ length: count }, (_, i) => i)
  for (let i = count - 1; i > 0; i--) {
    const j = random.integer(i + 1)
    const held = result[i]
    result[i] = result[j]
    result[j] = held
  }
  return result
}

export function edgesOf({ graph, conductanceS }: Network): [number, number, number][] {
  return Array.from(conductanceS, (g, e) => [graph.from[e], graph.to[e], g])
}
