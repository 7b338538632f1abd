import { randomStream } from '../../../src/base/random.ts'
import { jointAddressAt } from '../../../src/layout/jointIndex.ts'
import { emptyLocateCache } from '../../../src/locate/locateCache.ts'
import { writeJointAddress } from '../../../src/model/address.ts'
import { sights, type CoverageAnswer, type PlanPairInput, type Sight } from '../../../src/model/planning.ts'
import { preparedOf } from '../../generator/locateIn.ts'
import { drawByLot } from '../../../src/plan/sampling/drawByLot.ts'
import type { Measured } from './measurePlan.ts'
import type { Hits } from './planFigures.ts'
import { rankAfterReading, type Noise, type ReadOrder } from './readAndRank.ts'

/** Joints that the pairs of a plan show, or that other pairs in reach would. */
export function showableJoints(measured: Measured, coverage: CoverageAnswer): readonly string[] {
  return jointsSeen(measured, coverage, ['criterion', 'comparison', 'addPair'])
}

/** Joints of which the coverage says one of these. */
export function jointsSeen(
  { index }: Measured,
  { sight }: CoverageAnswer,
  as: readonly Sight[],
): readonly string[] {
  const counted = new Set(as.map((name) => sights.indexOf(name)))
  const joints: string[] = []
  sight.forEach((number, joint) => {
    if (counted.has(number)) joints.push(writeJointAddress(jointAddressAt(index, joint)))
  })
  return joints
}

/** So many of some joints by lot; all of them where there are no more. */
export function someOf(joints: readonly string[], count: number, seed: number): readonly string[] {
  return drawByLot(joints.length, Math.min(count, joints.length), randomStream(seed)).map((k) => joints[k])
}

export function readOrder({ bench }: Measured, pairs: readonly PlanPairInput[]): ReadOrder {
  const { site, kit, lead } = bench
  return { site, kit, lead, pairs, prepared: preparedOf(site), cache: emptyLocateCache() }
}

/** Opens each of some joints in turn, on an array drawn anew, and counts how often the ranking had its group first. */
export function hitRate(order: ReadOrder, joints: readonly string[], noise: Noise): Hits {
  const hits = joints.filter((joint, k) => rankAfterReading(order, joint, 7000 + k, noise) === 1).length
  return { hits, tries: joints.length }
}
