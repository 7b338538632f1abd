import { staged } from '../base/portion.ts'
import { ok, type Result } from '../base/result.ts'
import { lossSweep } from '../faultcurrent/lossSweep.ts'
import type { FaultSweepAnswer, FaultSweepInput } from '../model/faultAnswers.ts'
import type { Problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import { resolvePairs } from './answerCoverage.ts'
import { byJoint, solveFault } from './answerFaultCurrent.ts'
import { basisOf } from './basis.ts'
import { jointAddressOf } from './networkRows.ts'
import type { Progress } from './progress.ts'
import type { SiteCache } from './siteCache.ts'

const mostListed = 50

/** What the loss of each joint alone would do to a fault. */
export function* answerFaultSweep(
  input: FaultSweepInput,
  site: Site,
  cache: SiteCache,
): Generator<Progress, Result<FaultSweepAnswer, readonly Problem[]>> {
  const solved = yield* solveFault(input, site, cache)
  if (!solved.ok) return solved
  const { prepared, circuit, flow } = solved.value
  const { network } = prepared
  const pairs = resolvePairs(
    network.index,
    input.watched.map(({ from, to }) => ({ from, to })),
  )
  if (!pairs.ok) return pairs
  const watched = pairs.value.map(({ a, b }) => ({ from: a, to: b }))
  const sweep = yield* staged('losses', lossSweep(circuit, flow, watched))
  // a member in one piece cannot come apart: it has ohms, and no joint to lose
  const canBeLost = (edge: number) => network.defectRate[edge] > 0
  const address = (edge: number) => jointAddressOf(network, network.index, edge)
  return ok({
    basis: basisOf(site),
    soundA: flow.faultA,
    acrossV: byJoint(prepared, sweep.acrossV),
    leftA: byJoint(prepared, sweep.leftA),
    watched: sweep.watched.map(({ edge, ...volts }, k) => {
      return { ...input.watched[k], ...volts, joint: edge < 0 ? null : address(edge) }
    }),
    worst: sweep.worst
      .filter(canBeLost)
      .slice(0, mostListed)
      .map((edge) => {
        return { joint: address(edge), acrossV: sweep.acrossV[edge], leftA: sweep.leftA[edge] }
      }),
    stops: sweep.stops,
  })
}
