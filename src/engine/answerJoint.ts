import { fail, ok, type Result } from '../base/result.ts'
import { partAddressAt } from '../layout/partIndex.ts'
import { jointAddressAt } from '../layout/jointIndex.ts'
import { writeJointAddress, writePartAddress } from '../model/address.ts'
import type { CountedJoint, JointAnswer } from '../model/answers.ts'
import type { Problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import { sideOfBridge } from '../network/bridgeSides.ts'
import { acrossJoint, jointMedianOhm } from '../network/earthPath.ts'
import type { PreparedNetwork } from '../network/prepare.ts'
import { basisOf } from './basis.ts'
import { drawnJoint } from './drawnJoint.ts'
import { ohmShares } from './ohmShares.ts'
import type { Progress } from './progress.ts'
import type { JointInput } from './requests.ts'
import { resolveJoint } from './resolveJoint.ts'
import { preparedOf, type SiteCache } from './siteCache.ts'

/** What is known of one joint: what it is drawn as, what its ohms were computed from, what it does in the network. */
export function* answerJoint(
  input: JointInput,
  site: Site,
  cache: SiteCache,
): Generator<Progress, Result<JointAnswer, readonly Problem[]>> {
  const made = yield* preparedOf(site.drawing, input, cache)
  if (!made.ok) return made
  const prepared = made.value
  const { index, edgeOfJoint, kinds } = prepared.network
  const resolved = resolveJoint(index, input.joint)
  if (!resolved.ok) return fail([resolved.error])
  const joint = resolved.value
  const drawn = drawnJoint(index, joint, input.asBuilt)
  const address = (part: number) => writePartAddress(partAddressAt(index, part))
  const edge = edgeOfJoint[joint]
  const kind = kinds.find(({ id }) => id === drawn.kind)!
  return ok({
    basis: basisOf(site),
    joint: writeJointAddress(jointAddressAt(index, joint)),
    from: drawn.from,
    to: drawn.to,
    kind: kind.id,
    kindName: kind.name,
    purpose: kind.purpose,
    source: kind.source,
    differs: drawn.differs,
    counted:
      edge < 0 ? null : countedJoint(prepared, edge, address, ohmShares(prepared.network, edge, drawn)),
    leftOut: edge >= 0 ? null : drawn.isAbsent ? 'absent' : 'incidental',
  })
}

function countedJoint(
  prepared: PreparedNetwork,
  edge: number,
  address: (part: number) => string,
  madeOf: CountedJoint['madeOf'],
): CountedJoint {
  const { network, leverage, loopS } = prepared
  const { graph, adjacency, metal, isMetal } = network
  const isMetalBridge = metal.blocks.isBridge[edge] === 1
  const cutOff = isMetalBridge ? sideOfBridge(graph, adjacency, edge, undefined, isMetal) : new Int32Array(0)
  const end = cutOff.includes(graph.from[edge]) ? graph.from[edge] : graph.to[edge]
  return {
    medianOhm: jointMedianOhm(network, edge),
    fixedOhm: network.fixedOhm[edge],
    madeOf,
    lnSpread: network.lnSpread[edge],
    defectRate: network.defectRate[edge],
    leverage: leverage[edge],
    ...acrossJoint(prepared, edge),
    loopClampOhm: loopS[edge] === 0 ? Infinity : 1 / loopS[edge],
    isEarthPath: network.isEarthPath[edge] === 1,
    isMetalBridge,
    cutsOffParts: cutOff.length,
    cutsOffFrom: isMetalBridge ? address(end) : null,
  }
}
