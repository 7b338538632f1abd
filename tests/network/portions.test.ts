import { describe, expect, it } from 'vitest'
import { inPortions, portionSteps } from '../../src/base/portion.ts'
import { blocksInPortions } from '../../src/network/blocks.ts'
import { adjacencyInPortions, adjacencyOf, type Graph } from '../../src/network/graph.ts'
import { islandsInPortions } from '../../src/network/islands.ts'
import { prepareSolver } from '../../src/network/solver.ts'

const squares = 30_000

/** Squares of four nodes and four edges in a row, each tied to the next by one edge: the fifth of each five. */
function chainOfSquares(): Graph {
  const from: number[] = []
  const to: number[] = []
  for (let s = 0; s < squares; s++) {
    for (let k = 0; k < 4; k++) {
      from.push(4 * s + k)
      to.push(4 * s + ((k + 1) % 4))
    }
    if (s + 1 === squares) break
    from.push(4 * s + 2)
    to.push(4 * s + 4)
  }
  return { nodeCount: 4 * squares, from: Int32Array.from(from), to: Int32Array.from(to) }
}

const graph = chainOfSquares()
const edgeCount = graph.from.length
const isSide = Uint8Array.from(graph.from, (_, e) => (e % 5 === 4 ? 0 : 1))

/** Runs a job to its end; counts its pauses and checks that the fractions do not fall. */
function counted<T>(job: Generator<number, T>): { result: T; pauses: number } {
  let pauses = 0
  let reached = 0
  for (;;) {
    const step = job.next()
    if (step.done) return { result: step.value, pauses }
    expect(step.value).toBeGreaterThan(reached - 1e-12)
    expect(step.value).toBeLessThan(1 + 1e-12)
    reached = step.value
    pauses++
  }
}

describe('work in portions', () => {
  it('covers everything once, with a pause after each portion', () => {
    const stretches: number[][] = []
    const count = 2 * portionSteps + 5
    const { pauses } = counted(inPortions(count, (first, end) => stretches.push([first, end])))
    expect(stretches).toEqual([
      [0, portionSteps],
      [portionSteps, 2 * portionSteps],
      [2 * portionSteps, count],
    ])
    expect(pauses).toBe(3)
    expect(counted(inPortions(0, () => stretches.push([]))).pauses).toBe(0)
    expect(stretches).toHaveLength(3)
  })

  it('adjacency pauses on both of its passes over the edges', () => {
    const { result, pauses } = counted(adjacencyInPortions(graph))
    expect(pauses).toBeGreaterThanOrEqual(2 * Math.floor(edgeCount / portionSteps))
    expect([...result.start.subarray(0, 6)]).toEqual([0, 2, 4, 7, 9, 12])
    expect([...result.neighbour.subarray(result.start[2], result.start[3])]).toEqual([1, 3, 4])
    expect([...result.edge.subarray(result.start[2], result.start[3])]).toEqual([1, 2, 4])
  })

  it('islands are found across pauses', () => {
    const adjacency = adjacencyOf(graph)
    const whole = counted(islandsInPortions(graph, adjacency))
    expect(whole.result.count).toBe(1)
    expect(whole.pauses).toBeGreaterThanOrEqual(Math.floor((2 * edgeCount) / portionSteps))
    const { of, size, count } = counted(islandsInPortions(graph, adjacency, isSide)).result
    expect(count).toBe(squares)
    expect(size.every((nodes) => nodes === 4)).toBe(true)
    expect(of.every((island, v) => island === Math.floor(v / 4))).toBe(true)
  })

  it('blocks and bridges are found across pauses', () => {
    const { result, pauses } = counted(blocksInPortions(graph, adjacencyOf(graph)))
    expect(pauses).toBeGreaterThanOrEqual(Math.floor((3 * edgeCount) / portionSteps))
    expect(result.blockCount).toBe(2 * squares - 1)
    expect(result.isBridge.every((is, e) => is === 1 - isSide[e])).toBe(true)
    expect(result.blockOf.every((block, e) => block === 2 * Math.floor(e / 5) + (e % 5 === 4 ? 1 : 0))).toBe(
      true,
    )
    const isTied = (v: number) => (v % 4 === 0 && v > 0) || (v % 4 === 2 && v < 4 * squares - 4)
    expect(result.isCut.every((is, v) => is === (isTied(v) ? 1 : 0))).toBe(true)
  })

  it('a solver pauses all along, and a job that is stopped at any pause ends there', () => {
    const conductanceS = new Float64Array(edgeCount).fill(1)
    const start = () =>
      prepareSolver(
        graph,
        conductanceS,
        new Int32Array(graph.nodeCount),
        Int32Array.of(0),
        adjacencyOf(graph),
      )
    const { pauses } = counted(start())
    // island check, order, pattern and factor each look at every edge or node several times
    expect(pauses).toBeGreaterThan((12 * edgeCount) / portionSteps)
    for (const at of [1, Math.floor(pauses / 3), pauses - 1]) {
      const job = start()
      for (let k = 0; k < at; k++) expect(job.next().done).toBe(false)
      expect(job.return(undefined as never)).toEqual({ value: undefined, done: true })
      expect(job.next()).toEqual({ value: undefined, done: true })
    }
  })
})
