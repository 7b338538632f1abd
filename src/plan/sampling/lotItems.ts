import { present } from '../../base/assert.ts'
import { jointAddressAt } from '../../layout/jointIndex.ts'
import { partAddressAt, partKindAt } from '../../layout/partIndex.ts'
import { partKindNames } from '../../layout/partKinds.ts'
import {
  parsePartAddress,
  writeJointAddress,
  writePartAddress,
  type JointAddress,
  type PartAddress,
} from '../../model/address.ts'
import type { PartKind, Plan } from '../../model/schema/planning.ts'
import type { Network } from '../../network/compile.ts'
import type { LotItem } from './lot.ts'

/** Items of a lot, and how many were left out as no clip reaches one of their ends. */
export interface Lot {
  readonly items: readonly LotItem[]
  readonly noAccess: number
}

/** The pairs of a plan, in its order; each belongs to the table of its second point. */
export function lotOfPlan({ pairs }: Plan): Lot {
  const items = pairs.map(({ from, to }) => {
    const address = present(parsePartAddress(to), `${to} is a part address`)
    return { from, to, joint: null, ...placeOfPart(address, to) }
  })
  return { items, noAccess: 0 }
}

/** All joints of a kind that are counted, each between its own two ends. Paths through soil are no joints to clip on. */
export function lotOfKind(
  { index, graph, kind, kinds, edgeOfJoint, isEarthPath }: Network,
  kindId: string,
  reachable: ReadonlySet<PartKind>,
): Lot {
  const items: LotItem[] = []
  let noAccess = 0
  const isReached = (part: number) => {
    const name = partKindNames[partKindAt(index, part)]
    return name !== 'remoteEarth' && reachable.has(name)
  }
  edgeOfJoint.forEach((edge, joint) => {
    if (edge < 0 || kinds[kind[edge]].id !== kindId || isEarthPath[edge] === 1) return
    const [a, b] = [graph.from[edge], graph.to[edge]]
    if (!isReached(a) || !isReached(b)) {
      noAccess++
      return
    }
    const address = jointAddressAt(index, joint)
    const [from, to] = [a, b].map((part) => writePartAddress(partAddressAt(index, part)))
    const text = writeJointAddress(address)
    items.push({ from, to, joint: text, ...placeOfJoint(address, text) })
  })
  return { items, noAccess }
}

type Place = Pick<LotItem, 'table' | 'row'>

function placeOfPart(address: PartAddress, text: string): Place {
  if (address.at === 'table') return { table: `R${address.row}/T${address.table}`, row: `R${address.row}` }
  return { table: address.at === 'conductor' ? `C${address.id}` : text, row: null }
}

/** A jumper goes with the table before it, a lug with its conductor; what is in neither stands for itself. */
function placeOfJoint(address: JointAddress, text: string): Place {
  switch (address.at) {
    case 'table':
      return { table: `R${address.row}/T${address.table}`, row: `R${address.row}` }
    case 'row':
      return { table: `R${address.row}/T${address.tableBefore}`, row: `R${address.row}` }
    case 'lug':
    case 'wire':
      return { table: `C${address.conductor}`, row: null }
    default:
      return { table: text, row: null }
  }
}
