import { indexSite } from '../../../../src/layout/siteIndex.ts'
import { jointAddressAt, jointIndexOf } from '../../../../src/layout/jointIndex.ts'
import { parseJointAddress, writeJointAddress } from '../../../../src/model/address.ts'
import type { Drawing } from '../../../../src/model/schema/drawing.ts'
import { assert, present } from '../../../../src/base/assert.ts'
import type { Network } from '../../../../src/network/compile.ts'
import { drawnNetwork } from '../../../generator/drawnNetwork.ts'
import type { Shape } from './drawDrawing.ts'

/** The network with every bond that might have been built besides what was drawn. */
export interface PossibleNetwork {
  readonly network: Network
  /** Edges that nobody drew: at most a few of them exist. */
  readonly undrawn: readonly number[]
  /** Address of the joint of each edge. */
  readonly address: readonly string[]
}

export function edgeOf({ index, edgeOfJoint }: Network, joint: string): number {
  const address = present(parseJointAddress(joint), `${joint} is no joint address`)
  const edge = edgeOfJoint[jointIndexOf(index, address)]
  assert(edge >= 0, `${joint} is no joint of the network`)
  return edge
}

/** Second bonds between neighbouring tables, and from row to row at their far ends. */
export function possibleNetwork(drawing: Drawing, { rows, tables, across }: Shape): PossibleNetwork {
  const places: (readonly [string, string])[] = []
  for (let row = 1; row <= rows; row++) {
    for (let table = 1; table < tables; table++) {
      places.push([`R${row}/T${table}/F1.${across}`, `R${row}/T${table + 1}/F1.1`])
    }
    if (row < rows) places.push([`R${row}/T${tables}/F1.${across}`, `R${row + 1}/T${tables}/F1.${across}`])
  }
  const extraJoints = places.map(([from, to], k) => ({
    id: k + 1,
    label: '',
    from,
    to,
    kind: 'jumper',
    medianOhm: null,
  }))
  const nextIds = { ...drawing.nextIds, extraJoint: places.length + 1 }
  const network = drawnNetwork({ ...drawing, extraJoints, nextIds })
  const index = indexSite(network.index.drawing)
  assert(index.ok, 'the drawing has problems')
  return {
    network,
    undrawn: extraJoints.map(({ id }) => edgeOf(network, `J${id}`)),
    address: Array.from(network.jointOfEdge, (joint) =>
      writeJointAddress(jointAddressAt(index.value, joint)),
    ),
  }
}
