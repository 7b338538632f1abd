import { staged } from '../base/portion.ts'
import { fail, ok, type Result } from '../base/result.ts'
import { partAddressAt } from '../layout/partIndex.ts'
import { writePartAddress } from '../model/address.ts'
import type { CurrentMapAnswer } from '../model/answers.ts'
import { problem, type Problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import { pairResistance } from '../network/pairResistance.ts'
import { currentsOfPair, leastShare, mostResidual } from './answerCurrents.ts'
import { askPair, pathBetween } from './answerResistance.ts'
import { basisOf } from './basis.ts'
import type { Progress } from './progress.ts'
import type { PairInput } from './requests.ts'
import type { SiteCache } from './siteCache.ts'

/**
 * Current in every joint per ampere through a pair, by joint index, so that a page draws it without an
 * address: i = g (x_from − x_to), shares below `leastShare` as 0. All 0 where nothing joins the pair.
 */
export function* answerCurrentMap(
  input: PairInput,
  site: Site,
  cache: SiteCache,
): Generator<Progress, Result<CurrentMapAnswer, readonly Problem[]>> {
  const asked = yield* askPair(input, site, cache)
  if (!asked.ok) return asked
  const { prepared, pair } = asked.value
  const { index, jointOfEdge } = prepared.network
  const address = (part: number) => writePartAddress(partAddressAt(index, part))
  const path = pathBetween(prepared.network, pair)
  const perAmpere = new Float32Array(index.jointCount)
  const answer: CurrentMapAnswer = {
    basis: basisOf(site),
    from: address(pair.a),
    to: address(pair.b),
    path,
    resistanceOhm: pairResistance(prepared.solver.factor, pair.a, pair.b),
    perAmpere,
  }
  if (path === 'none') return ok(answer)
  const { currentA, residual } = yield* staged('currents', currentsOfPair(asked.value))
  yield { stage: 'currents', fraction: 0.9 }
  if (!(residual <= mostResidual))
    return fail([problem('numeric.residual', { residual, most: mostResidual })])
  enterShares(currentA, jointOfEdge, perAmpere)
  return ok(answer)
}

function enterShares(currentA: Float64Array, jointOfEdge: Int32Array, perAmpere: Float32Array): void {
  for (let e = 0; e < currentA.length; e++)
    if (Math.abs(currentA[e]) >= leastShare) perAmpere[jointOfEdge[e]] = currentA[e]
}
