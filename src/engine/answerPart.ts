import { staged } from '../base/portion.ts'
import { fail, ok, type Result } from '../base/result.ts'
import { partAddressAt, partKindAt } from '../layout/partIndex.ts'
import { partKindNames } from '../layout/partKinds.ts'
import { partPositionM } from '../layout/positions.ts'
import { writePartAddress } from '../model/address.ts'
import type { JointAtPart, PartAnswer } from '../model/answers.ts'
import type { Problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import type { Network } from '../network/compile.ts'
import { endOf, jointMedianOhm } from '../network/earthPath.ts'
import { pairResistance } from '../network/pairResistance.ts'
import type { PreparedNetwork } from '../network/prepare.ts'
import { predictPair } from '../reading/pairPrediction.ts'
import { basisOf } from './basis.ts'
import { jointAddressOf } from './networkRows.ts'
import type { Progress } from './progress.ts'
import type { PartInput } from './requests.ts'
import { resolvePart } from './resolvePart.ts'
import { preparedOf, type SiteCache } from './siteCache.ts'

/** An earth bar or remote earth may have thousands. */
const mostJoints = 200

/** What is known of one part: where it stands, what metal joins it to, the joints at it, its way to an earth bar. */
export function* answerPart(
  input: PartInput,
  site: Site,
  cache: SiteCache,
): Generator<Progress, Result<PartAnswer, readonly Problem[]>> {
  const made = yield* preparedOf(site.drawing, input, cache)
  if (!made.ok) return made
  const prepared = made.value
  const { network } = prepared
  const { index, adjacency, remoteEarth, metal } = network
  const resolved = resolvePart(index, input.part)
  if (!resolved.ok) return fail([resolved.error])
  const part = resolved.value
  const isEarth = part === remoteEarth
  const edges = isEarth
    ? earthPathsOf(network)
    : adjacency.edge.slice(adjacency.start[part], adjacency.start[part + 1]).sort()
  const section = metal.islands.of[part]
  const bars = barsIn(network, section)
  return ok({
    basis: basisOf(site),
    part: writePartAddress(partAddressAt(index, part)),
    kind: partKindNames[partKindAt(index, part)],
    atM: partPositionM(index, part),
    metalSection: isEarth ? null : { parts: metal.islands.size[section], earthBars: bars.length },
    joints: Array.from(edges.subarray(0, mostJoints), (edge) => jointAtPart(network, edge, part)),
    jointCount: edges.length,
    toEarthBar: isEarth ? null : yield* toNearestBar(prepared, part, bars),
  })
}

/** The joints that lead to remote earth, through whatever soil. */
function earthPathsOf({ graph, edgeCount, remoteEarth }: Network): Int32Array {
  const edges: number[] = []
  for (let e = 0; e < edgeCount; e++) if (graph.to[e] >= remoteEarth) edges.push(e)
  return Int32Array.from(edges)
}

function barsIn({ index, metal }: Network, section: number): number[] {
  const bars: number[] = []
  for (let bar = index.earthBarStart; bar < index.electrodeStart; bar++)
    if (metal.islands.of[bar] === section) bars.push(bar)
  return bars
}

function jointAtPart(network: Network, edge: number, part: number): JointAtPart {
  const { graph, index, kinds, kind, metal } = network
  const from = graph.from[edge]
  const other = from === part ? endOf(network, graph.to[edge]) : from
  return {
    joint: jointAddressOf(network, index, edge),
    kind: kinds[kind[edge]].id,
    other: writePartAddress(partAddressAt(index, other)),
    medianOhm: jointMedianOhm(network, edge),
    isMetalBridge: metal.blocks.isBridge[edge] === 1,
  }
}

/** The bar with the least median ohms, of equal ones the first that is drawn. */
function* toNearestBar(
  prepared: PreparedNetwork,
  part: number,
  bars: readonly number[],
): Generator<Progress, PartAnswer['toEarthBar']> {
  let nearest = -1
  let least = Infinity
  for (const bar of bars) {
    const ohm = pairResistance(prepared.solver.factor, part, bar)
    if (ohm < least) {
      least = ohm
      nearest = bar
    }
  }
  if (nearest < 0) return null
  const earthBar = writePartAddress(partAddressAt(prepared.network.index, nearest))
  return { earthBar, ...(yield* staged('currents', predictPair(prepared, part, nearest))) }
}
