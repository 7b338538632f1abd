import type { Basis, NetworkNote } from '../model/answers.ts'
import type { PreparedNetwork } from '../network/prepare.ts'

/**
 * The whole network in typed arrays, which a worker can hand over without copying: no string and no object
 * for a part or a joint. Addresses follow from the numbers by the site's index (`networkRows.ts`).
 * Node numbers are those of parts, remote earth last; the arrays `from` … `isEarthPath` have one entry per edge.
 */
export interface NetworkAnswer {
  readonly basis: Basis
  readonly notes: readonly NetworkNote[]
  readonly nodeCount: number
  readonly edgeCount: number
  readonly metalSection: Int32Array
  readonly electricalIsland: Int32Array
  /** Parts in each electrical island, remote earth counted as one. */
  readonly islandSize: Int32Array
  /** One node per electrical island whose potential is taken as zero. */
  readonly references: Int32Array
  readonly jointOfEdge: Int32Array
  readonly from: Int32Array
  readonly to: Int32Array
  readonly kindNames: readonly string[]
  readonly kind: Uint16Array
  readonly medianOhm: Float64Array
  readonly lnSpread: Float64Array
  readonly defectRate: Float64Array
  readonly leverage: Float64Array
  /** Across an edge's own ends, with it sound and with it open; Infinity where nothing else joins them. */
  readonly soundOhm: Float64Array
  readonly openOhm: Float64Array
  readonly isMetalBridge: Uint8Array
  readonly isEarthPath: Uint8Array
}

/** Everything known about each edge; across its own ends an open joint reads R / (1 − h). O(parts + joints). */
export function networkAnswerOf(
  { network, endsOhm, leverage, slack }: PreparedNetwork,
  basis: Basis,
): NetworkAnswer {
  const { graph, metal, electrical } = network
  return {
    basis,
    notes: network.notes,
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
    medianOhm: network.medianOhm,
    lnSpread: network.lnSpread,
    defectRate: network.defectRate,
    leverage,
    soundOhm: endsOhm,
    openOhm: openOhms(endsOhm, slack),
    isMetalBridge: network.metal.blocks.isBridge,
    isEarthPath: network.isEarthPath,
  }
}

function openOhms(endsOhm: Float64Array, slack: Float64Array): Float64Array {
  const openOhm = new Float64Array(endsOhm.length)
  for (let e = 0; e < openOhm.length; e++) openOhm[e] = slack[e] === 0 ? Infinity : endsOhm[e] / slack[e]
  return openOhm
}
