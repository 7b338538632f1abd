import { describe, expect, it } from 'vitest'
import { randomStream } from '../../src/base/random.ts'
import { findBlocks } from '../../src/network/blocks.ts'
import { loopConductanceS, rowsFromPotentials } from '../../src/network/jointSweep.ts'
import { laterEdges } from '../../src/network/laterEdges.ts'
import { currentsOfPair, emptyEdgeSquares, type CurrentSource } from '../../src/network/pairCurrents.ts'
import { edgeResistance, leverageOf } from '../../src/network/leverage.ts'
import { sharpenSlack } from '../../src/network/pathBeside.ts'
import { pairPotentials } from '../../src/network/solve.ts'
import { throughOf } from '../../src/network/through.ts'
import { grid, randomConnected, randomTree, type Network } from './randomNetworks.ts'
import { runToEnd } from './runToEnd.ts'
import { solved } from './solved.ts'

type TestSource = CurrentSource & { readonly loopS: Float64Array; readonly isBridge: Uint8Array }

function sourceOf(network: Network): TestSource {
  const solver = solved(network)
  const { factor, adjacency, conductanceS } = solver
  const { isBridge } = findBlocks(network.graph, adjacency)
  const endsOhm = runToEnd(edgeResistance(factor, network.graph))
  const rough = leverageOf(endsOhm, conductanceS, isBridge)
  const loopS = loopConductanceS(conductanceS, runToEnd(sharpenSlack(solver, rough, isBridge)).slack)
  const through = runToEnd(throughOf(factor, adjacency, conductanceS, loopS))
  const isEarthPath = new Uint8Array(conductanceS.length)
  const facts = { conductanceS, isEarthPath, isBridge }
  const later = runToEnd(laterEdges(factor.pattern, adjacency, facts))
  return { factor, later, ...facts, soilFactor: 1, through, loopS }
}

/** All squared currents of a pair, by the full solve. */
function allSquares(source: TestSource, network: Network, a: number, b: number): Float64Array {
  const { graph } = network
  const potentialV = pairPotentials(source.factor, a, b, new Float64Array(graph.nodeCount))
  const squared = new Float64Array(graph.from.length)
  const fill = rowsFromPotentials(graph, source.conductanceS, source.isBridge, [potentialV])
  fill({ first: 0, count: squared.length, readingCount: 1, squared })
  return squared
}

/** A chain of meshes, each with a weak path to the last node: what a row of tables on posts looks like. */
function groundedChain(cells: number, earthS: number): Network {
  const random = randomStream(5)
  const edges: (readonly [number, number, number])[] = []
  const earth = 6 * cells
  for (let c = 0; c < cells; c++) {
    const first = 6 * c
    for (let k = 0; k < 6; k++) {
      edges.push([first + k, first + ((k + 1) % 6), 100 * (0.5 + random.uniform())])
      edges.push([first + k, first + ((k + 2) % 6), 100 * (0.5 + random.uniform())])
    }
    edges.push([first, earth, earthS * (0.5 + random.uniform())])
    if (c + 1 < cells) edges.push([first + 5, first + 6, 300])
  }
  return {
    graph: {
      nodeCount: earth + 1,
      from: Int32Array.from(edges, ([u]) => u),
      to: Int32Array.from(edges, ([, v]) => v),
    },
    conductanceS: Float64Array.from(edges, ([, , g]) => g),
    islandOf: new Int32Array(earth + 1),
    reference: Int32Array.of(earth),
  }
}

const random = randomStream(31)
const networks: readonly (readonly [string, Network])[] = [
  ['random, conductances over four decades', randomConnected(random, 120, 90, 2)],
  ['random, conductances over twelve decades', randomConnected(random, 200, 100, 6)],
  ['tree', randomTree(random, 80)],
  ['grid', grid(14, 17, () => 0.2 + random.uniform())],
  ['chain of meshes on earth', groundedChain(60, 0.05)],
  ['chain of meshes on good earth', groundedChain(60, 40)],
]

describe('currents of a pair where they matter', () => {
  it.each(networks)(
    'are those of the full solve to the last bit, and none that matters is missed: %s',
    (_, network) => {
      const source = sourceOf(network)
      const { nodeCount } = network.graph
      const out = emptyEdgeSquares(4)
      const potentialV = new Float64Array(nodeCount)
      for (let trial = 0; trial < 60; trial++) {
        const a = random.integer(nodeCount)
        const b = (a + 1 + random.integer(nodeCount - 1)) % nodeCount
        const expected = allSquares(source, network, a, b)
        for (const leastOhm of [1e-3, 1e-6, 1e-9, 0]) {
          runToEnd(currentsOfPair(source, a, b, leastOhm, out, potentialV))
          const found = new Float64Array(expected.length)
          for (let k = 0; k < out.count; k++) found[out.edge[k]] += out.squared[k]
          let wrong = 0
          let leftOut = 0
          let leftOutOhm = 0
          expected.forEach((square, e) => {
            if (found[e] === square) return
            leftOut++
            leftOutOhm = Math.max(leftOutOhm, square / source.conductanceS[e])
            if (found[e] !== 0 || square >= leastOhm * (1 + 1e-9) * source.loopS[e]) wrong++
          })
          expect(wrong).toBe(0)
          expect(leftOutOhm).toBeLessThanOrEqual(leastOhm * (1 + 1e-9))
          if (leastOhm === 0) expect(leftOut).toBe(0)
        }
      }
      expect(potentialV.every((x) => x === 0)).toBe(true)
    },
  )

  it('leaves out what they do not reach', () => {
    const network = groundedChain(2000, 5)
    const source = sourceOf(network)
    const out = emptyEdgeSquares()
    const potentialV = new Float64Array(network.graph.nodeCount)
    runToEnd(currentsOfPair(source, 6 * 1000, 6 * 1003 + 2, 1e-7, out, potentialV))
    const cells = Array.from(out.edge.subarray(0, out.count), (e) => Math.floor(network.graph.from[e] / 6))
    expect(cells).toContain(1001)
    expect(out.count).toBeLessThan(0.2 * network.graph.from.length)
  })
})

describe('what passes through a part', () => {
  it('is no less than what the full solve sends into it, at any potentials of its edge', () => {
    for (const [, network] of networks) {
      const source = sourceOf(network)
      const { pattern } = source.factor
      const { subtreeStart, betweenS, toReferenceS } = source.through
      const { position, parent, start, row, root } = pattern
      const [a, b] = [0, network.graph.nodeCount - 1]
      const potentialV = pairPotentials(source.factor, a, b, new Float64Array(network.graph.nodeCount))
      const x = (at: number) => potentialV[pattern.order[at]]
      const squared = allSquares(source, network, a, b)
      for (let j = 0; j < pattern.nodeCount; j++) {
        if (parent[j] < 0) continue
        const isInside = (at: number) => at >= subtreeStart[j] && at <= j
        if (isInside(position[a]) || isInside(position[b])) continue
        const rows = Array.from(row.subarray(start[j], start[j + 1])).filter((i) => i !== root[j])
        const values = rows.map(x)
        const bound =
          rows.length === 0
            ? 0
            : betweenS[j] * (Math.max(...values) - Math.min(...values)) +
              toReferenceS[j] * Math.max(...values.map(Math.abs))
        let largest = 0
        network.graph.from.forEach((from, e) => {
          if (isInside(Math.min(position[from], position[network.graph.to[e]])))
            largest = Math.max(largest, squared[e])
        })
        expect(Math.sqrt(largest)).toBeLessThanOrEqual(bound * (1 + 1e-9) + 1e-9)
      }
    }
  })
})
