import type { Basis, NetworkNote } from '../model/answers.ts'
import type { Network } from '../network/compile.ts'
import { acrossJoint, jointMedianOhm } from '../network/earthPath.ts'
import type { PreparedNetwork } from '../network/prepare.ts'

/**
 * The whole network in typed arrays, which a worker can hand over without copying: no string and no object
 * for a part or a joint. Addresses follow from the numbers by the site's index (`networkRows.ts`).
 * Nodes 0 … partCount − 1 are parts, partCount is remote earth, those after it are places in soil. Edges 0 … edgeCount − 1 are
 * joints, those after them soil between such places; the arrays `from` … `isEarthPath` have one entry per edge.
 */
export interface NetworkAnswer {
  readonly basis: Basis
  readonly notes: readonly NetworkNote[]
  readonly partCount: number
  readonly nodeCount: number
  readonly edgeCount: number
  /** Of parts and remote earth. */
  readonly metalSection: Int32Array
  readonly electricalIsland: Int32Array
  /** Nodes in each electrical island. */
  readonly islandSize: Int32Array
  /** One node per electrical island whose potential is taken as zero. */
  readonly references: Int32Array
  readonly jointOfEdge: Int32Array
  readonly from: Int32Array
  readonly to: Int32Array
  readonly kindNames: readonly string[]
  readonly kind: Uint16Array
  /** Of joints; of an earth path what it reads alone to remote earth. */
  readonly medianOhm: Float64Array
  /** What the edge itself has in the network: of an earth path, its own share. */
  readonly edgeOhm: Float64Array
  readonly lnSpread: Float64Array
  readonly defectRate: Float64Array
  readonly leverage: Float64Array
  /** Across a joint, with it sound and with it open (`acrossJoint`); Infinity where nothing else joins its ends. */
  readonly soundOhm: Float64Array
  readonly openOhm: Float64Array
  readonly isMetalBridge: Uint8Array
  readonly isEarthPath: Uint8Array
}

/** Everything known about each edge; across its own ends an open joint reads R / (1 − h). O(parts + joints). */
export function networkAnswerOf(prepared: PreparedNetwork, basis: Basis): NetworkAnswer {
  const { network, leverage } = prepared
  const { graph, metal, electrical } = network
  return {
    basis,
    notes: network.notes,
    partCount: network.index.partCount,
    nodeCount: graph.nodeCount,
    edgeCount: network.edgeCount,
    metalSection: metal.islands.of,
    electricalIsland: electrical.islands.of,
    islandSize: electrical.islands.size,
    references: network.references,
    jointOfEdge: network.jointOfEdge,
    from: graph.from,
    to: graph.to,
    kindNames: network.kinds.map(({ id }) => id),
    kind: network.kind,
    medianOhm: jointMedians(network),
    edgeOhm: network.medianOhm,
    lnSpread: network.lnSpread,
    defectRate: network.defectRate,
    leverage,
    ...readings(prepared),
    isMetalBridge: network.metal.blocks.isBridge,
    isEarthPath: network.isEarthPath,
  }
}

function jointMedians(network: Network): Float64Array {
  const { medianOhm, edgeCount, soil } = network
  if (soil.nodeCount === 0) return medianOhm
  const whole = medianOhm.slice(0, edgeCount)
  for (let e = 0; e < edgeCount; e++) if (network.isEarthPath[e] === 1) whole[e] = jointMedianOhm(network, e)
  return whole
}

function readings(prepared: PreparedNetwork): Pick<NetworkAnswer, 'soundOhm' | 'openOhm'> {
  const { network, endsOhm, slack } = prepared
  const soundOhm = endsOhm.slice(0, network.edgeCount)
  const openOhm = new Float64Array(network.edgeCount)
  for (let e = 0; e < openOhm.length; e++) {
    openOhm[e] = slack[e] === 0 ? Infinity : endsOhm[e] / slack[e]
    if (network.isEarthPath[e] === 0) continue
    const across = acrossJoint(prepared, e)
    soundOhm[e] = across.soundOhm
    openOhm[e] = across.openOhm
  }
  return { soundOhm, openOhm }
}
