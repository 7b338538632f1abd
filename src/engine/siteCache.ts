import { fail, ok, type Result } from '../base/result.ts'
import type { PatternCache } from '../layout/tablePattern.ts'
import { indexSite, type SiteIndex } from '../layout/siteIndex.ts'
import type { Problem } from '../model/problem.ts'
import type { Drawing } from '../model/schema/drawing.ts'
import { compileNetwork, type Network } from '../network/compile.ts'
import { prepareNetwork, type PreparedNetwork } from '../network/prepare.ts'
import { staged, type Progress } from './progress.ts'
import type { NetworkInput } from './requests.ts'

/** What was worked out from one drawing; one entry per way of counting its joints. */
interface Worked {
  index?: SiteIndex
  readonly networks: Map<string, Network>
  readonly prepared: Map<string, PreparedNetwork>
}

/**
 * What requests on the same drawing share, found by the drawing's identity: a drawing is replaced, never
 * changed, so that nothing here can be out of date. A drawing that is let go takes its entry with it.
 */
export interface SiteCache {
  readonly drawings: WeakMap<Drawing, Worked>
  readonly patterns: PatternCache
}

export function emptySiteCache(): SiteCache {
  return { drawings: new WeakMap(), patterns: new WeakMap() }
}

function workedOf(cache: SiteCache, drawing: Drawing): Worked {
  let worked = cache.drawings.get(drawing)
  if (!worked) {
    worked = { networks: new Map(), prepared: new Map() }
    cache.drawings.set(drawing, worked)
  }
  return worked
}

const keyOf = ({ countIncidental, asBuilt }: NetworkInput) => `${countIncidental} ${asBuilt}`

type Step<T> = Generator<Progress, Result<T, readonly Problem[]>>

export function* indexOf(drawing: Drawing, cache: SiteCache): Step<SiteIndex> {
  const worked = workedOf(cache, drawing)
  if (worked.index) return ok(worked.index)
  yield { stage: 'index', fraction: 0 }
  const indexed = indexSite(drawing, cache.patterns)
  if (indexed.ok) worked.index = indexed.value
  return indexed
}

export function* networkOf(drawing: Drawing, input: NetworkInput, cache: SiteCache): Step<Network> {
  const worked = workedOf(cache, drawing)
  const known = worked.networks.get(keyOf(input))
  if (known) return ok(known)
  const index = yield* indexOf(drawing, cache)
  if (!index.ok) return index
  const { countIncidental, asBuilt } = input
  const network = yield* staged('compile', compileNetwork(drawing, index.value, { countIncidental, asBuilt }))
  if (network.ok) worked.networks.set(keyOf(input), network.value)
  return network
}

/** Kept only when it is whole: a request that is stopped half way leaves nothing half done behind. */
export function* preparedOf(drawing: Drawing, input: NetworkInput, cache: SiteCache): Step<PreparedNetwork> {
  const worked = workedOf(cache, drawing)
  const known = worked.prepared.get(keyOf(input))
  if (known) return ok(known)
  const network = yield* networkOf(drawing, input, cache)
  if (!network.ok) return fail(network.error)
  const prepared = yield* staged('prepare', prepareNetwork(network.value))
  worked.prepared.set(keyOf(input), prepared)
  return ok(prepared)
}
