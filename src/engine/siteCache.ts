import { staged } from '../base/portion.ts'
import { ok, type Result } from '../base/result.ts'
import type { Circuit } from '../faultcurrent/circuit.ts'
import type { FaultFlow } from '../faultcurrent/faultFlow.ts'
import type { PatternCache } from '../layout/tablePattern.ts'
import { indexSite, type SiteIndex } from '../layout/siteIndex.ts'
import { emptyPlanCache, type PlanCache } from '../plan/planCache.ts'
import { emptyLocateCache, type LocateCache } from '../locate/locateCache.ts'
import type { Problem } from '../model/problem.ts'
import { isSameArray } from '../model/queries/sameArray.ts'
import type { Drawing } from '../model/schema/drawing.ts'
import { compileNetwork, type Network } from '../network/compile.ts'
import { prepareNetwork, type PreparedNetwork } from '../network/prepare.ts'
import type { SoilLeaks } from '../network/soilLeaks.ts'
import type { Ground } from '../walk/ground/ground.ts'
import { prepareGround } from '../walk/ground/ground.ts'
import type { Progress } from './progress.ts'
import type { NetworkInput } from './requests.ts'
import type { RunningDrill } from './runningDrill.ts'

/** What was worked out from one drawing; one entry per way of counting its joints. */
interface Worked {
  index?: SiteIndex
  /** As one walks on it. */
  ground?: Ground
  readonly networks: Map<string, Network>
  readonly prepared: Map<string, PreparedNetwork>
  readonly networksUnderWay: Map<string, Step<Network>>
  readonly preparedUnderWay: Map<string, Step<PreparedNetwork>>
}

/** A network, the circuit that faults onto it, and where its current goes. */
export interface SolvedFault {
  readonly prepared: PreparedNetwork
  readonly circuit: Circuit
  readonly flow: FaultFlow
}

/**
 * What requests on the same drawing share, found by the drawing's identity: a drawing is replaced, never
 * changed, so that nothing here can be out of date. A drawing that is let go takes its entry with it: nothing here
 * holds a drawing.
 */
export interface SiteCache {
  readonly drawings: WeakMap<Drawing, Worked>
  readonly patterns: PatternCache
  readonly locate: LocateCache
  readonly plan: PlanCache
  /** Of each prepared network the last one that was asked for with some joints altered. */
  readonly altered: WeakMap<PreparedNetwork, { readonly key: string; readonly prepared: PreparedNetwork }>
  /** Of each prepared network the last fault that was solved on it, by where it is and what drives it. */
  readonly faults: WeakMap<PreparedNetwork, { readonly key: string; readonly solved: SolvedFault }>
  /** What passes into soil in a fault that was solved. */
  readonly leaks: WeakMap<FaultFlow, SoilLeaks>
  /** The drill that goes on on each drawing. What is hidden in it is known here alone. */
  readonly drills: WeakMap<Drawing, RunningDrill>
}

export function emptySiteCache(): SiteCache {
  return {
    drawings: new WeakMap(),
    patterns: new WeakMap(),
    locate: emptyLocateCache(),
    plan: emptyPlanCache(),
    altered: new WeakMap(),
    faults: new WeakMap(),
    leaks: new WeakMap(),
    drills: new WeakMap(),
  }
}

function workedOf(cache: SiteCache, drawing: Drawing): Worked {
  let worked = cache.drawings.get(drawing)
  if (!worked) cache.drawings.set(drawing, (worked = nothingWorked()))
  return worked
}

/**
 * A drawing in which only plans differ from the one that it replaces takes over what was worked out: a pair that is
 * added costs no new network.
 */
export function replaceDrawing(cache: SiteCache, before: Drawing, after: Drawing): void {
  if (!isSameArray(before, after)) return
  const worked = cache.drawings.get(before)
  if (worked) cache.drawings.set(after, worked)
  const drill = cache.drills.get(before)
  if (drill) cache.drills.set(after, drill)
}

function nothingWorked(): Worked {
  return {
    networks: new Map(),
    prepared: new Map(),
    networksUnderWay: new Map(),
    preparedUnderWay: new Map(),
  }
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

export function* groundOf(
  drawing: Drawing,
  cache: SiteCache,
): Generator<Progress, Result<Ground, readonly Problem[]>> {
  const index = yield* indexOf(drawing, cache)
  if (!index.ok) return index
  const worked = workedOf(cache, drawing)
  worked.ground ??= yield* staged('walk', prepareGround(index.value))
  return ok(worked.ground)
}

export function* networkOf(drawing: Drawing, input: NetworkInput, cache: SiteCache): Step<Network> {
  const { networks, networksUnderWay } = workedOf(cache, drawing)
  return yield* sharing(networks, networksUnderWay, keyOf(input), function* () {
    const index = yield* indexOf(drawing, cache)
    if (!index.ok) return index
    const { countIncidental, asBuilt } = input
    // the index may be of the same array in a drawing of before
    const own = index.value.drawing
    return yield* staged('compile', compileNetwork(own, index.value, { countIncidental, asBuilt }))
  })
}

export function* preparedOf(drawing: Drawing, input: NetworkInput, cache: SiteCache): Step<PreparedNetwork> {
  const { prepared, preparedUnderWay } = workedOf(cache, drawing)
  return yield* sharing(prepared, preparedUnderWay, keyOf(input), function* () {
    const network = yield* networkOf(drawing, input, cache)
    if (!network.ok) return network
    return ok(yield* staged('prepare', prepareNetwork(network.value)))
  })
}

/**
 * What is known under a key, or makes it. Requests that need it at the same time push the same work on in turn; a
 * request that is stopped half way leaves it where it stands, for the next one. Kept as known only when whole.
 */
function* sharing<T>(
  known: Map<string, T>,
  underWay: Map<string, Step<T>>,
  key: string,
  make: () => Step<T>,
): Step<T> {
  for (;;) {
    const value = known.get(key)
    if (value !== undefined) return ok(value)
    const job = underWay.get(key) ?? make()
    underWay.set(key, job)
    let step: IteratorResult<Progress, Result<T, readonly Problem[]>>
    try {
      step = job.next()
    } catch (error) {
      underWay.delete(key)
      throw error
    }
    if (!step.done) {
      yield step.value
      continue
    }
    underWay.delete(key)
    if (step.value.ok) known.set(key, step.value.value)
    return step.value
  }
}
