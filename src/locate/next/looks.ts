import { assumptions } from '../../reading/assumptions.ts'
import type { Network } from '../../network/compile.ts'
import { lookMin, retorqueMin } from '../../walk/effort.ts'
import { wayM } from '../../walk/reach.ts'
import type { Hypotheses } from './hypotheses.ts'
import { informationNats } from './information.ts'
import type { SetUp } from './lastSetUp.ts'
import type { Posterior } from '../posterior.ts'
import { supported } from '../trust.ts'
import type { RecordedLooks } from './recordedLooks.ts'

/** A look at joints of one group, or a look and a torque check. */
export interface Look {
  readonly kind: 'look' | 'retorque'
  readonly group: number
  readonly edges: readonly number[]
  readonly minutes: number
  readonly nats: number
  /** Chance of each class together with what is found. */
  readonly bad: Float64Array
  readonly sound: Float64Array
}

/** Groups that a look is worked out for, and joints of one that are looked at in one go. */
const mostGroups = 3
const mostJoints = 10
/** From here on it is worth digging. */
export const digFrom = 0.99

/** Wires run in the ground between their landings, and so does what leads into soil. */
function isBuried(network: Network, edge: number): boolean {
  return network.isEarthPath[edge] === 1 || network.kinds[network.kind[edge]].id === 'wire'
}

/** P(class, found bad) for a look at these joints: 1 − Π (1 − d), d by what the hypothesis says of each joint. */
function findings(
  { all, classes }: Hypotheses,
  edgeOf: Int32Array,
  kind: Look['kind'],
  edges: readonly number[],
) {
  const { findsOpen, findsRaised, falseAlarm } = assumptions[kind]
  const bad = new Float64Array(classes)
  const sound = new Float64Array(classes)
  for (const { classOf, weight, edges: own, bad: joints } of all) {
    const among = joints.filter(
      (joint) => own.includes(edgeOf[joint.candidate]) && edges.includes(edgeOf[joint.candidate]),
    )
    const missed = among.reduce(
      (product, { addedOhm }) => product * (1 - (addedOhm === Infinity ? findsOpen : findsRaised)),
      1,
    )
    const nothing = missed * (1 - falseAlarm) ** (edges.length - among.length)
    bad[classOf] += weight * (1 - nothing)
    sound[classOf] += weight * nothing
  }
  return { bad, sound }
}

/**
 * Looks and torque checks at the first groups: the first joint alone, and all joints of a small group one after the
 * other; those only where nobody has done so yet. What is buried is dug out only for a group that is as good as
 * certain.
 */
export function looksAt(
  { prepared: { network }, candidates, groups }: Posterior,
  hypotheses: Hypotheses,
  { standing }: SetUp,
  recorded: RecordedLooks,
): readonly Look[] {
  const inRegion = groups.flatMap((group, k) => (group.region === hypotheses.region ? [{ ...group, k }] : []))
  return inRegion.slice(0, mostGroups).flatMap(({ joints, probability, k: group }) => {
    const isWorthDigging = supported(probability) >= digFrom
    return (['look', 'retorque'] as const).flatMap((kind) => {
      const inOrder = joints.map(({ edge }) => edge).filter((edge) => !recorded[kind].has(edge))
      const choices = inOrder.length > 0 ? [inOrder.slice(0, 1)] : []
      if (inOrder.length > 1 && inOrder.length <= mostJoints) choices.push(inOrder)
      return choices.flatMap((edges): Look[] => {
        const buried = edges.some((edge) => isBuried(network, edge))
        if (buried && !isWorthDigging) return []
        const way = wayM(network.index, [standing, ...edges.map((edge) => endOnSite(network, edge))])
        const minutes = (kind === 'look' ? lookMin : retorqueMin)(way, edges.length, buried)
        const { bad, sound } = findings(hypotheses, candidates.edge, kind, edges)
        const table = Float64Array.from([...bad].flatMap((p, c) => [p, sound[c]]))
        const nats = informationNats(table, hypotheses.classes, 2)
        return [{ kind, group, edges, minutes, nats, bad, sound }]
      })
    })
  })
}

/** The end of a joint that is somewhere: the other may be remote earth. */
function endOnSite({ graph, remoteEarth }: Network, edge: number): number {
  return graph.from[edge] === remoteEarth ? graph.to[edge] : graph.from[edge]
}
