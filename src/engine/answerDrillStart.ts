import { staged } from '../base/portion.ts'
import { fail, ok, type Result } from '../base/result.ts'
import { beginDrill, streams } from '../drill/drill.ts'
import { hideByLot, leastShownOhm, shownByOhm } from '../drill/hideJoint.ts'
import { drawOhms, trueArray, type HiddenJoint } from '../drill/trueArray.ts'
import { emptyLocateCache } from '../locate/locateCache.ts'
import type { DrillAnswer, DrillStartInput } from '../model/drill.ts'
import { problem, type Problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import type { PreparedNetwork } from '../network/prepare.ts'
import { keepDrill, nothingTold } from './drillAnswer.ts'
import type { Progress } from './progress.ts'
import { resolveJoint } from './resolveJoint.ts'
import { preparedOf, type SiteCache } from './siteCache.ts'

/** Hides a joint and draws the array it is in; a drill that went on on the same drawing is over with that. */
export function* answerDrillStart(
  input: DrillStartInput,
  site: Site,
  cache: SiteCache,
): Generator<Progress, Result<DrillAnswer, readonly Problem[]>> {
  const { hiding, kit, lead } = input
  const { seed, by } = hiding
  if (!Number.isInteger(seed) || seed < 0 || seed > 0xffffffff)
    return fail([
      problem('value.outOfRange', { expected: 'a whole number, 0 to 4294967295', found: String(seed) }),
    ])
  const prepared = yield* preparedOf(site.drawing, input, cache)
  if (!prepared.ok) return prepared
  const { network } = prepared.value
  const hidden = hide(prepared.value, input)
  if (!hidden.ok) return hidden
  const ohm = drawOhms(network, streams.ohms(seed))
  const factor = yield* staged('prepare', trueArray(network, ohm, hidden.value))
  const drill = beginDrill({ by, seed, kit, lead, network, factor, hidden: hidden.value })
  return ok(
    keepDrill({ drill, input, expected: [], told: nothingTold, locate: emptyLocateCache() }, site, cache),
  )
}

function hide(
  prepared: PreparedNetwork,
  { hiding, kit }: DrillStartInput,
): Result<HiddenJoint, readonly Problem[]> {
  if (hiding.by === 'seed') {
    const hidden = hideByLot(prepared, kit, streams.hiding(hiding.seed))
    return hidden ? ok(hidden) : fail([problem('drill.nothingToHide', {})])
  }
  const { joint, addedOhm } = hiding
  if (addedOhm !== null && !(addedOhm > 0 && addedOhm < Infinity)) {
    const facts = { expected: 'ohms above 0, or none for an open joint', found: String(addedOhm) }
    return fail([problem('value.outOfRange', facts, { address: joint })])
  }
  const found = resolveJoint(prepared.network.index, joint)
  if (!found.ok) return fail([found.error])
  const edge = prepared.network.edgeOfJoint[found.value]
  if (edge < 0 || shownByOhm(prepared, edge, addedOhm) < leastShownOhm(kit))
    return fail([problem('drill.unseen', {}, { address: joint })])
  return ok({ edge, addedOhm })
}
