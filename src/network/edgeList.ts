import type { JointOhm } from './jointOhm.ts'

/** Edges being gathered: the first `count` entries of each array. */
export interface EdgeList {
  count: number
  readonly jointOfEdge: Int32Array
  readonly from: Int32Array
  readonly to: Int32Array
  readonly medianOhm: Float64Array
  readonly fixedOhm: Float64Array
  readonly lnSpread: Float64Array
  readonly defectRate: Float64Array
  readonly kind: Uint16Array
  readonly isEarthPath: Uint8Array
}

export function emptyEdgeList(most: number): EdgeList {
  return {
    count: 0,
    jointOfEdge: new Int32Array(most),
    from: new Int32Array(most),
    to: new Int32Array(most),
    medianOhm: new Float64Array(most),
    fixedOhm: new Float64Array(most),
    lnSpread: new Float64Array(most),
    defectRate: new Float64Array(most),
    kind: new Uint16Array(most),
    isEarthPath: new Uint8Array(most),
  }
}

export interface Edge extends JointOhm {
  readonly joint: number
  readonly from: number
  readonly to: number
  readonly lnSpread: number
  readonly defectRate: number
  readonly kind: number
  readonly isEarthPath: boolean
}

export function addEdge(list: EdgeList, edge: Edge): void {
  const e = list.count++
  list.jointOfEdge[e] = edge.joint
  list.from[e] = edge.from
  list.to[e] = edge.to
  list.medianOhm[e] = edge.medianOhm
  list.fixedOhm[e] = edge.fixedOhm
  list.lnSpread[e] = edge.lnSpread
  list.defectRate[e] = edge.defectRate
  list.kind[e] = edge.kind
  list.isEarthPath[e] = edge.isEarthPath ? 1 : 0
}

/** The list with arrays of exactly its length; the same arrays where they are full. */
export function trimmed(list: EdgeList): EdgeList {
  const { count } = list
  if (count === list.from.length) return list
  return {
    count,
    jointOfEdge: list.jointOfEdge.slice(0, count),
    from: list.from.slice(0, count),
    to: list.to.slice(0, count),
    medianOhm: list.medianOhm.slice(0, count),
    fixedOhm: list.fixedOhm.slice(0, count),
    lnSpread: list.lnSpread.slice(0, count),
    defectRate: list.defectRate.slice(0, count),
    kind: list.kind.slice(0, count),
    isEarthPath: list.isEarthPath.slice(0, count),
  }
}
