import type { Network } from './compile.ts'
import { isBuriedPart, piecesOfPart } from './drawnPieces.ts'
import { jointMedianOhm } from './earthPath.ts'
import { earthPathKind } from './jointOhm.ts'

/** Buried metal that gives off current, piece by piece, each as an upright rod from the surface down. */
export interface SoilLeaks {
  readonly soilOhmM: number
  readonly xM: Float64Array
  readonly yM: Float64Array
  readonly lengthM: Float64Array
  readonly radiusM: Float64Array
  /** Amperes into soil, less than 0 where they come out of it. */
  readonly leakA: Float64Array
  /** Volts on the piece itself from its own current: what its surface can have at most. */
  readonly selfV: Float64Array
}

/** Leaks between two pauses. */
const leaksAtOnce = 1024

/**
 * The current that each post and electrode gives off, from the currents of the network's edges: posts and rods at one place,
 * strips evenly along their length. Earth paths that were entered as joints have no place and are left out. O(edges). Yields the
 * fraction done.
 */
export function* soilLeaks(network: Network, edgeA: Float64Array): Generator<number, SoilLeaks> {
  const { index, edgeCount, graph, isEarthPath, jointOfEdge, kind, kinds } = network
  const { soilOhmM } = index.drawing.facts
  const { extraJointStart, electrodeJointStart } = index
  const found: number[] = []
  let since = 0
  for (let e = 0; e < edgeCount; e++) {
    if (isEarthPath[e] === 0 || edgeA[e] === 0 || kinds[kind[e]].id !== earthPathKind) continue
    const isEntered = jointOfEdge[e] >= extraJointStart && jointOfEdge[e] < electrodeJointStart
    if (isEntered || !isBuriedPart(index, graph.from[e])) continue
    const alonePerM = jointMedianOhm(network, e) / soilOhmM
    if (++since % leaksAtOnce === 0) yield e / edgeCount
    const pieces = piecesOfPart(index, graph.from[e], alonePerM)
    for (const { atM, lengthM, radiusM, selfPerM } of pieces) {
      const leakA = edgeA[e] / pieces.length
      found.push(atM.x, atM.y, lengthM, radiusM, leakA, soilOhmM * selfPerM * Math.abs(leakA))
    }
  }
  const column = (k: number) => Float64Array.from({ length: found.length / 6 }, (_, p) => found[6 * p + k])
  return {
    soilOhmM,
    xM: column(0),
    yM: column(1),
    lengthM: column(2),
    radiusM: column(3),
    leakA: column(4),
    selfV: column(5),
  }
}
