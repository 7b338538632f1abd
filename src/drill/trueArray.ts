import type { RandomStream } from '../base/random.ts'
import { portion } from '../base/portion.ts'
import { alterNetwork } from '../network/alterNetwork.ts'
import type { Network } from '../network/compile.ts'
import type { Factor } from '../network/factor.ts'
import { prepareSolver } from '../network/solver.ts'

/** The joint that is not as it should be; `addedOhm` null: open. */
export interface HiddenJoint {
  readonly edge: number
  readonly addedOhm: number | null
}

/**
 * Ohms of every joint of one array out of all that the drawing allows: each sound joint about its median by the spread
 * of its kind (`fixedOhm`, its metal, stays), earth paths and wires as a whole. Soil between electrodes stays as stated. O(joints).
 */
export function drawOhms(network: Network, random: RandomStream): Float64Array {
  const { edgeCount, medianOhm, fixedOhm, lnSpread } = network
  const ohm = medianOhm.slice()
  for (let e = 0; e < edgeCount; e++) {
    const contact = medianOhm[e] - fixedOhm[e]
    const factor = Math.exp(lnSpread[e] * random.normal())
    ohm[e] = contact > 1e-12 * medianOhm[e] ? fixedOhm[e] + contact * factor : medianOhm[e] * factor
  }
  return ohm
}

/**
 * The array as it is in a drill, factored: every joint at ohms of its own, one of them bad. Exact between any two parts.
 * One factorisation. Yields the fraction done.
 */
export function* trueArray(
  network: Network,
  ohm: Float64Array,
  { edge, addedOhm }: HiddenJoint,
): Generator<number, Factor> {
  const own = addedOhm === null ? null : ohm[edge] + addedOhm
  const drawn = { ...network, medianOhm: ohm }
  const { graph, electrical, references, adjacency, medianOhm } = yield* portion(
    alterNetwork(drawn, [{ edge, ohm: own }]),
    0,
    0.3,
  )
  const conductanceS = medianOhm.map((each) => 1 / each)
  const { factor } = yield* portion(
    prepareSolver(graph, conductanceS, electrical.islands.of, references, adjacency),
    0.3,
    0.7,
  )
  return factor
}
