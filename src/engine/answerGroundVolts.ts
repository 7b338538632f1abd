import { portion, staged } from '../base/portion.ts'
import { fail, ok, type Result } from '../base/result.ts'
import { groundVolts } from '../faultcurrent/groundVolts.ts'
import type { GroundVoltsAnswer, GroundVoltsInput } from '../model/faultAnswers.ts'
import { problem, type Problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import { leaksOf, solveFault } from './answerFaultCurrent.ts'
import { basisOf } from './basis.ts'
import type { Progress } from './progress.ts'
import type { SiteCache } from './siteCache.ts'

/** Points of one question at most. */
const mostPoints = 250_000

/** Volts of the ground surface while a fault's current passes through soil. */
export function* answerGroundVolts(
  input: GroundVoltsInput,
  site: Site,
  cache: SiteCache,
): Generator<Progress, Result<GroundVoltsAnswer, readonly Problem[]>> {
  const problems = wrongGrid(input)
  if (problems.length > 0) return fail(problems)
  const solved = yield* solveFault(input, site, cache)
  if (!solved.ok) return solved
  const { flow } = solved.value
  const leaks = yield* staged('ground', portion(leaksOf(solved.value, cache), 0, 0.1))
  const volt = yield* staged('ground', portion(groundVolts(leaks, input), 0.1, 0.9))
  return ok({
    basis: basisOf(site),
    volt: Float32Array.from(volt),
    throughEarthA: flow.throughEarthA,
  })
}

function wrongGrid({ fromM, stepM, across, high, blurM = 0 }: GroundVoltsInput): Problem[] {
  const found: Problem[] = []
  const isCount = (n: number) => Number.isInteger(n) && n > 0
  if (!Number.isFinite(fromM.x + fromM.y))
    found.push(
      problem('value.outOfRange', { expected: 'a corner in metres', found: `${fromM.x} ${fromM.y}` }),
    )
  if (!(stepM > 0 && stepM < Infinity))
    found.push(
      problem('value.outOfRange', { expected: 'metres between points, above 0', found: String(stepM) }),
    )
  if (!(blurM >= 0 && blurM < Infinity))
    found.push(problem('value.outOfRange', { expected: 'metres of blur, 0 or more', found: String(blurM) }))
  if (!isCount(across) || !isCount(high))
    found.push(
      problem('value.outOfRange', { expected: 'whole numbers of points', found: `${across} × ${high}` }),
    )
  else if (across * high > mostPoints)
    found.push(
      problem('size.tooMany', { what: 'points of the grid', found: across * high, most: mostPoints }),
    )
  return found
}
