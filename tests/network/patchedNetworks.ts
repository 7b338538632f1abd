import type { RandomStream } from '../../src/base/random.ts'
import type { Graph } from '../../src/network/graph.ts'

/** A graph from a list of edges. */
export function graphOf(nodeCount: number, edges: readonly (readonly [number, number])[]): Graph {
  return {
    nodeCount,
    from: Int32Array.from(edges, ([u]) => u),
    to: Int32Array.from(edges, ([, v]) => v),
  }
}

export interface Network {
  readonly graph: Graph
  readonly conductanceS: Float64Array
}

/**
 * Patches of random mesh hung together by bridges, some left apart: parallel edges, trees hanging out, nodes
 * without edges and several islands all occur. Nodes and edges are numbered and directed at random.
 * Conductances spread log-normally about 1 S by `lnSpread`.
 */
export function patchedNetwork(random: RandomStream, nodeCount: number, lnSpread = 1): Network {
  const edges: [number, number][] = []
  let patchStart = 0
  for (let v = 1; v < nodeCount; v++) {
    const chance = random.uniform()
    if (chance < 0.04) {
      patchStart = v
      continue
    }
    edges.push([random.integer(v - patchStart) + patchStart, v])
    if (chance < 0.12) patchStart = v
    else if (chance < 0.75) edges.push([random.integer(v - patchStart) + patchStart, v])
    if (chance > 0.92) edges.push([...edges[edges.length - 1]])
  }
  const name = shuffled(random, nodeCount)
  const order = shuffled(random, edges.length)
  const graph = graphOf(
    nodeCount,
    Array.from(order, (k) => {
      const [u, v] = edges[k]
      return random.uniform() < 0.5 ? ([name[u], name[v]] as const) : ([name[v], name[u]] as const)
    }),
  )
  return { graph, conductanceS: Float64Array.from(edges, () => Math.exp(lnSpread * random.normal())) }
}

export function shuffled(random: RandomStream, count: number): Int32Array {
  const order = Int32Array.from({ length: count }, (_, k) => k)
  for (let k = count - 1; k > 0; k--) {
    const other = random.integer(k + 1)
    const kept = order[k]
    order[k] = order[other]
    order[other] = kept
  }
  return order
}
