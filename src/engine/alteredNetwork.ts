import { portion, staged } from '../base/portion.ts'
import { fail, ok, type Result } from '../base/result.ts'
import type { AlteredJoint } from '../model/faultAnswers.ts'
import { problem, type Problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import { alterNetwork, type AlteredEdge } from '../network/alterNetwork.ts'
import { jointMedianOhm } from '../network/earthPath.ts'
import { prepareNetwork, type PreparedNetwork } from '../network/prepare.ts'
import type { Progress } from './progress.ts'
import type { NetworkInput } from './requests.ts'
import { resolveJoint } from './resolveJoint.ts'
import { preparedOf, type SiteCache } from './siteCache.ts'

/**
 * The network of a drawing, ready for questions, with some joints open or at other ohms: the drawing stays as it is. The last
 * alteration of each network is kept. A joint that is not counted in this network changes nothing.
 */
export function* alteredPreparedOf(
  site: Site,
  input: NetworkInput & { readonly altered: readonly AlteredJoint[] },
  cache: SiteCache,
): Generator<Progress, Result<PreparedNetwork, readonly Problem[]>> {
  const prepared = yield* preparedOf(site.drawing, input, cache)
  if (!prepared.ok || input.altered.length === 0) return prepared
  const edges = resolveAltered(prepared.value, input.altered)
  if (!edges.ok) return edges
  const key = JSON.stringify(edges.value)
  const known = cache.altered.get(prepared.value)
  if (known?.key === key) return ok(known.prepared)
  const { network } = prepared.value
  const changed = yield* staged('alter', portion(alterNetwork(network, edges.value), 0, 0.2))
  const altered = yield* staged('alter', portion(prepareNetwork(changed), 0.2, 0.8))
  cache.altered.set(prepared.value, { key, prepared: altered })
  return ok(altered)
}

/** Edges of altered joints, each once, the last word counting. Ohms of an earth path are those that it reads alone. */
function resolveAltered(
  { network }: PreparedNetwork,
  altered: readonly AlteredJoint[],
): Result<readonly AlteredEdge[], readonly Problem[]> {
  const problems: Problem[] = []
  const ohms = new Map<number, number | null>()
  for (const { joint, ohm } of altered) {
    const found = resolveJoint(network.index, joint)
    if (!found.ok) problems.push(found.error)
    else if (ohm !== null && !(ohm > 0 && ohm < Infinity)) {
      const facts = { expected: 'ohms above 0, or none for an open joint', found: String(ohm) }
      problems.push(problem('value.outOfRange', facts, { address: joint }))
    } else {
      const edge = network.edgeOfJoint[found.value]
      if (edge < 0) continue
      const share = network.medianOhm[edge] / jointMedianOhm(network, edge)
      ohms.set(edge, ohm === null ? null : ohm * share)
    }
  }
  if (problems.length > 0) return fail(problems.slice(0, 50))
  return ok([...ohms].map(([edge, ohm]) => ({ edge, ohm })).sort((a, b) => a.edge - b.edge))
}
