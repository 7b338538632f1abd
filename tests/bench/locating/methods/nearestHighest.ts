import type { Belief } from '../belief.ts'
import type { TypedSite } from '../typedSite.ts'
import { judge, withCertainty } from './passFail.ts'

/** Steps from a part to every other along joints. */
function stepsFrom({ prepared }: TypedSite, node: number): Int32Array {
  const { adjacency, graph, isMetal } = prepared.network
  const steps = new Int32Array(graph.nodeCount).fill(-1)
  const queue = [node]
  steps[node] = 0
  for (const at of queue) {
    for (let s = adjacency.start[at]; s < adjacency.start[at + 1]; s++) {
      const next = adjacency.neighbour[s]
      if (steps[next] >= 0 || isMetal[adjacency.edge[s]] === 0) continue
      steps[next] = steps[at] + 1
      queue.push(next)
    }
  }
  return steps
}

/** What many do by hand: the reading furthest above what it should be, and the joint nearest to its far end that carries it. */
export function nearestToHighest(typed: TypedSite): Belief {
  const { readings, prepared } = typed
  const { network } = prepared
  const { fails, excessOhm } = judge(typed)
  if (fails.length === 0) return withCertainty(typed, 'nothing')
  const highest = fails.reduce((a, b) => (excessOhm[b] > excessOhm[a] ? b : a))
  const { b, squared } = readings[highest]
  const steps = stepsFrom(typed, b)
  const { from, to } = network.graph
  let best = -1
  let bestSteps = Infinity
  for (let e = 0; e < network.edgeCount; e++) {
    if (network.defectRate[e] === 0 || squared[e] < 0.01) continue
    const away = Math.min(steps[from[e]], steps[to[e]])
    if (away < 0) continue
    if (away < bestSteps || (away === bestSteps && squared[e] > squared[best])) {
      best = e
      bestSteps = away
    }
  }
  return withCertainty(typed, best < 0 ? 'nothing' : new Map([[best, 1]]))
}
