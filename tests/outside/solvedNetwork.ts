import { randomStream } from '../../src/base/random.ts'
import { findBlocks } from '../../src/network/blocks.ts'
import { edgeCurrents, settleBridgeCurrents } from '../../src/network/currents.ts'
import { cutLabels } from '../../src/network/cutLabels.ts'
import type { Graph } from '../../src/network/graph.ts'
import { adjacencyOf } from '../../src/network/graph.ts'
import { chooseReferences, findIslands } from '../../src/network/islands.ts'
import { jointSetKernel, memberCurrents, resistanceWithSet, settleSet } from '../../src/network/jointSet.ts'
import { edgeResistance, leverageOf } from '../../src/network/leverage.ts'
import { pairResistance } from '../../src/network/pairResistance.ts'
import { pairPotentials } from '../../src/network/solve.ts'
import { prepareSolver } from '../../src/network/solver.ts'
import { sharpenSlack } from '../../src/network/pathBeside.ts'

/** A network with everything that the kernels say about it, put together as the program does it. */
export function solve(
  graph: Graph,
  conductanceS: Float64Array = new Float64Array(graph.from.length).fill(1),
) {
  const adjacency = adjacencyOf(graph)
  const islands = findIslands(graph, adjacency)
  const reference = chooseReferences(graph, islands)
  const { factor } = finish(prepareSolver(graph, conductanceS, islands.of, reference))
  const { isBridge } = findBlocks(graph, adjacency)
  const endsOhm = finish(edgeResistance(factor, graph))
  const { leverage, slack } = finish(
    sharpenSlack(
      { graph, adjacency, conductanceS, factor },
      leverageOf(endsOhm, conductanceS, isBridge),
      isBridge,
    ),
  )
  const labels = cutLabels(graph, adjacency, randomStream(2011))
  const resistance = (a: number, b: number) => pairResistance(factor, a, b)
  const potentials = (a: number, b: number) => pairPotentials(factor, a, b, new Float64Array(graph.nodeCount))
  const currents = (a: number, b: number) =>
    settleBridgeCurrents(
      isBridge,
      edgeCurrents(graph, conductanceS, potentials(a, b), new Float64Array(graph.from.length)),
    )
  const setKernel = (members: Int32Array) =>
    jointSetKernel(
      graph,
      labels,
      conductanceS,
      slack,
      members,
      Array.from(members, (e) => potentials(graph.from[e], graph.to[e])),
    )
  /** Resistances with some joints raised or open, from the kernel of the set. */
  const withSet = (members: ArrayLike<number>, addedOhm: ArrayLike<number>) => {
    const set = setKernel(Int32Array.from(members))
    const settled = settleSet(set, addedOhm)
    const room = new Float64Array(members.length)
    return (a: number, b: number) => {
      const base = resistance(a, b)
      const i = base < Infinity ? memberCurrents(set, a, b, room.slice()) : room
      return resistanceWithSet(settled, a, b, base, i, room.slice())
    }
  }
  const withOpen = (members: ArrayLike<number>) =>
    withSet(members, new Float64Array(members.length).fill(Infinity))
  return {
    graph,
    conductanceS,
    islands,
    isBridge,
    endsOhm,
    leverage,
    slack,
    resistance,
    potentials,
    currents,
    setKernel,
    withSet,
    withOpen,
  }
}

function finish<T>(job: Generator<number, T>): T {
  for (;;) {
    const step = job.next()
    if (step.done === true) return step.value
  }
}

/** The largest |a − b| / |b| over two lists. */
export function worstRelative(found: ArrayLike<number>, expected: ArrayLike<number>): number {
  let worst = 0
  for (let k = 0; k < expected.length; k++) {
    worst = Math.max(worst, Math.abs(found[k] - expected[k]) / Math.abs(expected[k]))
  }
  return found.length === expected.length ? worst : Infinity
}
