import { fail, ok, type Result } from '../base/result.ts'
import { countAsked, type Drill } from '../drill/drill.ts'
import { drillRecord } from '../drill/drillRecord.ts'
import { locate } from '../locate/locate.ts'
import { nextActions } from '../locate/next/next.ts'
import type { DrillAnswer, DrillAskInput, DrillTold } from '../model/drill.ts'
import { problem, type Problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import type { PreparedNetwork } from '../network/prepare.ts'
import { keepDrill, runningDrill } from './drillAnswer.ts'
import type { Progress } from './progress.ts'
import type { RunningDrill } from './runningDrill.ts'
import { preparedOf, type SiteCache } from './siteCache.ts'

/**
 * Help that was asked for, worked out from the drawing and the readings of the drill alone, as if they were the site's record:
 * the hidden joint has no part in it. Counted once for the same readings; a question that is stopped counts for nothing.
 */
export function* answerDrillAsk(
  { question }: DrillAskInput,
  site: Site,
  cache: SiteCache,
): Generator<Progress, Result<DrillAnswer, readonly Problem[]>> {
  const running = runningDrill(site, cache)
  if (!running.ok) return running
  const { drill, input, told } = running.value
  if (!input.mayAsk[question]) return fail([problem('drill.mayNotAsk', {})])
  if (drill.readings.length === 0) return fail([problem('drill.nothingToGoOn', {})])
  if (told[question] !== null) return ok(keepDrill(running.value, site, cache))
  const prepared = yield* preparedOf(site.drawing, input, cache)
  if (!prepared.ok) return prepared
  const found: Partial<DrillTold> = yield* tell(question, running.value, site, prepared.value)
  // while it was worked out something else may have been called
  const now = runningDrill(site, cache)
  if (!now.ok) return now
  const asked = countAsked(now.value.drill, question)
  const stands = isSameRecord(now.value.drill, drill)
  const next = { ...now.value, drill: asked, told: stands ? { ...now.value.told, ...found } : now.value.told }
  return ok(keepDrill(next, site, cache))
}

function* tell(
  question: DrillAskInput['question'],
  { drill, locate: kept }: RunningDrill,
  site: Site,
  prepared: PreparedNetwork,
): Generator<Progress, Partial<DrillTold>> {
  const asIfTaken: Site = { ...site, record: drillRecord(drill) }
  return question === 'suspects'
    ? { suspects: yield* locate(asIfTaken, prepared, kept) }
    : { next: yield* nextActions(asIfTaken, prepared, kept) }
}

function isSameRecord(one: Drill, other: Drill): boolean {
  const { readings, nullings, called } = one
  return readings === other.readings && nullings === other.nullings && called.length === other.called.length
}
