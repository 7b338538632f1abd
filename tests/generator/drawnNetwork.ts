import { assert } from '../../src/base/assert.ts'
import { indexSite } from '../../src/layout/siteIndex.ts'
import type { Drawing } from '../../src/model/schema/drawing.ts'
import { findBlocks } from '../../src/network/blocks.ts'
import { compileNetwork, type Network } from '../../src/network/compile.ts'
import { jointMedianOhm } from '../../src/network/earthPath.ts'
import { adjacencyOf } from '../../src/network/graph.ts'
import { chooseReferences, findIslands } from '../../src/network/islands.ts'

/**
 * The bond network of a drawing as it was meant to be, at its ambient temperature. Of its soil it has less than the program:
 * every earth path leads to remote earth by itself.
 */
export function drawnNetwork(drawing: Drawing): Network {
  const index = indexSite(drawing)
  assert(index.ok, 'the drawing has problems')
  const job = compileNetwork(drawing, index.value, { countIncidental: true, asBuilt: false })
  let step = job.next()
  while (!step.done) step = job.next()
  assert(step.value.ok, 'the drawing does not compile')
  return soilAlone(step.value.value)
}

/** The network with what soil its earth paths share taken out: each has the ohms that it reads alone. */
function soilAlone(network: Network): Network {
  const { edgeCount, remoteEarth } = network
  if (network.soil.nodeCount === 0) return network
  const joints = <A extends { slice(from: number, to: number): A }>(ofEdges: A) => ofEdges.slice(0, edgeCount)
  const graph = {
    nodeCount: remoteEarth + 1,
    from: joints(network.graph.from),
    to: joints(network.graph.to).map((node) => Math.min(node, remoteEarth)),
  }
  const adjacency = adjacencyOf(graph)
  const islands = findIslands(graph, adjacency)
  const { blocks } = network.metal
  return {
    ...network,
    graph,
    adjacency,
    jointOfEdge: joints(network.jointOfEdge),
    medianOhm: Float64Array.from({ length: edgeCount }, (_, e) => jointMedianOhm(network, e)),
    fixedOhm: joints(network.fixedOhm),
    lnSpread: joints(network.lnSpread),
    defectRate: joints(network.defectRate),
    kind: joints(network.kind),
    isEarthPath: joints(network.isEarthPath),
    isMetal: joints(network.isMetal),
    soil: { nodeCount: 0, aloneOhm: new Map<number, number>() },
    partKind: network.partKind.slice(0, graph.nodeCount),
    metal: {
      ...network.metal,
      blocks: { ...blocks, isBridge: joints(blocks.isBridge), blockOf: joints(blocks.blockOf) },
    },
    electrical: { islands, blocks: findBlocks(graph, adjacency) },
    references: chooseReferences(graph, islands, remoteEarth),
  }
}
