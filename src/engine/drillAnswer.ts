import { scoreOf } from '../drill/score.ts'
import type { Drill } from '../drill/drill.ts'
import { fail, ok, type Result } from '../base/result.ts'
import { jointAddressAt } from '../layout/jointIndex.ts'
import { partAddressAt } from '../layout/partIndex.ts'
import { writeJointAddress, writePartAddress } from '../model/address.ts'
import type { DrillAnswer, DrillTold } from '../model/drill.ts'
import { problem, type Problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import { basisOf } from './basis.ts'
import type { RunningDrill } from './runningDrill.ts'
import type { SiteCache } from './siteCache.ts'

/** The drill that goes on on this drawing; a problem where there is none, or it is over. */
export function runningDrill(site: Site, cache: SiteCache): Result<RunningDrill, readonly Problem[]> {
  const running = cache.drills.get(site.drawing)
  if (!running) return fail([problem('drill.none', {})])
  return running.drill.isOver ? fail([problem('drill.over', {})]) : ok(running)
}

/** Nothing is told: before anything was asked, and once more was read. */
export const nothingTold: DrillTold = { suspects: null, next: null }

/** Keeps the next state of a drill, and says what may be seen of it. */
export function keepDrill(running: RunningDrill, site: Site, cache: SiteCache): DrillAnswer {
  cache.drills.set(site.drawing, running)
  return drillAnswer(running, site)
}

function drillAnswer({ drill, expected, input, told }: RunningDrill, site: Site): DrillAnswer {
  const { by, seed, kit, lead, isNulled, nullings, called, asked, minutes, network } = drill
  const address = (part: number) => writePartAddress(partAddressAt(network.index, part))
  const readings = drill.readings.map(({ a, b, how, isNulled, nullings, result, minutes }, k) => ({
    number: k + 1,
    from: address(a),
    to: address(b),
    how,
    isNulled,
    nullings,
    result,
    minutes,
    ...expected[k],
  }))
  const counted = { isFound: drill.isFound, readings: readings.length, minutes, called, asked: asked.length }
  return {
    basis: basisOf(site),
    by,
    seed,
    kit,
    lead,
    isNulled,
    nullings,
    readings,
    called,
    mayAsk: input.mayAsk,
    asked,
    told,
    minutes,
    score: scoreOf(counted),
    revealed: drill.isOver ? revealedOf(drill) : null,
  }
}

function revealedOf({ hidden, isFound, network, readings }: Drill): DrillAnswer['revealed'] {
  const joint = jointAddressAt(network.index, network.jointOfEdge[hidden.edge])
  const badTests = readings.flatMap(({ isPoor }, k) => (isPoor ? [k + 1] : []))
  return { isFound, joint: writeJointAddress(joint), addedOhm: hidden.addedOhm, badTests }
}
