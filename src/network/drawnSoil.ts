import { portion } from '../base/portion.ts'
import type { SiteIndex } from '../layout/siteIndex.ts'
import { isBuriedPart, drawnPieces } from './drawnPieces.ts'
import type { EdgeList } from './edgeList.ts'
import { coupleElectrodes } from './soilNetwork.ts'

/** Soil between the earth paths of a drawing, behind its joints. */
export interface DrawnSoil {
  /** Places in soil; their nodes follow that of remote earth. */
  readonly nodeCount: number
  /** What an earth path that leads there reads alone to remote earth, by its edge. */
  readonly aloneOhm: ReadonlyMap<number, number>
}

const noSoil: DrawnSoil = { nodeCount: 0, aloneOhm: new Map() }

/**
 * Leads the earth paths of posts and electrodes into the soil that they share: each keeps what is its own, branches without
 * a joint carry the rest on to remote earth. An earth path that was entered as a joint has no place in soil and
 * stays as it is. The list given is changed; the list returned is longer. O(edges + posts · log posts).
 */
export function* shareSoil(
  index: SiteIndex,
  list: EdgeList,
  earthPathKind: number,
  soilOhmM: number,
): Generator<number, { readonly list: EdgeList; readonly soil: DrawnSoil }> {
  const edges = buriedEdges(index, list, earthPathKind)
  if (edges.length < 2) return { list, soil: noSoil }
  const alonePerM = Float64Array.from(edges, (e) => list.medianOhm[e] / soilOhmM)
  const pieces = drawnPieces(
    index,
    edges.map((e) => list.from[e]),
    alonePerM,
  )
  yield 0.2
  const network = yield* portion(coupleElectrodes(pieces), 0.2, 0.8)
  const first = index.remoteEarth + 1
  const nodeOf = (place: number) => (place < 0 ? index.remoteEarth : first + place)
  const aloneOhm = new Map(edges.map((e) => [e, list.medianOhm[e]]))
  edges.forEach((e, k) => {
    list.to[e] = nodeOf(network.at[k])
    list.medianOhm[e] = network.ownPerM[k] * soilOhmM
  })
  const branches = network.perM.length
  const longer: EdgeList = {
    count: list.count + branches,
    jointOfEdge: lengthened(list.jointOfEdge, list.count, new Int32Array(branches).fill(-1)),
    from: lengthened(list.from, list.count, network.from.map(nodeOf)),
    to: lengthened(list.to, list.count, network.to.map(nodeOf)),
    medianOhm: lengthened(
      list.medianOhm,
      list.count,
      network.perM.map((ohm) => ohm * soilOhmM),
    ),
    fixedOhm: lengthened(list.fixedOhm, list.count, new Float64Array(branches)),
    lnSpread: lengthened(list.lnSpread, list.count, new Float64Array(branches)),
    defectRate: lengthened(list.defectRate, list.count, new Float64Array(branches)),
    kind: lengthened(list.kind, list.count, new Uint16Array(branches).fill(earthPathKind)),
    isEarthPath: lengthened(list.isEarthPath, list.count, new Uint8Array(branches).fill(1)),
  }
  return { list: longer, soil: { nodeCount: network.nodeCount, aloneOhm } }
}

/** Earth paths that belong to a post or an electrode and are made of soil alone. */
function buriedEdges(index: SiteIndex, list: EdgeList, earthPathKind: number): number[] {
  const edges: number[] = []
  const { remoteEarth, extraJointStart, electrodeJointStart } = index
  for (let e = 0; e < list.count; e++) {
    if (list.to[e] !== remoteEarth || list.kind[e] !== earthPathKind) continue
    const joint = list.jointOfEdge[e]
    const isEntered = joint >= extraJointStart && joint < electrodeJointStart
    if (!isEntered && isBuriedPart(index, list.from[e])) edges.push(e)
  }
  return edges
}

function lengthened<A extends Int32Array | Float64Array | Uint16Array | Uint8Array>(
  array: A,
  count: number,
  more: A,
): A {
  const longer = new (array.constructor as new (length: number) => A)(count + more.length)
  longer.set(array.subarray(0, count))
  longer.set(more, count)
  return longer
}
