import { fail, ok, type Result } from '../base/result.ts'
import { readPair, repeatReading } from '../drill/drill.ts'
import { partAddressAt } from '../layout/partIndex.ts'
import { writePartAddress } from '../model/address.ts'
import type { DrillAnswer, DrillReadingInput } from '../model/drill.ts'
import { problem, type Problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import { answerExpect } from './answerExpect.ts'
import { keepDrill, nothingTold, runningDrill } from './drillAnswer.ts'
import type { Progress } from './progress.ts'
import { resolvePair } from './resolvePart.ts'
import type { SiteCache } from './siteCache.ts'

/** One more simulated reading. A question that is stopped half way has read nothing. */
export function* answerDrillReading(
  input: DrillReadingInput,
  site: Site,
  cache: SiteCache,
): Generator<Progress, Result<DrillAnswer, readonly Problem[]>> {
  const running = runningDrill(site, cache)
  if (!running.ok) return running
  const { drill } = running.value
  const { index } = drill.network
  const last = drill.readings.at(-1)
  if (input.how !== 'new' && !last) return fail([problem('drill.nothingRead', {})])
  const address = (part: number) => writePartAddress(partAddressAt(index, part))
  const ends = input.how === 'new' ? input : { from: address(last!.a), to: address(last!.b) }
  const pair = resolvePair(index, ends.from, ends.to)
  if (!pair.ok) return pair
  const { kit, lead, isNulled } = drill
  const asked = { ...running.value.input, from: ends.from, to: ends.to, kit, lead, isNulled }
  const sound = yield* answerExpect(asked, site, cache)
  if (!sound.ok) return sound
  const { expectedOhm, spreadOhm } = sound.value
  // while the sound array was worked out something else may have been called
  const now = runningDrill(site, cache)
  if (!now.ok) return now
  const next =
    input.how === 'new' ? readPair(now.value.drill, pair.value) : repeatReading(now.value.drill, input.how)
  const expected = [...now.value.expected, { expectedOhm, spreadOhm }]
  return ok(keepDrill({ ...now.value, drill: next, expected, told: nothingTold }, site, cache))
}
