import { portion } from '../base/portion.ts'
import { assert } from '../base/assert.ts'
import { blocksInPortions } from './blocks.ts'
import type { Network } from './compile.ts'
import { adjacencyInPortions } from './graph.ts'
import { chooseReferences, islandsInPortions } from './islands.ts'

/** An edge that is not as compiled; `ohm` null: open. */
export interface AlteredEdge {
  readonly edge: number
  readonly ohm: number | null
}

/**
 * The network with some edges at other ohms, or open. Edges and nodes keep their numbers: an open edge hangs at its
 * first end, its other end is a new node after all others, where nothing else lands. Structure is searched anew.
 * O(nodes + edges). Yields the fraction done. Throws on ohms that are not above 0.
 */
export function* alterNetwork(network: Network, altered: readonly AlteredEdge[]): Generator<number, Network> {
  const { graph, isMetal, remoteEarth, index } = network
  const to = graph.to.slice()
  const medianOhm = network.medianOhm.slice()
  const fixedOhm = network.fixedOhm.slice()
  let nodeCount = graph.nodeCount
  for (const { edge, ohm } of altered) {
    if (ohm === null) {
      to[edge] = nodeCount++
      continue
    }
    assert(ohm > 0 && ohm < Infinity, `a joint cannot have ${ohm} ohm`)
    medianOhm[edge] = ohm
    fixedOhm[edge] = Math.min(fixedOhm[edge], ohm)
  }
  const partKind = new Uint8Array(nodeCount).fill(network.partKind[remoteEarth])
  partKind.set(network.partKind)
  const whole = { nodeCount, from: graph.from, to }
  const adjacency = yield* portion(adjacencyInPortions(whole), 0, 0.15)
  // an open end is no part: metal is searched without it
  const isMetalNow = isMetal.slice()
  for (const { edge, ohm } of altered) if (ohm === null) isMetalNow[edge] = 0
  const parts = { nodeCount: index.partCount + 1, from: graph.from, to }
  const metalIslands = yield* portion(islandsInPortions(parts, adjacency, isMetalNow), 0.15, 0.15)
  const metalBlocks = yield* portion(blocksInPortions(parts, adjacency, isMetalNow), 0.3, 0.25)
  const islands = yield* portion(islandsInPortions(whole, adjacency), 0.55, 0.15)
  const blocks = yield* portion(blocksInPortions(whole, adjacency), 0.7, 0.3)
  return {
    ...network,
    graph: whole,
    medianOhm,
    fixedOhm,
    partKind,
    isMetal: isMetalNow,
    adjacency,
    metal: { islands: metalIslands, blocks: metalBlocks },
    electrical: { islands, blocks },
    references: chooseReferences(whole, islands, remoteEarth),
  }
}
