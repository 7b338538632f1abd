import { parseJointAddress } from '../model/address.ts'
import type { EntryOf } from '../model/schema/record.ts'
import { jointIndexOf } from '../layout/jointIndex.ts'
import { pairResistance } from '../network/pairResistance.ts'
import type { PreparedNetwork } from '../network/prepare.ts'

/** A repaired joint that carried less than this share of a reading's current did not change it. */
const leastShare = 0.05

interface Repair {
  readonly id: string
  readonly atMs: number
  readonly edge: number
}

export interface RepairBook {
  /** Ids of repairs from one moment up to another of joints on the path between two nodes. */
  between(a: number, b: number, fromMs: number, toMs: number): readonly string[]
}

/**
 * Repairs by their joints. The share of a pair's current in joint (u, v), by reciprocity and without a solve:
 * i = g (R_av + R_bu − R_au − R_bv)/2.
 */
export function repairBook(prepared: PreparedNetwork, repairs: readonly EntryOf<'repair'>[]): RepairBook {
  const { network, conductanceS, solver } = prepared
  const { from, to } = network.graph
  const known = repairs.flatMap((entry): Repair[] => {
    const address = parseJointAddress(entry.joint)
    const joint = address ? jointIndexOf(network.index, address) : -1
    const edge = joint < 0 ? -1 : network.edgeOfJoint[joint]
    return edge < 0 ? [] : [{ id: entry.id, atMs: Date.parse(entry.at), edge }]
  })
  const ohm = (p: number, q: number) => pairResistance(solver.factor, p, q)
  const shareOf = (edge: number, a: number, b: number): number => {
    const [u, v] = [from[edge], to[edge]]
    if (network.electrical.islands.of[u] !== network.electrical.islands.of[a]) return 0
    return Math.abs(conductanceS[edge] * (ohm(a, v) + ohm(b, u) - ohm(a, u) - ohm(b, v))) / 2
  }
  return {
    between: (a, b, fromMs, toMs) =>
      known
        .filter(({ atMs, edge }) => atMs > fromMs && atMs <= toMs && shareOf(edge, a, b) > leastShare)
        .map(({ id }) => id),
  }
}
