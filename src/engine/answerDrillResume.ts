import { fail, ok, type Result } from '../base/result.ts'
import type { DrillAnswer, DrillCallInput, DrillResumeInput, DrillStood } from '../model/drill.ts'
import { problem, type Problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import { answerDrillCall } from './answerDrillCall.ts'
import { answerDrillReading } from './answerDrillReading.ts'
import { answerDrillStart } from './answerDrillStart.ts'
import { keepDrill, runningDrill } from './drillAnswer.ts'
import type { Progress } from './progress.ts'
import type { SiteCache } from './siteCache.ts'

type Step = Generator<Progress, Result<DrillAnswer, readonly Problem[]>>

/**
 * Brings a drill back to where it stood, by going through its steps again. Where a reading or a verdict comes out otherwise than
 * it did, the array was drawn otherwise since: then there is no drill.
 */
export function* answerDrillResume({ start, stood }: DrillResumeInput, site: Site, cache: SiteCache): Step {
  const begun = yield* answerDrillStart(start, site, cache)
  if (!begun.ok) return begun
  const again = yield* goThrough(stood, begun.value, site, cache)
  if (again.ok && isSame(again.value, stood)) {
    const running = runningDrill(site, cache)
    if (!running.ok) return running
    const drill = { ...running.value.drill, asked: stood.asked }
    return ok(keepDrill({ ...running.value, drill }, site, cache))
  }
  cache.drills.delete(site.drawing)
  return fail([problem('drill.changed', {})])
}

function* goThrough(
  { readings, nullings, called }: DrillStood,
  begun: DrillAnswer,
  site: Site,
  cache: SiteCache,
): Step {
  let last: Result<DrillAnswer, readonly Problem[]> = ok(begun)
  for (const { how, from, to, nullings: before } of readings) {
    last = yield* nulled(last, before, site, cache)
    if (!last.ok) return last
    last = yield* answerDrillReading(how === 'new' ? { how, from, to } : { how }, site, cache)
    if (!last.ok) return last
  }
  last = yield* nulled(last, nullings, site, cache)
  for (const each of called) {
    if (!last.ok) return last
    const call: DrillCallInput =
      each.call === 'joint'
        ? { call: 'joint', joint: each.joint }
        : { call: 'badTest', reading: each.reading }
    last = yield* answerDrillCall(call, site, cache)
  }
  return last
}

/** Nulls the leads until that was done so many times. */
function* nulled(
  before: Result<DrillAnswer, readonly Problem[]>,
  nullings: number,
  site: Site,
  cache: SiteCache,
): Step {
  let last = before
  while (last.ok && last.value.nullings < nullings) {
    const { nullings: reached } = last.value
    last = yield* answerDrillCall({ call: 'nullLeads' }, site, cache)
    if (last.ok && last.value.nullings === reached) break
  }
  return last
}

function isSame(again: DrillAnswer, stood: DrillStood): boolean {
  const told = ({ readings, called, nullings }: DrillStood) =>
    JSON.stringify([readings.map(({ result }) => result), called.map(({ isRight }) => isRight), nullings])
  return again.revealed === null && told(again) === told(stood)
}
